"""``python -m solver.cli``."""

from solver.cli.main import main

main()

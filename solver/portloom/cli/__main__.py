"""``python -m portloom.cli``."""

from portloom.cli.main import main

main()

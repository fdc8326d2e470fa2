"""``python -m portloom.cli``."""

from portloom.cli.start import main

main()

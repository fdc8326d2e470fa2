"""Where the command starts: it listens for what may end it before anything is loaded that takes long."""

from portloom.cli.stopping import listen


def main() -> None:
    """Run the command line; see ``portloom.cli.main``."""
    listen()
    from portloom.cli.main import main as commands  # noqa: PLC0415 - takes a tenth of a second

    commands()

"""Which version of this program and of its libraries is at work."""

import platform
from functools import cache
from importlib.metadata import PackageNotFoundError, version

PROGRAM = "portloom"
LIBRARIES = ("ortools", "pydantic", "pyyaml", "rich", "typer")
"""What it runs on, the solver first."""


@cache
def version_of(name: str) -> str:
    """Return the version of this program or of a library, as it was installed."""
    try:
        return version(name)
    except PackageNotFoundError:
        return "not installed"


def versions() -> tuple[str, ...]:
    """Return a line for the program, each library, Python and the system."""
    installed = (f"{name} {version_of(name)}" for name in (PROGRAM, *LIBRARIES))
    return (*installed, f"Python {platform.python_version()}", platform.platform())

"""What several tests need: the command as users run it, and the flag that writes expected texts anew."""

import os
import subprocess
import sys
from collections.abc import Callable
from functools import cache
from pathlib import Path

import pytest

ROOT = Path(__file__).parent.parent
BIN = Path(sys.executable).parent
Ran = subprocess.CompletedProcess[str]
NOT_PASSED_ON = ("COLUMNS", "LINES", "FORCE_COLOR", "NO_COLOR", "TTY_COMPATIBLE", "PYTHONPATH")
"""What would change colours, width or the program that is run."""


def pytest_addoption(parser: pytest.Parser) -> None:
    """Add the flag that writes the README's outputs and the golden texts anew."""
    parser.addoption("--rewrite", action="store_true", help="write the README's outputs and the golden texts anew")


@pytest.fixture
def rewrite(request: pytest.FixtureRequest) -> bool:
    """Tell whether expected texts are to be written anew."""
    return bool(request.config.getoption("--rewrite"))


@pytest.fixture(scope="session")
def environment() -> dict[str, str]:
    """Give the environment in which a user runs the command, the program on its path."""
    passed_on = {name: value for name, value in os.environ.items() if name not in NOT_PASSED_ON}
    path = os.pathsep.join([str(BIN), passed_on.get("PATH", "")])
    return passed_on | {"PATH": path, "PYTHONIOENCODING": "utf-8", "TERM": "xterm"}


@pytest.fixture(scope="session")
def portloom(environment: dict[str, str]) -> Callable[..., Ran]:
    """Give what runs the installed command with words, in the project's folder or another, and gives its end.

    The same words in the same folder are run once; a test whose files change asks in a folder of its own.
    """

    @cache
    def run(*words: str, folder: Path = ROOT) -> Ran:
        call = [str(BIN / "portloom"), *words]
        return subprocess.run(
            call, cwd=folder, env=environment, capture_output=True, encoding="utf-8", timeout=120, check=False
        )

    return run

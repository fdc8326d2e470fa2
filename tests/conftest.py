"""What several tests need: the command as users run it, and the flag that writes expected texts anew."""

import os
import subprocess
import sys
from collections.abc import Callable, Iterator
from functools import cache
from pathlib import Path

import pytest

from ready import LONGEST, Ran, Ready

ROOT = Path(__file__).parent.parent
BIN = Path(sys.executable).parent
NOT_PASSED_ON = ("COLUMNS", "LINES", "FORCE_COLOR", "NO_COLOR", "TTY_COMPATIBLE", "PYTHONPATH")
"""What would change colours, width or the program that is run."""


def pytest_addoption(parser: pytest.Parser) -> None:
    """Add the flag that writes the README's outputs and the golden texts anew."""
    parser.addoption("--rewrite", action="store_true", help="write the README's outputs and the golden texts anew")


def pytest_ignore_collect(collection_path: Path, config: pytest.Config) -> bool | None:
    """Leave the browser's tests out unless they are asked for: they need a browser, which .ci/run brings."""
    asked = any("browser" in word for word in config.invocation_params.args if isinstance(word, str))
    return True if collection_path.name == "browser" and not asked else None


@pytest.fixture
def rewrite(request: pytest.FixtureRequest) -> bool:
    """Tell whether expected texts are to be written anew."""
    return bool(request.config.getoption("--rewrite"))


@pytest.fixture(scope="session")
def environment() -> dict[str, str]:
    """Return the environment in which a user runs the command, the program on its path."""
    passed_on = {name: value for name, value in os.environ.items() if name not in NOT_PASSED_ON}
    path = os.pathsep.join([str(BIN), passed_on.get("PATH", "")])
    return passed_on | {"PATH": path, "PYTHONIOENCODING": "utf-8", "TERM": "xterm"}


@pytest.fixture(scope="session")
def installed(environment: dict[str, str]) -> Callable[..., Ran]:
    """Return what runs the installed command with words, in the project's folder or another, and gives its end."""

    def run(*words: str, folder: Path = ROOT) -> Ran:
        call = [str(BIN / "portloom"), *words]
        return subprocess.run(
            call, cwd=folder, env=environment, capture_output=True, encoding="utf-8", timeout=LONGEST, check=False
        )

    return run


@pytest.fixture(scope="session")
def portloom(
    environment: dict[str, str], installed: Callable[..., Ran], tmp_path_factory: pytest.TempPathFactory
) -> Iterator[Callable[..., Ran]]:
    """Return what does the same sooner: the command is loaded once, and each call is a fork of it.

    The same words in the same folder are run once; a test whose files change asks in a folder of its own.
    """
    if not hasattr(os, "fork"):
        yield cache(installed)
        return
    ready = Ready(environment, tmp_path_factory.mktemp("ready"))

    @cache
    def run(*words: str, folder: Path = ROOT) -> Ran:
        return ready.run(words, folder)

    yield run
    ready.end()

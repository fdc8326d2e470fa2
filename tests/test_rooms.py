"""The rooms are kept apart: imports run one way, and ortools is behind a fence that every room but the search is on.

Each fault is made in a copy of the package, and the contracts of pyproject.toml are run on it.
"""

import os
import shutil
import subprocess
import sys
from pathlib import Path

import pytest

from calls import ROOT

PACKAGE = ROOT / "solver" / "portloom"
ROOMS = sorted(path.name for path in PACKAGE.iterdir() if (path / "__init__.py").exists())
FENCE = "Only the search loads ortools BROKEN"
LAYERS = "Rooms, from the command line down to quantities and electrics BROKEN"
LINT = "from importlinter.cli import lint_imports_command as lint; lint()"


@pytest.fixture(scope="module")
def copy(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """Return a folder with a copy of the package and of the contracts."""
    folder = tmp_path_factory.mktemp("rooms")
    shutil.copytree(PACKAGE, folder / "portloom", ignore=shutil.ignore_patterns("__pycache__"))
    shutil.copy(ROOT / "pyproject.toml", folder)
    return folder


def _linted(folder: Path) -> str:
    environment = os.environ | {"PYTHONPATH": str(folder)}
    command = [sys.executable, "-c", LINT, "--no-cache"]
    return subprocess.run(
        command, cwd=folder, env=environment, capture_output=True, encoding="utf-8", check=False
    ).stdout


def _with(folder: Path, room: str, line: str) -> str:
    """Return what the contracts say once ``line`` stands in a module of a room; the module goes again."""
    fault = folder / "portloom" / room / "fault.py"
    fault.write_text(f'"""A fault."""\n\n{line}\n', "utf-8")
    try:
        return _linted(folder)
    finally:
        fault.unlink()


def test_contracts_hold(copy: Path) -> None:
    """As it stands, no contract is broken."""
    assert "Contracts: 2 kept, 0 broken." in _linted(copy)


def test_at_most_sixteen_rooms() -> None:
    """There are at most sixteen rooms, and no module beside them but the library's front."""
    assert len(ROOMS) <= 16
    assert [path.name for path in PACKAGE.glob("*.py")] == ["__init__.py"]


@pytest.mark.parametrize("room", ROOMS)
def test_only_the_search_loads_ortools(copy: Path, room: str) -> None:
    """An import of ortools in a room breaks the fence, and in no room but the search goes by."""
    assert (FENCE in _with(copy, room, "from ortools.sat.python import cp_model")) == (room != "search")


def test_imports_run_one_way(copy: Path) -> None:
    """The lowest room can't import the highest, nor a room one that stands beside it."""
    assert LAYERS in _with(copy, "base", "from portloom.cli import screen")
    assert LAYERS in _with(copy, "verify", "from portloom.search import columns")


def test_a_new_room_must_be_placed(copy: Path) -> None:
    """A room that is not on the list breaks the contract."""
    room = copy / "portloom" / "attic"
    room.mkdir()
    (room / "__init__.py").write_text('"""A room that nobody placed."""\n', "utf-8")
    try:
        assert LAYERS in _linted(copy)
    finally:
        shutil.rmtree(room)

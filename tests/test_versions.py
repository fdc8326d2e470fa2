"""What ``python -m tests.versions`` tries is what ``pyproject.toml`` allows; the trial itself takes minutes."""

import tomllib
from importlib.metadata import version

import pytest

import versions
from calls import ROOT


def _parts(text: str) -> tuple[int, ...]:
    return tuple(int(part) for part in text.split(".") if part.isdigit())


@pytest.mark.parametrize("name", versions.pinned())
def test_what_is_installed_here_is_allowed(name: str) -> None:
    """No library is older than the oldest that is said to do."""
    assert _parts(version(name)) >= _parts(versions.pinned()[name])


def test_every_library_is_tried_alone_and_all_together() -> None:
    """The newest of each, the oldest of each alone, and all of the oldest at once."""
    names = versions.pinned()
    assert set(names) == {"ortools", "pydantic", "pyyaml", "typer", "rich"}
    tried = dict(versions.sets(names, with_oldest=True))
    assert tried["the newest of each"] == list(names)
    assert {f"{name}=={oldest}" for name, oldest in names.items()} == set(tried["the oldest of each"])
    assert len(tried) == len(names) + 2


def test_the_first_python_is_the_oldest_that_is_allowed() -> None:
    """From there on, each that the solver has wheels for."""
    project = tomllib.loads((ROOT / "pyproject.toml").read_text("utf-8"))["project"]
    assert project["requires-python"] == f">={versions.pythons()[0]}"


def test_each_file_of_the_core_is_there() -> None:
    """And is one of the tests."""
    assert [name for name in versions.CORE if not (ROOT / "tests" / f"{name}.py").exists()] == []

"""Finding a unit: by its file, or by the name of a bundled profile."""

from pathlib import Path

import pytest

from portloom.inputs import profiles
from portloom.inputs.files import bundled_units, find_unit, read_unit
from portloom.inputs.problems import BadFile

ROOT = Path(__file__).parent.parent


def test_bundled_units_are_the_profiles() -> None:
    """The bundled units are the files of the profiles folder, by name, and each is called as its file."""
    assert [name for name, _ in bundled_units()] == sorted(path.stem for path in (ROOT / "profiles").glob("*.yaml"))
    assert [read_unit(file).unit for _, file in bundled_units()] == [name for name, _ in bundled_units()]


def test_by_name_and_by_path() -> None:
    """A bundled unit is found by its name, a file by its path."""
    assert find_unit("eleven-way").name == "eleven-way.yaml"
    path = ROOT / "profiles" / "six-way.yaml"
    assert find_unit(str(path)) == path


def test_installed(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """Where the package holds the profiles itself, those are taken."""
    package = tmp_path / "portloom"
    (package / "_profiles").mkdir(parents=True)
    (package / "_profiles" / "one-way.yaml").write_text("unit: one-way\n")
    monkeypatch.setattr(profiles, "files", lambda _: package)
    assert [name for name, _ in bundled_units()] == ["one-way"]


def test_unknown_name() -> None:
    """A name that no unit has gives the nearest ones."""
    with pytest.raises(BadFile) as refused:
        find_unit("elven-way")
    what = f"there is no such file in {Path.cwd()}, and no bundled unit is called 'elven-way'"
    assert refused.value.problems[0].what == what
    assert refused.value.problems[0].right.startswith("give a file, or one of eleven-way")


def test_missing_file() -> None:
    """A path that is not there is refused when it is read, as a missing file."""
    with pytest.raises(BadFile, match="there is no such file"):
        read_unit(find_unit("nowhere/unit.yaml"))

"""Every file under ``tests/bad`` has one defect, and is told in exactly the words that stand beside it.

The words stand in the file's first lines, after ``# expect:``, or, where the file can't hold a comment, in a
text beside it. The files are made up for this; each breaks one thing that the two schemas or YAML 1.2 ask for.
"""

from pathlib import Path

import pytest

from portloom.inputs.files import read_bike, read_unit
from portloom.inputs.problems import BadFile

BAD = Path(__file__).parent / "bad"
MARK = "# expect: "
BIKES = sorted(BAD.glob("*.yaml"))
UNITS = sorted((BAD / "units").glob("*.yaml"))


def expected(path: Path) -> list[str]:
    """Return the full messages that the file at ``path`` must give."""
    beside = path.with_suffix(".txt")
    lines = beside.read_text("utf-8").splitlines() if beside.exists() else _in_file(path)
    return [f"{path}:{line}" for line in lines]


def _in_file(path: Path) -> list[str]:
    lines = path.read_text("utf-8").splitlines()
    return [line.removeprefix(MARK) for line in lines if line.startswith(MARK)]


def _named(path: Path) -> str:
    return path.stem


@pytest.mark.parametrize("path", BIKES, ids=_named)
def test_bad_bike(path: Path) -> None:
    """A bike with a defect is refused, with the place and with what would be right."""
    with pytest.raises(BadFile) as refused:
        read_bike(path)
    assert [str(problem) for problem in refused.value.problems] == expected(path)


@pytest.mark.parametrize("path", UNITS, ids=_named)
def test_bad_unit(path: Path) -> None:
    """A unit with a defect is refused, with the place and with what would be right."""
    with pytest.raises(BadFile) as refused:
        read_unit(path)
    assert [str(problem) for problem in refused.value.problems] == expected(path)


def test_every_bad_file_expects_something() -> None:
    """No file under ``tests/bad`` lacks the message that it must give."""
    assert BIKES
    assert UNITS
    assert [path for path in (*BIKES, *UNITS) if not expected(path)] == []


def test_missing_file(tmp_path: Path) -> None:
    """A file that is not there is refused like any other mistake."""
    path = tmp_path / "none.yaml"
    with pytest.raises(BadFile) as refused:
        read_bike(path)
    assert str(refused.value) == f"{path}: there is no such file; give the path of a file that can be read"


def test_folder(tmp_path: Path) -> None:
    """A folder is refused as one."""
    with pytest.raises(BadFile, match="this is a folder"):
        read_bike(tmp_path)


def test_huge_file(tmp_path: Path) -> None:
    """A file far larger than any bike is refused before it is parsed."""
    path = tmp_path / "huge.yaml"
    path.write_bytes(b"#" * 4_000_001)
    with pytest.raises(BadFile, match="larger than 4 MB"):
        read_unit(path)

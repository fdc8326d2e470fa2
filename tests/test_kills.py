"""A few of the kills that ``python -m tests.kills`` takes at every moment, of every command that writes."""

from pathlib import Path

import pytest

import portloom.cli.compare
import portloom.cli.plan
import portloom.cli.sheets
import portloom.cli.why  # noqa: F401 - loaded once for all calls
from kills.jobs import JOBS
from kills.judging import Course, course, judged
from kills.moments import FULL, WAYS, Fault
from slices import first_of

BY_NAME = {job.name: job for job in JOBS}
FEW = {"new": WAYS, "compare --csv": ("killed",)}


@first_of("name", [*FEW], 1)
def test_at_each_moment(name: str, tmp_path: Path) -> None:
    """What is the user's is untouched, all files are whole, and the next call mends and says so."""
    undisturbed = course(BY_NAME[name], tmp_path)
    assert undisturbed.end.moments >= 3
    wrong = {
        (way, at): found
        for way in FEW[name]
        for at in range(undisturbed.end.moments)
        if (found := judged(undisturbed, Fault(way, at), tmp_path / f"{way} {at}"))
    }
    assert wrong == {}


@pytest.fixture(scope="module")
def sheets(tmp_path_factory: pytest.TempPathFactory) -> Course:
    """Return the course of writing sheets over older ones, in a folder with a user's photos."""
    return course(BY_NAME["sheets again"], tmp_path_factory.mktemp("sheets"))


@first_of(("way", "part"), [("killed", 0.7), (FULL, 0.3), ("killed", 0.3), ("interrupted", 0.7)], 1)
def test_sheets(sheets: Course, tmp_path: Path, way: str, part: float) -> None:
    """While they are written, and while they are put in place."""
    assert judged(sheets, Fault(way, int(part * sheets.end.moments)), tmp_path / "job") == []

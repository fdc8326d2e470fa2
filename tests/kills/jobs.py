"""Commands that write, each in a folder that is prepared for it: a small bike and unit, and what is the user's own."""

from collections.abc import Callable
from dataclasses import dataclass
from pathlib import Path

from kills.moments import run
from small_bikes import FOUR_WAY, THREE_LAMPS

OWN = ("bike.yaml", "unit.yaml", "my notes.txt")


@dataclass(frozen=True)
class Job:
    """A command that writes, and what it finds."""

    name: str
    words: tuple[str, ...]
    prepare: Callable[[Path], None]
    code: int = 0
    """How it ends, undisturbed."""
    new: str | None = None
    """The file that it writes and never writes over: where it is there, it ends with 2."""
    rows: tuple[str, ...] = ()
    """The files that grow line by line."""
    own: tuple[str, ...] = OWN
    """What there is the user's own; a folder's name ends with '/'."""


def _bike(folder: Path) -> None:
    (folder / "bike.yaml").write_text(THREE_LAMPS, "utf-8")
    (folder / "unit.yaml").write_text(FOUR_WAY, "utf-8")
    (folder / "my notes.txt").write_text("brake hose: ask", "utf-8")


def _bike_that_does_not_fit(folder: Path) -> None:
    _bike(folder)
    (folder / "unit.yaml").write_text(FOUR_WAY.replace(", out 3, out 4", ""), "utf-8")
    (folder / "changed.yaml").write_text("what I tried last week", "utf-8")


def _bike_with_rows(folder: Path) -> None:
    _bike(folder)
    (folder / "small.yaml").write_text(FOUR_WAY.replace("four-way", "small").replace(", out 4", ""), "utf-8")
    run(folder, ("compare", "bike.yaml", "--unit", "unit.yaml", "--csv", "rows.csv"))


def _bike_with_sheets(folder: Path) -> None:
    _bike(folder)
    run(folder, SHEETS)
    (folder / "sheets" / "photos").mkdir()
    (folder / "sheets" / "photos" / "loom.jpg").write_bytes(b"\xff\xd8")
    (folder / "bike.yaml").write_text(THREE_LAMPS.replace("620 mm", "700 mm"), "utf-8")


SHEETS = ("sheets", "bike.yaml", "--unit", "unit.yaml", "--out", "sheets")
COMPARE = ("compare", "bike.yaml", "--unit", "unit.yaml", "--unit", "small.yaml", "--csv", "rows.csv")
APPLY = ("why", "bike.yaml", "--unit", "unit.yaml", "--apply", "1", "--out", "changed.yaml")
MODEL = ("plan", "bike.yaml", "--unit", "unit.yaml", "--model", "model.txt")
JOBS = (
    Job("new", ("new", "bike", "--out", "mine.yaml"), _bike, new="mine.yaml"),
    Job("plan --model", MODEL, _bike, new="model.txt"),
    Job("why --apply", APPLY, _bike_that_does_not_fit, code=1),
    Job("compare --csv", COMPARE, _bike_with_rows, rows=("rows.csv", "rows.csv.resume")),
    Job("sheets", SHEETS, _bike),
    Job("sheets again", SHEETS, _bike_with_sheets, own=(*OWN, "sheets/", "sheets/photos/", "sheets/photos/loom.jpg")),
)

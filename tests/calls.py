"""Calls of the command that several tests make, on examples that are made up."""

from collections.abc import Callable
from pathlib import Path
from subprocess import CompletedProcess

from small_bikes import FOUR_WAY, THREE_LAMPS

Ran = CompletedProcess[str]
Portloom = Callable[..., Ran]
"""Runs the command with words, in the project's folder or in ``folder``."""
Call = tuple[str, ...]
ROOT = Path(__file__).parent.parent
HARBOUR: Call = ("plan", "examples/harbour-trail.yaml", "--unit", "eleven-way")
WHY_HARBOUR: Call = ("why", *HARBOUR[1:])
WHY_WINTER: Call = ("why", "examples/winter-trail.yaml", "--unit", "fourteen-way")
DIMLESS: Call = ("plan", "tests/data/reasons/no-output-dims.yaml", "--unit", "six-way")
"""A small bike that does not fit: its grips want dimming."""
WHY_DIMLESS: Call = ("why", *DIMLESS[1:])
TOO_SMALL: Call = ("plan", "examples/market-parallel.yaml", "--unit", "eleven-way")
NO_PLACE: Call = ("plan", "examples/sidecar-hauler.yaml", "--unit", "eleven-way")
FITTING: tuple[Call, ...] = (
    HARBOUR,
    ("plan", "examples/bare-single.yaml", "--unit", "six-way"),
    ("plan", "examples/dressed-tourer.yaml", "--unit", "eleven-way"),
    ("plan", "examples/market-parallel.yaml", "--unit", "fourteen-way"),
)
PLANS: tuple[Call, ...] = (*FITTING, TOO_SMALL, NO_PLACE)
QUICK: tuple[Call, ...] = (
    ("--help",),
    ("--version",),
    ("plan", "--help"),
    ("units",),
    ("rules",),
    ("parts",),
    ("parts", "horn"),
    ("new", "bike"),
    ("schema", "bike"),
    ("keys", "bike"),
    ("help", "keys"),
    ("glossary",),
    ("completion", "bash"),
)


def small_job(folder: Path) -> Call:
    """Write a small bike and a small unit into ``folder``; give the call that plans them there."""
    for what, text in (("bike", THREE_LAMPS), ("unit", FOUR_WAY)):
        (folder / f"{what}.yaml").write_text(text, "utf-8")
    return "plan", "bike.yaml", "--unit", "unit.yaml"


def changed(file: Path, *changes: tuple[str, str]) -> None:
    """Change words in a file; each must be there."""
    text = file.read_text("utf-8")
    for old, new in changes:
        assert old in text, f"{file} does not say '{old}'"
        text = text.replace(old, new)
    file.write_text(text, "utf-8")

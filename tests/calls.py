"""Calls of the command that several tests make, on examples that are made up."""

from collections.abc import Callable
from pathlib import Path
from subprocess import CompletedProcess

Ran = CompletedProcess[str]
Portloom = Callable[..., Ran]
"""Runs the command with words, in the project's folder or in ``folder``."""
Call = tuple[str, ...]
ROOT = Path(__file__).parent.parent
HARBOUR: Call = ("plan", "examples/harbour-trail.yaml", "--unit", "eleven-way")
WHY_HARBOUR: Call = ("why", *HARBOUR[1:])
WHY_WINTER: Call = ("why", "examples/winter-trail.yaml", "--unit", "fourteen-way")
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
    ("plan", "--help"),
    ("units",),
    ("rules",),
    ("parts",),
    ("parts", "horn"),
    ("new", "bike"),
    ("schema", "bike"),
)


def small_job(portloom: Portloom, folder: Path) -> Call:
    """Write the two files to start from into ``folder``; give the call that plans them there."""
    for what in ("bike", "unit"):
        (folder / f"{what}.yaml").write_text(portloom("new", what).stdout, "utf-8")
    return "plan", "bike.yaml", "--unit", "unit.yaml"


def changed(file: Path, *changes: tuple[str, str]) -> None:
    """Change words in a file; each must be there."""
    text = file.read_text("utf-8")
    for old, new in changes:
        assert old in text, f"{file} does not say '{old}'"
        text = text.replace(old, new)
    file.write_text(text, "utf-8")

"""Small bikes of which nothing fits, each with another thing that is wrong, and what is told of them word for word.

The bikes and units in ``data/reasons`` are made up.
"""

from collections.abc import Sequence
from functools import cache
from pathlib import Path

import told
from calls import ROOT
from portloom.cli.files import read_files
from told import Block, Told

DATA = Path(__file__).parent / "data" / "reasons"
GOLDEN = Path(__file__).parent / "golden" / "reasons"
OWN = DATA / "units"
REASONS = (
    ("bank-and-crowd", "ferry-five-way"),
    ("bank-at-night", "banked-four-way"),
    ("bank-or-crowd", "half-banked-three-way"),
    ("beyond-the-peak", "six-way"),
    ("brake-past-the-box", "coded-two-way"),
    ("charged-through-the-unit", "six-way"),
    ("crowd-of-loads", "six-way"),
    ("crowd-of-sixteen", "held-sixteen-way"),
    ("crowd-of-switches", "six-way"),
    ("cut-off", "twenty-four-way"),
    ("cut-off-from-one-face", "two-faced-way"),
    ("cut-off-from-the-battery", "twenty-four-way"),
    ("draws-too-much", "six-way"),
    ("earth-lifted", "plain-thirty-way"),
    ("far-to-the-tail", "plain-thirty-way"),
    ("feed-too-thin", "thin-fed-four-way"),
    ("follows-another-switch", "following-two-way"),
    ("full-gatherer", "coded-two-way"),
    ("hot-bundle", "plain-thirty-way"),
    ("kicks-back", "six-way"),
    ("live-with-the-key-off", "six-way"),
    ("low-while-cranking", "twenty-four-way"),
    ("may-not-share", "two-way"),
    ("more-than-the-unit-passes", "lean-four-way"),
    ("narrow-tube", "plain-thirty-way"),
    ("no-output-dims", "six-way"),
    ("no-room-at-either-place", "plain-thirty-way"),
    ("nobody-reads-it", "eight-way"),
    ("one-indicator", "six-way"),
    ("return-too-thin", "plain-thirty-way"),
    ("switches-may-not-share", "two-way"),
    ("tails-too-thin", "late-two-way"),
    ("terminal-too-thin", "fine-pinned-two-way"),
    ("three-things-at-once", "six-way"),
    ("two-side-by-side", "plain-thirty-way"),
    ("unit-lowest", "eight-way"),
)


def unit_named(name: str) -> str:
    """Return a unit as the command takes it: a file beside the bikes, or the name of a bundled one."""
    own = OWN / f"{name}.yaml"
    return own.relative_to(ROOT).as_posix() if own.exists() else name


@cache
def golden() -> tuple[Told, ...]:
    """Return every golden text with the files that it is about."""
    return tuple(
        Told(
            bike,
            (GOLDEN / f"{bike}.txt").read_text("utf-8"),
            read_files(DATA / f"{bike}.yaml", str(ROOT / unit_named(unit)) if "/" in unit_named(unit) else unit),
        )
        for bike, unit in REASONS
    )


def every(about: Sequence[str]) -> list[tuple[Told, Block]]:
    """Return every conflict that is told in a golden text or in one that is made anew of the bikes named."""
    return [(one, block) for one in (*golden(), *told.made(about)) for block in one.blocks]

"""What a post says of a load by itself: its name, the part that it looks like, and what it draws.

Only for posts without a bike's file. Kinds by part: common practice, no source.
"""

import re
from collections.abc import Iterable, Iterator
from dataclasses import dataclass

from solver.electrics.lamps import LAMPS
from solver.posts.cells import Cell
from solver.posts.figures import ROUND_A_NAME, Parted, current_said, parted, power_said
from solver.words.bike import Kind, Part
from solver.words.looks_like import part_like
from solver.words.quantities import MilliAmps, MilliWatts

KIND_OF_PART: dict[Part, Kind] = {
    "horn": "horn",
    "ignition": "ignition coil",
    "engine controller": "electronics",
    "fuel pump": "motor",
    "starter solenoid": "relay coil",
    "fan": "motor",
}
"""Every other part is a lamp, a filament unless LED is said."""
FILAMENT_OF_PART: dict[Part, tuple[str, ...]] = {
    "dipped beam": ("dipped",),
    "main beam": ("main",),
    "brake lamp": ("brake",),
    "tail lamp": ("tail",),
    "position lamp": ("position", "tail"),
    "left indicator": ("indicator",),
    "right indicator": ("indicator",),
}
"""Which of a lamp's two filaments a part has."""
LED = re.compile(r"\bLEDs?\b", re.IGNORECASE)
HEATED = re.compile(r"\bheat(ed|er|ing)\b", re.IGNORECASE)
BASES = tuple(dict.fromkeys(lamp.split()[0] for lamp in LAMPS))
BASE = {base: re.compile(rf"(?<![\w/]){re.escape(base)}(?![\w/])", re.IGNORECASE) for base in BASES}


@dataclass(frozen=True)
class Drawing:
    """A load as a post says it."""

    name: Cell
    part: Part | None
    kind: Kind
    lamp: str | None
    current: MilliAmps | None
    power: MilliWatts | None

    @property
    def known(self) -> bool:
        """Tell whether the post says what it draws."""
        return not (self.lamp is None and self.current is None and self.power is None)

    @property
    def nominal(self) -> str | None:
        """A lamp of UN R37 whose nominal power this is; it draws more than that."""
        if self.kind != "filament" or self.power is None or self.current is not None or self.lamp is not None:
            return None
        return next((name for name, lamp in LAMPS.items() if lamp.nominal == self.power), None)


def drawing(thing: Cell, beside: Iterable[Cell] = ()) -> tuple[Drawing, Parted]:
    """Return what a cell, with the figures in other cells beside it, says of a load."""
    own = parted(thing)
    others = tuple(parted(cell) for cell in beside)
    words = " ".join((own.name.text, *(other.name.text for other in others)))
    bare = _without_lamps(own.name)
    part = part_like(bare.text)
    kind = _kind(words, part)
    current = _first(current_said(cell.text) for each in (own, *others) for cell in each.currents)
    power = _first(power_said(cell.text) for each in (own, *others) for cell in each.powers)
    lamp = None if kind == "led" else _lamp(words, part)
    return Drawing(bare, part, "filament" if lamp else kind, lamp, MilliAmps(current) if current else None,
                   MilliWatts(power) if power else None), own  # fmt: skip


def _first(amounts: Iterator[int | None]) -> int | None:
    return next((amount for amount in amounts if amount), None)


def _without_lamps(name: Cell) -> Cell:
    """Return a name without the words that say which lamp it is, unless nothing else is there."""
    text = LED.sub("", name.text)
    for pattern in BASE.values():
        text = pattern.sub("", text)
    left = " ".join(text.strip(ROUND_A_NAME).split())
    return Cell(left, name.line, name.column) if left else name


def _kind(words: str, part: Part | None) -> Kind:
    if LED.search(words):
        return "led"
    if part is not None:
        return KIND_OF_PART.get(part, "filament")
    return "heater" if HEATED.search(words) else "electronics"


def _lamp(words: str, part: Part | None) -> str | None:
    """Return the lamp of UN R37 that is named, with its filament where it has two."""
    base = next((base for base, pattern in BASE.items() if pattern.search(words)), None)
    lamps = [name for name in LAMPS if base is not None and name.split()[0] == base]
    if len(lamps) > 1:
        wanted = FILAMENT_OF_PART.get(part, ()) if part is not None else ()
        said = [name for name in lamps if name.split()[1] in words.casefold().split()]
        lamps = said or [name for name in lamps if name.split()[1] in wanted]
    return lamps[0] if len(lamps) == 1 else None

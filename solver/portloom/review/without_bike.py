"""A post without a bike's file: its loads by themselves, as a bike of which nothing else is known.

What a post says of a load by itself is its name, the part that it looks like, and what it draws.
Kinds by part: common practice, no source.
"""

import re
from collections.abc import Iterable, Iterator
from dataclasses import dataclass, field, replace
from typing import Any

from portloom.base.bike import Bike, Part
from portloom.base.lamps import LAMPS
from portloom.base.parts.loads import LOAD_PART, load_part
from portloom.base.parts.words import kept_off_like, words_within
from portloom.base.quantities import MilliAmps, MilliWatts
from portloom.base.unit import Unit
from portloom.base.vocabulary import Kind
from portloom.review.figures import ROUND_A_NAME, SplitText, current_said, power_said, split_figures
from portloom.review.matching import (
    KnownNames,
    NameMatch,
    Posted,
    as_named,
    clear,
    noted_once,
    with_main_fuse,
    words_of,
)
from portloom.review.post import Post, PostedLine, TextCell
from portloom.review.settings import beside, note

LED = re.compile(r"\bLEDs?\b", re.IGNORECASE)
HEATED = re.compile(r"\bheat(ed|er|ing)\b", re.IGNORECASE)
BASES = tuple(dict.fromkeys(lamp.split()[0] for lamp in LAMPS))
BASE = {base: re.compile(rf"(?<![\w/]){re.escape(base)}(?![\w/])", re.IGNORECASE) for base in BASES}


@dataclass(frozen=True)
class PostedDraw:
    """A load as a post says it."""

    name: TextCell
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


def drawing(thing: TextCell, beside: Iterable[TextCell] = ()) -> tuple[PostedDraw, SplitText]:
    """Return what a cell, with the figures in other cells beside it, says of a load."""
    own = split_figures(thing)
    others = tuple(split_figures(cell) for cell in beside)
    words = " ".join((own.name.text, *(other.name.text for other in others)))
    bare = _without_lamps(own.name)
    meant = words_within(bare.text)
    part = meant.name if meant is not None and meant.sort == "load" else None
    kind = _kind(words, part)
    current = _first(current_said(cell.text) for each in (own, *others) for cell in each.currents)
    power = _first(power_said(cell.text) for each in (own, *others) for cell in each.powers)
    lamp = None if kind == "led" else _lamp(words, part)
    return PostedDraw(bare, part, "filament" if lamp else kind, lamp, MilliAmps(current) if current else None,
                   MilliWatts(power) if power else None), own  # fmt: skip


def _first(amounts: Iterator[int | None]) -> int | None:
    return next((amount for amount in amounts if amount), None)


def _without_lamps(name: TextCell) -> TextCell:
    """Return a name without the words that say which lamp it is, unless nothing else is there."""
    text = LED.sub("", name.text)
    for pattern in BASE.values():
        text = pattern.sub("", text)
    left = " ".join(text.strip(ROUND_A_NAME).split())
    return TextCell(left, name.line, name.column) if left else name


def _kind(words: str, part: Part | None) -> Kind:
    if LED.search(words):
        return "led"
    known = load_part(part)
    if known is not None:
        return known.kind or "filament"
    return "heater" if HEATED.search(words) else "electronics"


def _lamp(words: str, part: Part | None) -> str | None:
    """Return the lamp of UN R37 that is named, with its filament where it has two."""
    base = next((base for base, pattern in BASE.items() if pattern.search(words)), None)
    lamps = [name for name in LAMPS if base is not None and name.split()[0] == base]
    if len(lamps) > 1:
        known = load_part(part)
        wanted = known.filaments if known else ()
        said = [name for name in lamps if name.split()[1] in words.casefold().split()]
        lamps = said or [name for name in lamps if name.split()[1] in wanted]
    return lamps[0] if len(lamps) == 1 else None


RUNNING = "14.0 V"
"""What a charging system holds; common practice, no source."""
SOMEWHERE = "the bike"


@dataclass
class PostWithoutBike:
    """What a post says by itself: who is on which port, and each load as it is said."""

    posted: Posted
    loads: dict[str, PostedDraw] = field(default_factory=dict)
    """Each by its name; what no output may feed is among them, on no port."""

    def bike(self) -> Bike:
        """Return the loads as a bike of which nobody knows frame, places and switches; there is one load at least."""
        point, other = SOMEWHERE, f"{SOMEWHERE}'s other end"
        return Bike.model_validate({
            "bike": "the posted loads",
            "supply": {"running": RUNNING, "battery": {"capacity": "10 Ah", "at": point}},
            "frame": {"legs": [{"between": [point, other], "length": "1 mm"}], "earth": [point]},
            "places": [{"name": SOMEWHERE, "front": point, "rear": point}],
            "loads": [_load(name, load) for name, load in self.loads.items()],
            "later": [],
        })  # fmt: skip


def _load(name: str, load: PostedDraw) -> dict[str, Any]:
    """Return a load as a bike's file has it; what draws nobody knows how much counts as next to nothing."""
    entry: dict[str, Any] = {"name": name, "at": SOMEWHERE, "share": "posted"}
    if load.part is not None:
        entry["part"] = load.part
        entry["mode"] = list(LOAD_PART[load.part].modes)
    if load.current is not None:
        return {**entry, "current": f"{load.current} mA", "kind": load.kind}
    if load.lamp is not None:
        return {**entry, "lamp": load.lamp}
    if load.power is not None:
        return {**entry, "power": f"{load.power} mW", "kind": load.kind}
    return {**entry, "current": "1 mA", "kind": load.kind}


def match_alone(post: Post, unit: Unit) -> PostWithoutBike:
    """Return what a post means by itself; ports are the unit's, loads are what is said."""
    outputs = KnownNames(output.name for output in unit.outputs)
    inputs = KnownNames(source.name for source in unit.inputs)
    alone = PostWithoutBike(Posted(flaws=list(post.flaws)))
    for said in post.said:
        _line(said, outputs, inputs, alone)
    return replace(alone, posted=with_main_fuse(post, alone.posted))


def _line(said: PostedLine, outputs: KnownNames, inputs: KnownNames, alone: PostWithoutBike) -> None:
    """Note what one line says; a bare number is taken for an output's."""
    posted = alone.posted
    at = as_named(said.port, outputs if outputs.meant(said.port.text).names else inputs)
    output, source = outputs.meant(at.name.text), inputs.meant(at.name.text)
    meant = output if output.names else NameMatch(source.names, output.near or source.near)
    port = clear(at.name, meant, "port", posted)
    if port is None:
        return
    parts = [drawing(thing, said.figures) for thing in said.things]
    if port in inputs and port not in outputs:
        names = [part.name.text for _, part in parts if part.name.text]
        posted.inputs.setdefault(port, []).extend(names)
        return
    for load, part in parts:
        if part.name.text:
            _take(load, port, alone)
    figures: tuple[SplitText, ...] = tuple(part for _, part in parts)
    posted.flaws.extend(note(beside(said, at, figures), port, posted.settings))


def _take(load: PostedDraw, port: str, alone: PostWithoutBike) -> None:
    """Note a load on its port; one that no output may feed is kept apart, and a name counts once."""
    posted, what = alone.posted, kept_off_like(load.name.text)
    if what is not None:
        posted.kept_off.append((port, what))
        alone.loads.setdefault(load.name.text, load)
        return
    known = next((name for name in alone.loads if words_of(name) == words_of(load.name.text)), load.name.text)
    held = posted.outputs.setdefault(port, [])
    if noted_once(load.name, known, port, posted):
        held.append(known)
        alone.loads[known] = load

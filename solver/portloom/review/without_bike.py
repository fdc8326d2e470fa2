"""A post without a bike's file: its loads by themselves, as a bike of which nothing else is known.

What a post says of a load by itself is its name, the part that it looks like, and what it draws.
Kinds by part: common practice, no source.
"""

import re
from collections.abc import Iterable, Iterator
from dataclasses import field, replace
from decimal import Decimal
from typing import Any

from portloom.base.bike import Bike, Part
from portloom.base.figures import amperes, plain
from portloom.base.lamps import LAMPS
from portloom.base.letters import quoted
from portloom.base.parts.loads import LOAD_PART, SIDES, load_part
from portloom.base.parts.others import STARTER_MOTOR
from portloom.base.parts.phrases import is_plural
from portloom.base.parts.words import words_within
from portloom.base.quantities import MilliAmps, MilliWatts
from portloom.base.unit import Unit
from portloom.base.values import dataclass
from portloom.base.vocabulary import Kind
from portloom.inputs.problems import Flaw
from portloom.review.feed_lines import is_starter_motor
from portloom.review.figures import SplitText, bare_name, current_said, power_said, split_figures
from portloom.review.matching import Posted, as_named, begun, clear, not_clear, noted_once, with_main_fuse
from portloom.review.meaning import Meant, refusal, side_of
from portloom.review.names import KnownNames, words_of
from portloom.review.ports import port_meant
from portloom.review.post import Post, PostedLine, TextCell
from portloom.review.rear_lamps import told_apart
from portloom.review.settings import beside, note

LED = re.compile(r"\bLEDs?\b", re.IGNORECASE)
HEATED = re.compile(r"\bheat(ed|er|ing)\b", re.IGNORECASE)
BASES = tuple(dict.fromkeys(lamp.split()[0] for lamp in LAMPS))
BASE = {base: re.compile(rf"(?<![\w/]){re.escape(base)}(?![\w/])", re.IGNORECASE) for base in BASES}


@dataclass(frozen=True)
class PostedDraw:
    """A load as a post says it; of several alike, all together."""

    name: TextCell
    part: Part | None
    kind: Kind
    lamp: str | None
    current: MilliAmps | None
    power: MilliWatts | None
    count: int = 1
    """How many there are, each with the figure that was posted."""

    @property
    def known(self) -> bool:
        """Tell whether the post says what it draws."""
        return not (self.lamp is None and self.current is None and self.power is None)

    @property
    def draws(self) -> MilliAmps | None:
        """What it draws, if that is posted as a current or as several lamps."""
        if self.current is not None or self.lamp is None or self.count == 1:
            return self.current
        return MilliAmps(self.count * LAMPS[self.lamp].current)

    @property
    def nominal(self) -> str | None:
        """A lamp of UN R37 whose nominal power this is; it draws more than that."""
        if self.kind != "filament" or self.power is None or self.current is not None or self.lamp is not None:
            return None
        return next((name for name, lamp in LAMPS.items() if lamp.nominal * self.count == self.power), None)

    @property
    def multiplied(self) -> str | None:
        """Say by how much what was posted of one was multiplied."""
        amount = self.lamp
        if self.current is not None:
            amount = amperes(MilliAmps(self.current // self.count))
        elif self.power is not None and self.lamp is None:
            amount = f"{plain(Decimal(self.power // self.count) / 1000)} W"
        return None if self.count == 1 or amount is None else f"{self.name.text}: {self.count} x {amount}"

    def half(self, name: str) -> "PostedDraw":
        """Return one side's share of what two sides draw."""
        cell = replace(self.name, text=name)
        current = None if self.draws is None else MilliAmps(-(-self.draws // 2))
        power = None if self.power is None else MilliWatts(-(-self.power // 2))
        part = words_within(name)
        kind = "filament" if self.lamp and self.kind == "electronics" else self.kind
        return PostedDraw(cell, part.name if part else None, kind, None if current else self.lamp, current, power)


def drawing(thing: TextCell, beside: Iterable[TextCell] = ()) -> tuple[PostedDraw, SplitText]:
    """Return what a cell, with the figures in other cells beside it, says of a load."""
    own = split_figures(thing)
    others = tuple(split_figures(cell) for cell in beside)
    words = " ".join((own.name.text, *(other.name.text for other in others)))
    bare = _without_lamps(own.name)
    meant = words_within(bare.text) or words_within(own.name.text)
    part = meant.name if meant is not None and meant.sort in ("load", "tell-tale") and meant.name in LOAD_PART else None
    kind: Kind = "relay coil" if meant is not None and meant.sort == "coil" else _kind(words, part)
    count = max(each.count for each in (own, *others))
    current = _first(current_said(cell.text) for each in (own, *others) for cell in each.currents)
    power = _first(power_said(cell.text) for each in (own, *others) for cell in each.powers)
    lamp = None if kind == "led" else _lamp(words, part)
    return PostedDraw(bare, part, "filament" if lamp else kind, lamp, MilliAmps(current * count) if current else None,
                   MilliWatts(power * count) if power else None, count), own  # fmt: skip


def _first(amounts: Iterator[int | None]) -> int | None:
    return next((amount for amount in amounts if amount), None)


def _without_lamps(name: TextCell) -> TextCell:
    """Return a name without the words that say which lamp it is, unless nothing else is there."""
    text = LED.sub("", name.text)
    for pattern in BASE.values():
        text = pattern.sub("", text)
    left = bare_name(text)
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
    if load.draws is not None:
        return {**entry, "current": f"{load.draws} mA", "kind": load.kind}
    if load.lamp is not None:
        return {**entry, "lamp": load.lamp}
    if load.power is not None:
        return {**entry, "power": f"{load.power} mW", "kind": load.kind}
    return {**entry, "current": "1 mA", "kind": load.kind}


def match_alone(post: Post, unit: Unit) -> PostWithoutBike:
    """Return what a post means by itself; ports are the unit's, loads are what is said."""
    outputs = KnownNames(output.name for output in unit.outputs)
    inputs = KnownNames(source.name for source in unit.inputs)
    alone = PostWithoutBike(begun(post))
    for _, what in alone.posted.kept_off:
        alone.loads.setdefault(what, drawing(TextCell(what, 1, 1))[0])
    for said in post.said:
        _line(said, outputs, inputs, alone)
    return replace(alone, posted=with_main_fuse(post, alone.posted))


def _line(said: PostedLine, outputs: KnownNames, inputs: KnownNames, alone: PostWithoutBike) -> None:
    """Note what one line says; a bare number is taken for an output's unless switches are on it."""
    posted = alone.posted
    at = as_named(said.port, outputs if outputs.meant(said.port.text).names else inputs)
    parts = [drawing(thing, said.figures) for thing in said.things]
    names = [part.name.text for _, part in parts if part.name.text]
    side = said.side or side_of(names, None, None) or "outputs"
    port = clear(at.name, port_meant(at.name.text, outputs, inputs, side), "port", posted)
    if port is None:
        return
    if port in inputs and port not in outputs:
        posted.inputs.setdefault(port, []).extend(_switches([part.name for _, part in parts], port, posted))
        return
    for load, part in parts:
        for each in _apart(load) if part.name.text else ():
            _take(each, port, alone)
    figures: tuple[SplitText, ...] = tuple(part for _, part in parts)
    for flaw in note(beside(said, at, figures), port, posted.settings):
        posted.unclear(flaw, port)


def _apart(load: PostedDraw) -> Iterator[PostedDraw]:
    """Return a load, or the lamps of which its name speaks; nobody knows what each of two draws."""
    names = told_apart(load.name)
    for name in names:
        if len(names) > 1:
            yield drawing(name)[0]
        elif name == load.name:
            yield load
        else:
            yield replace(load, name=name, part=drawing(name)[0].part, kind="led" if load.kind == "led" else "filament")


def _switches(names: Iterable[TextCell], port: str, posted: Posted) -> Iterator[str]:
    """Return what is on an input; what belongs on no port is noted."""
    for name in names:
        meant = words_within(name.text)
        if meant is not None and meant.sort == "refused":
            posted.kept_off.append((port, meant.name))
        elif name.text:
            yield name.text


def _take(load: PostedDraw, port: str, alone: PostWithoutBike) -> None:
    """Note a load on its port; what no output may feed is kept apart, and what may be several things is asked."""
    posted, words = alone.posted, words_within(load.name.text)
    if not re.search(r"\w", load.name.text):
        what = f"'{quoted(load.name.text)}' is no name"
        posted.unclear(Flaw(load.name.line, load.name.column, what, "write what is on it, or 'free'"), port)
        return
    if words is not None and words.choices == SIDES and is_plural(load.name.text):
        for side in SIDES:
            _place(load.half(f"{side}s"), port, alone)
        return
    meant = None if words is None else refusal(load.name.text, words, "outputs")
    if meant is not None and meant.kept_off is not None:
        posted.kept_off.append((port, meant.kept_off))
        alone.loads.setdefault(load.name.text, load)
        return
    if is_starter_motor(load.name.text, [load.current or 0]):
        posted.kept_off.append((port, STARTER_MOTOR.name))
        alone.loads.setdefault(STARTER_MOTOR.name, load)
        return
    if words is not None and words.sort == "asked":
        meant = Meant(may_be=words.choices)
    if meant is not None:
        flaw = Flaw(load.name.line, load.name.column, *not_clear(load.name.text, meant, "outputs"))
        posted.unclear(flaw, port)
        return
    _place(load, port, alone)


def _place(load: PostedDraw, port: str, alone: PostWithoutBike) -> None:
    """Note a load on its port; a name counts once."""
    posted = alone.posted
    known = next((name for name in alone.loads if words_of(name) == words_of(load.name.text)), load.name.text)
    held = posted.outputs.setdefault(port, [])
    if noted_once(load.name, known, port, posted):
        held.append(known)
        alone.loads[known] = load

"""The wires that are cut, as the question of their colours sees them, and what is told of the answer."""

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import replace
from types import MappingProxyType
from typing import cast

from portloom.base.bike import Bike, Colour, Leg, Load, Switch
from portloom.base.built import BuiltPiece
from portloom.base.figures import listed
from portloom.colours.count import repeats
from portloom.colours.question import COUNTS, ColouredWire, Colouring, CountName, Question, WireGroup, WireRole
from portloom.documents.wiring.lists import colour_label
from portloom.documents.wiring.wire import CutWireKind, Wire, Wiring
from portloom.job.standing import Standing

EARTHS: tuple[CutWireKind, ...] = ("return", "sender return", "unit earth")
SERVING: tuple[CutWireKind, ...] = ("output", "fed load", "input", "multiplexer way", "dash signal")
"""Wires whose loads and switches may have a fixed colour; the returns of their points are earth."""


def built_question(bike: Bike, standing: Standing) -> Question:
    """Return the same of the wires of a built loom, as its own sheets asked it: so its colours are what these chose."""
    looks: dict[str, list[BuiltPiece]] = {}
    for piece in standing.loom.pieces:
        if piece.ours and piece.size is not None:
            looks.setdefault(f"{piece.circuit}, {piece.size.label}", []).append(piece)
    fixed = dict(_fixed(bike))
    return Question(tuple(_as_built(standing, look, pieces, fixed) for look, pieces in looks.items()), bike.reels)


def _as_built(standing: Standing, look: str, pieces: Sequence[BuiltPiece], fixed: dict[str, Colour]) -> ColouredWire:
    served = {end.name for piece in pieces if piece.kind in SERVING for end in piece.ends}
    plugs = (f"the plug of {end.name}" for piece in pieces for end in piece.ends if end.kind == "multiplexer")
    parted = (f"the connector at {way.at}" for piece in pieces for way in piece.ways)
    size = pieces[0].size
    if size is None:
        raise ValueError(f"{look} is no wire that was cut")
    said = next((piece.colour for piece in pieces if piece.colour is not None), None)
    return ColouredWire(
        key=look,
        size=size,
        legs=tuple(dict.fromkeys(number for piece in pieces for number in standing.run(piece.legs).legs)),
        connectors=tuple(dict.fromkeys((*parted, *plugs))),
        kind=_kind(cast("CutWireKind", pieces[0].kind)),
        fixed=said or next((colour for name, colour in fixed.items() if name in served), None),
    )


NOTHING_SETTLED: Mapping[str, Colour] = MappingProxyType({})


def colour_question(bike: Bike, wiring: Wiring, settled: Mapping[str, Colour] = NOTHING_SETTLED) -> Question:
    """Return the wires that are to have colours, and the shop's reels.

    Of several fixed colours on one circuit that of the first load or switch in the bike's file holds; where a wire of a
    look is built, that which is ``settled``.
    """
    looks: dict[str, list[Wire]] = {}
    for wire in wiring.ours:
        looks.setdefault(colour_label(wire), []).append(wire)
    fixed = dict(_fixed(bike))
    wires = (_coloured(look, pieces, fixed) for look, pieces in looks.items())
    built = {look for look, pieces in looks.items() if any(wire.built for wire in pieces)}
    return Question(
        tuple(replace(w, fixed=settled.get(w.key, w.fixed)) if w.key in built else w for w in wires), bike.reels
    )


def _fixed(bike: Bike) -> Iterator[tuple[str, Colour]]:
    entries: tuple[Load | Switch, ...] = (*bike.loads, *bike.inputs)
    return ((entry.name, entry.colour) for entry in entries if entry.colour is not None)


def _coloured(look: str, pieces: Sequence[Wire], fixed: dict[str, Colour]) -> ColouredWire:
    size = pieces[0].size
    if size is None:
        raise ValueError(f"{look} is no wire that is cut")
    served = {end.name for wire in pieces if wire.kind in SERVING for end in wire.ends}
    return ColouredWire(
        key=look,
        size=size,
        legs=tuple(dict.fromkeys(number for wire in pieces for number in wire.leg_numbers)),
        connectors=tuple(dict.fromkeys(name for wire in pieces for name in _connectors(wire))),
        kind=_kind(pieces[0].kind),
        fixed=next((colour for name, colour in fixed.items() if name in served), None),
    )


def _connectors(wire: Wire) -> Iterator[str]:
    """Return the connectors that a wire passes, and the multiplexers whose plugs it ends in.

    The unit's own plugs are left out: they have more ways than there are colours, and each wire bears its port's name.
    """
    yield from (f"the connector at {way.at}" for way in wire.connectors)
    yield from (f"the plug of {end.name}" for end in wire.ends if end.kind == "multiplexer")


def _kind(kind: CutWireKind) -> WireRole:
    if kind in EARTHS:
        return "earth"
    return "feed" if kind == "feed" else "other"


SAID: dict[CountName, str] = {
    "stray_earths": "earth wires in another colour than the rest",
    "beside_earths": "wires that look like an earth beside them",
    "in_connectors": "alike in a connector, pairs of one size counted twice",
    "in_legs": "alike in a leg, pairs of one size counted twice",
    "like_earths": "wires that look like an earth elsewhere",
    "unusual": "earths that are not black, feeds that are not red",
    "striped": "wires with a stripe",
    "repeated": "pairs alike anywhere",
}


def colour_notes(question: Question, found: Colouring, legs: Sequence[Leg]) -> tuple[str, ...]:
    """Say how good the colours are by the stated measure, and name what looks alike in a leg or connector."""
    return (*_proof(found), *_alike(question, found, legs))


def _proof(found: Colouring) -> Iterator[str]:
    counts = zip(COUNTS, found.measure.counts, found.bound.counts, strict=True)
    told = [f"{SAID[name]}: {reached}" + (f" (at least {least})" if least < reached else "")
            for name, reached, least in counts if reached]  # fmt: skip
    measure = "; ".join(told) if told else "nothing looks alike"
    not_proved = "not proved twice to be best" if found.once else "not proved best"
    proof = "proved best" if found.proven else f"{not_proved}: the search ran out of effort first"
    yield f"chosen by a measure whose first count matters most, {proof}: {measure}"


def _alike(question: Question, found: Colouring, legs: Sequence[Leg]) -> Iterator[str]:
    colours = dict(found.colours)
    groups = list(repeats(question, colours))
    if not groups:
        yield "no two wires that run together in a leg or a connector look alike, earth wires left out"
    for group in groups:
        names = listed([wire.key for wire in group.wires])
        yield f"in {_where(group, legs)} these look alike: {names}"
    yield "the unit's own plugs are not counted: they have more ways than there are colours, so use the labels there"


def _where(group: WireGroup, legs: Sequence[Leg]) -> str:
    return legs[group.place].label if isinstance(group.place, int) else group.place

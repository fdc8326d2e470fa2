"""The wires that are cut, as the question of their colours sees them: pieces of one circuit and size have one."""

from collections.abc import Iterator, Sequence

from solver.colours.question import Kind, Question
from solver.colours.question import Wire as Coloured
from solver.wiring.lists import look_of
from solver.wiring.wire import Wire, WireKind, Wiring
from solver.words.bike import Bike, Colour, Load, Switch

EARTHS: tuple[WireKind, ...] = ("return", "sender return", "unit earth")
SERVING: tuple[WireKind, ...] = ("output", "fed load", "input", "multiplexer way")
"""Wires whose loads and switches may have a settled colour; the returns of their points are earth."""


def colour_question(bike: Bike, wiring: Wiring) -> Question:
    """Return the wires that are to have colours, and the shop's reels.

    Of several settled colours on one circuit that of the first load or switch in the bike's file holds.
    """
    looks: dict[str, list[Wire]] = {}
    for wire in wiring.ours:
        looks.setdefault(look_of(wire), []).append(wire)
    settled = dict(_settled(bike))
    return Question(tuple(_coloured(look, pieces, settled) for look, pieces in looks.items()), bike.reels)


def _settled(bike: Bike) -> Iterator[tuple[str, Colour]]:
    entries: tuple[Load | Switch, ...] = (*bike.loads, *bike.inputs)
    return ((entry.name, entry.colour) for entry in entries if entry.colour is not None)


def _coloured(look: str, pieces: Sequence[Wire], settled: dict[str, Colour]) -> Coloured:
    size = pieces[0].size
    if size is None:
        raise ValueError(f"{look} is no wire that is cut")
    served = {end.name for wire in pieces if wire.kind in SERVING for end in wire.ends}
    return Coloured(
        key=look,
        size=size,
        legs=tuple(dict.fromkeys(number for wire in pieces for number in wire.leg_numbers)),
        connectors=tuple(dict.fromkeys(name for wire in pieces for name in _connectors(wire))),
        kind=_kind(pieces[0].kind),
        fixed=next((colour for name, colour in settled.items() if name in served), None),
    )


def _connectors(wire: Wire) -> Iterator[str]:
    """Return the connectors that a wire passes, and the multiplexers whose plugs it ends in.

    The unit's own plugs are left out: they have more ways than there are colours, and each wire bears its port's name.
    """
    yield from (f"the connector at {way.at}" for way in wire.connectors)
    yield from (f"the plug of {end.name}" for end in wire.ends if end.kind == "multiplexer")


def _kind(kind: WireKind) -> Kind:
    if kind in EARTHS:
        return "earth"
    return "feed" if kind == "feed" else "other"

"""Connectors seen from the wire side, way by way: what goes in, what it is, and what it carries."""

from collections.abc import Callable, Iterable, Iterator
from dataclasses import dataclass

from solver.job.laid import Laid
from solver.job.multiplexed import WiredMultiplexer
from solver.wiring.wire import Wire, WireEnd, WireKind, Wiring
from solver.words.unit import Face

FACES: tuple[Face, ...] = ("front", "rear")


@dataclass(frozen=True)
class Way:
    """A way of a connector: its number or what it is called, and the wire on it; None where it stays empty."""

    name: str
    wire: Wire | None


@dataclass(frozen=True)
class View:
    """A connector at a frame point, from the wire side; both halves of a parted loom have the same ways."""

    name: str
    at: str
    ways: tuple[Way, ...]


def connector_views(laid: Laid, wiring: Wiring) -> tuple[View, ...]:
    """Return the unit's own ports, face by face, the multiplexers, then every point where the loom is parted.

    On which pins the ports of unit and multiplexer lie only their makers can say: here they stand in the order of
    the unit's file.
    """
    return (*_unit(laid, wiring), *_multiplexers(laid, wiring), *_parted(wiring))


def _unit(laid: Laid, wiring: Wiring) -> Iterator[View]:
    unit = laid.site.job.unit
    for face in FACES:
        ways = tuple(_on_face(laid, wiring, face))
        if ways:
            yield View(f"{unit.unit}, {face} face", laid.site.face(face), ways)


def _on_face(laid: Laid, wiring: Wiring, face: Face) -> Iterator[Way]:
    unit = laid.site.job.unit
    if unit.feed.face == face:
        yield Way("supply", _at_unit(wiring, ("feed",)))
        yield Way("earth", _at_unit(wiring, ("unit earth",)))
    for output in (one for one in unit.outputs if one.face == face):
        yield Way(output.name, _at_unit(wiring, ("output",), output.name))
    for port in (one for one in unit.inputs if one.face == face):
        yield Way(port.name, _at_unit(wiring, ("input", "multiplexer data"), port.name))
    for box in (box for box in laid.multiplexers if box.port.face == face):
        name = f"supply of {box.stand.multiplexer.name}"
        yield Way(name, _at_unit(wiring, ("multiplexer supply",), name))


def _at_unit(wiring: Wiring, kinds: Iterable[WireKind], name: str = "") -> Wire | None:
    """Return the wire of one of some kinds at the unit, at the port of that name if one is given."""
    return _ending_at(wiring, kinds, lambda end: end.kind == "unit" and name in ("", end.name))


def _multiplexers(laid: Laid, wiring: Wiring) -> Iterator[View]:
    for box in laid.multiplexers:
        terminals = ["data", "+", "-", *(f"way {way}" for way in range(1, box.stand.multiplexer.ways + 1))]
        ways = tuple(Way(terminal, _at_box(wiring, box, terminal)) for terminal in terminals)
        yield View(f"multiplexer {box.stand.multiplexer.name}", box.stand.at, ways)


def _at_box(wiring: Wiring, box: WiredMultiplexer, terminal: str) -> Wire | None:
    wanted = ("multiplexer", box.stand.multiplexer.name, terminal)
    return _ending_at(wiring, None, lambda end: (end.kind, end.name, end.terminal) == wanted)


def _ending_at(wiring: Wiring, kinds: Iterable[WireKind] | None, wanted: Callable[[WireEnd], bool]) -> Wire | None:
    """Return the first wire, of some kinds if they are given, with an end that is wanted."""
    found = (wire for wire in wiring.wires if kinds is None or wire.kind in kinds)
    return next((wire for wire in found if any(wanted(end) for end in wire.ends)), None)


def _parted(wiring: Wiring) -> Iterator[View]:
    for connector in wiring.connectors:
        ways = tuple(Way(str(number), wiring.by_key[key]) for number, key in enumerate(connector.wires, 1))
        yield View("connector", connector.at, ways)

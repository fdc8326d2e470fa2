"""Connectors and plugs from the wire side: each way, and the wire on it."""

from collections.abc import Callable, Iterable, Iterator

from portloom.base.unit import FACES, Face
from portloom.base.values import dataclass
from portloom.documents.wiring.wire import CutWireKind, Wire, WireEnd, Wiring
from portloom.job.laid import Laid, WiredMultiplexer


@dataclass(frozen=True)
class ConnectorViewWay:
    """A way of a connector: its number or what it is called, and the wire on it; None where it stays empty."""

    name: str
    wire: Wire | None


@dataclass(frozen=True)
class ConnectorView:
    """A connector at a frame point, from the wire side; both halves of a parted loom have the same ways."""

    name: str
    at: str
    ways: tuple[ConnectorViewWay, ...]
    parts_loom: bool = False
    """Whether the loom can be parted there; else it is the plug of a unit or a multiplexer."""


def connector_views(laid: Laid, wiring: Wiring) -> tuple[ConnectorView, ...]:
    """Return the unit's own ports, face by face, the multiplexers, then every point where the loom is parted.

    On which pins the ports of unit and multiplexer lie only their makers can say: here they stand in the order of
    the unit's file.
    """
    return (*_unit(laid, wiring), *_multiplexers(laid, wiring), *_parted(wiring))


def _unit(laid: Laid, wiring: Wiring) -> Iterator[ConnectorView]:
    unit = laid.site.job.unit
    for face in FACES:
        ways = tuple(_on_face(laid, wiring, face))
        if ways:
            yield ConnectorView(f"{unit.unit}, {face} face", laid.site.face(face), ways)


def _on_face(laid: Laid, wiring: Wiring, face: Face) -> Iterator[ConnectorViewWay]:
    unit = laid.site.job.unit
    if unit.feed.face == face:
        yield ConnectorViewWay("supply", _at_unit(wiring, ("feed",)))
        yield ConnectorViewWay("earth", _at_unit(wiring, ("unit earth",)))
    for output in (one for one in unit.outputs if one.face == face):
        yield ConnectorViewWay(output.name, _at_unit(wiring, ("output",), output.name))
    for port in (one for one in unit.inputs if one.face == face):
        yield ConnectorViewWay(port.name, _at_unit(wiring, ("input", "multiplexer data"), port.name))
    for box in (box for box in laid.multiplexers if box.port.face == face):
        name = f"supply of {box.stand.multiplexer.name}"
        yield ConnectorViewWay(name, _at_unit(wiring, ("multiplexer supply",), name))


def _at_unit(wiring: Wiring, kinds: Iterable[CutWireKind], name: str = "") -> Wire | None:
    """Return the wire of one of some kinds at the unit, at the port of that name if one is given."""
    return _ending_at(wiring, kinds, lambda end: end.kind == "unit" and name in ("", end.name))


def _multiplexers(laid: Laid, wiring: Wiring) -> Iterator[ConnectorView]:
    for box in laid.multiplexers:
        terminals = ["data", "+", "-", *(f"way {way}" for way in range(1, box.stand.multiplexer.ways + 1))]
        ways = tuple(ConnectorViewWay(terminal, _at_box(wiring, box, terminal)) for terminal in terminals)
        yield ConnectorView(f"multiplexer {box.stand.multiplexer.name}", box.stand.at, ways)


def _at_box(wiring: Wiring, box: WiredMultiplexer, terminal: str) -> Wire | None:
    wanted = ("multiplexer", box.stand.multiplexer.name, terminal)
    return _ending_at(wiring, None, lambda end: (end.kind, end.name, end.terminal) == wanted)


def _ending_at(wiring: Wiring, kinds: Iterable[CutWireKind] | None, wanted: Callable[[WireEnd], bool]) -> Wire | None:
    """Return the first wire, of some kinds if they are given, with an end that is wanted."""
    found = (wire for wire in wiring.wires if kinds is None or wire.kind in kinds)
    return next((wire for wire in found if any(wanted(end) for end in wire.ends)), None)


def _parted(wiring: Wiring) -> Iterator[ConnectorView]:
    for connector in wiring.connectors:
        ways = tuple(ConnectorViewWay(str(number), wiring.by_key[key]) for number, key in enumerate(connector.wires, 1))
        yield ConnectorView("connector", connector.at, ways, parts_loom=True)

"""All that the lists of a plan tell, worked out once."""

from collections.abc import Callable, Iterable, Iterator, Mapping
from dataclasses import dataclass, replace
from types import MappingProxyType

from portloom.base.bike import Colour
from portloom.base.figures import listed
from portloom.base.unit import Face
from portloom.documents.fail_safe import stands_first
from portloom.documents.wiring.cut_list import ReelCuts, cut_list
from portloom.documents.wiring.lines import coils_of
from portloom.documents.wiring.parts import PartsLine
from portloom.documents.wiring.parts_list import Removed, parts_list, removed
from portloom.documents.wiring.pieces import wiring_of
from portloom.documents.wiring.settings import Settings, settings_of
from portloom.documents.wiring.wire import CutWireKind, Wire, WireEnd, Wiring
from portloom.job.laid import Laid, WiredMultiplexer

FACES: tuple[Face, ...] = ("front", "rear")


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
        yield ConnectorView("connector", connector.at, ways)


def not_listed(laid: Laid) -> tuple[str, ...]:
    """Say which wires are not in the lists."""
    return tuple(_told(laid))


def _told(laid: Laid) -> Iterator[str]:
    job = laid.site.job
    yield "the battery's own leads, the starter motor's cable and the earth straps"
    if job.bike.supply.charging is not None:
        yield "the regulator's leads, and the fuse in them"
    sensors = [switch.name for switch in job.inputs if switch.signal in ("pulse", "coded")]
    if sensors:
        yield f"what {listed(sensors)} may need besides the signal: an earth or a supply, as the maker says"
    returning = [load.name for load in job.bike.loads if load.return_ == "frame"]
    if returning:
        yield f"a return of {listed(returning)}: the frame is the return"
    yield from (f"{load.name}'s {load.other_end}: a coil is never earthed itself" for load in coils_of(job))


NO_COLOURS: Mapping[str, Colour] = MappingProxyType({})


@dataclass(frozen=True)
class Lists:
    """The lists of one plan."""

    bike: str
    unit: str
    wiring: Wiring
    reels: tuple[ReelCuts, ...]
    parts: tuple[PartsLine, ...]
    removed: tuple[Removed, ...]
    settings: Settings
    views: tuple[ConnectorView, ...]
    not_listed: tuple[str, ...]
    """Wires that no plan lays."""
    first: tuple[str, ...]
    """The warnings that stand first on every sheet."""
    set_aside: tuple[tuple[str, str], ...]
    """Rules that the bike's file sets aside, with the reason: they stand first on every sheet."""
    colour_notes: tuple[str, ...] = ()
    """How far the colours are proved best, and what looks alike all the same; nothing where none were chosen."""


def lists_of(laid: Laid, colours: Mapping[str, Colour] = NO_COLOURS, colour_notes: tuple[str, ...] = ()) -> Lists:
    """Return the lists of a plan that passed its check; ``colours`` by what look_of calls them.

    ``colour_notes`` is what is told of them.
    """
    wiring = with_colours(wiring_of(laid), colours)
    job, reels = laid.site.job, cut_list(wiring)
    return Lists(
        bike=job.bike.bike,
        unit=job.unit.unit,
        wiring=wiring,
        reels=reels,
        parts=parts_list(laid, wiring, reels),
        removed=removed(laid),
        settings=settings_of(laid),
        views=connector_views(laid, wiring),
        not_listed=not_listed(laid),
        first=stands_first(job.bike),
        set_aside=tuple(job.bike.set_aside.items()),
        colour_notes=colour_notes,
    )


def colour_label(wire: Wire) -> str:
    """Say what has one colour: the pieces of a circuit that are of one size."""
    return f"{wire.circuit}, {wire.size.label}" if wire.size is not None else wire.circuit


def with_colours(wiring: Wiring, colours: Mapping[str, Colour]) -> Wiring:
    """Return the same wires with their colours; what lies alongside has none."""
    wires = tuple(
        wire if wire.kind == "alongside" else replace(wire, colour=colours.get(colour_label(wire), wire.colour))
        for wire in wiring.wires
    )
    return replace(wiring, wires=wires)

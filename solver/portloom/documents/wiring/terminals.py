"""What is crimped on the ends of wires and pushed into plugs: terminals, seals, blanks, and the plugs themselves.

What a plug takes only its maker's file can say: a unit's file may (its ``terminal``). Nothing here guesses a width.
"""

from collections import Counter
from collections.abc import Iterator, Mapping, Sequence

from portloom.base.figures import amperes, counted, listed, millimetres
from portloom.base.quantities import MilliAmps
from portloom.base.sizes import WireSize
from portloom.documents.wiring.parts import PartsLine, pieces
from portloom.documents.wiring.views import ConnectorView
from portloom.documents.wiring.wire import EndKind, Wire, Wiring
from portloom.job.laid import Laid

BY_DEVICE = "terminal, as the device's plug asks"
DEVICES: dict[EndKind, str] = {
    "load": "loads", "switch": "switches", "own switch": "switches", "dash": "dashes",
    "multiplexer": "multiplexers",
}  # fmt: skip
FIXED: dict[EndKind, tuple[str, str]] = {
    "battery": ("ring terminal, hole to suit the bolt", "battery"),
    "earth": ("ring terminal, hole to suit the bolt", "earth points"),
    "fuse": ("terminal, as the fuse's holder asks", "fuses"),
    "relay": ("terminal, as the relay's socket asks", "relays"),
}
"""What goes on an end that is no plug, and where."""
HALVES = ("tab", "receptacle")
TerminalKind = tuple[str, str, WireSize]
"""What it is, where it goes, the wire that it is crimped on."""


def terminal_parts(laid: Laid, wiring: Wiring) -> Iterator[PartsLine]:
    """Return the terminals by what they are, where they go and the wire that they are crimped on."""
    own = laid.site.job.unit.terminal
    at_unit = f"terminal, {own}" if own else "terminal, as the unit's plug asks"
    tails = {load.name: load.leads for load in laid.site.job.bike.loads if load.leads is not None}
    found: Counter[TerminalKind] = Counter()
    for wire in wiring.wires:
        found.update(_terminals(wire, at_unit, tails))
    for (what, where, size), count in sorted(found.items(), key=lambda item: (item[0][0], item[0][1], item[0][2])):
        yield pieces("terminals", what, f"for {size.label}", count, where)


def _terminals(wire: Wire, at_unit: str, tails: Mapping[str, WireSize]) -> Iterator[TerminalKind]:
    if wire.size is None:
        return
    for end in wire.ends:
        if end.kind == "unit":
            what = "terminal, as the unit's supply asks" if wire.kind == "feed" else at_unit
            yield what, "unit", wire.size
        elif end.kind in FIXED:
            yield *FIXED[end.kind], wire.size
        elif end.kind in DEVICES:
            yield BY_DEVICE, DEVICES[end.kind], wire.size
            if end.kind == "load" and end.name in tails:
                yield BY_DEVICE, "tails of loads", tails[end.name]
    for _ in wire.connectors:
        yield from ((f"{half}, as the connector asks", "connectors", wire.size) for half in HALVES)


def seal_parts(laid: Laid, wiring: Wiring, views: Sequence[ConnectorView]) -> Iterator[PartsLine]:
    """Return a seal for each wire in a plug, two in a connector that parts the loom, and a blank for each empty way."""
    found: Counter[tuple[WireSize, str]] = Counter()
    for wire in wiring.wires:
        if wire.size is not None:
            found.update((wire.size, where) for where in _sealed(wire))
    for (size, where), count in sorted(found.items()):
        outside = millimetres(laid.site.job.catalogue[size].diameter)
        yield pieces("seals and blanks", f"seal for a wire {outside} thick", f"for {size.label}", count, where)
    for view in views:
        empty = sum(way.wire is None for way in view.ways)
        if empty:
            yield pieces("seals and blanks", "blank for an empty way", "", empty, view.name)


def _sealed(wire: Wire) -> Iterator[str]:
    for end in wire.ends:
        if end.kind == "unit" and wire.kind != "feed":
            yield "unit"
        elif end.kind in DEVICES:
            yield DEVICES[end.kind]
    for _ in wire.connectors:
        yield from ("connectors" for _ in HALVES)


def plug_parts(wiring: Wiring) -> Iterator[PartsLine]:
    """Return the plug of each load, switch and dash, with its ways by the wire that each takes.

    The filaments of one bulb, which share a pin, sit in one plug.
    """
    ends = [end for wire in wiring.ours for end in wire.ends]
    bulbs = {(name, end.point): end.names for end in ends if end.with_ for name in end.names}
    found: dict[tuple[tuple[str, ...], str], Counter[WireSize]] = {}
    for wire in wiring.ours:
        for end in wire.ends:
            if end.kind in DEVICES and end.kind != "multiplexer" and wire.size is not None and not end.stub:
                names = bulbs.get((end.name, end.point), (end.name,))
                found.setdefault((names, end.point), Counter())[wire.size] += 1
    for (names, point), sizes in found.items():
        ways = listed([f"{count} x {size.label}" for size, count in sorted(sizes.items())])
        yield pieces("plugs of devices", f"plug of {listed(names)}", ways, 1, point)


def connector_parts(views: Sequence[ConnectorView]) -> Iterator[PartsLine]:
    """Return the housings of unit, multiplexers and connectors, with their ways and the most that one carries."""
    for view in views:
        used = [way.wire for way in view.ways if way.wire is not None]
        most = max((wire.current for wire in used), default=MilliAmps(0))
        ways = counted(len(view.ways), "way")
        empty = f", {len(view.ways) - len(used)} empty" if len(used) < len(view.ways) else ""
        carries = f", {amperes(most)} at most" if most else ""
        what = "connector, both halves, sealed" if view.parts_loom else f"plug of {view.name}"
        yield pieces("connectors", what, f"{ways}{empty}{carries}", 1, view.at)

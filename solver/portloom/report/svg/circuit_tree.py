"""A circuit's wires as a tree, from what feeds it to what it leads to; and what a plan's things look like there."""

from collections.abc import Iterator, Sequence
from functools import cached_property

from portloom.base.bike import Switch
from portloom.base.current import kind_of
from portloom.base.figures import amperes
from portloom.base.values import dataclass
from portloom.base.vocabulary import COIL, HORN, Kind
from portloom.documents.document import Plan
from portloom.documents.notes import Notes, notes_of
from portloom.documents.wiring.lines import coils_of
from portloom.documents.wiring.lists import notes_at
from portloom.documents.wiring.wire import Wire, WireEnd, Wiring
from portloom.job.laid import Laid
from portloom.report.svg.lettering import whole
from portloom.report.svg.symbols import Sign

Identity = tuple[str, str, str]
THROUGH = ("fuse", "relay", "own switch")
"""What sits in a wire: one leads to it, one leads on."""


@dataclass(frozen=True)
class BranchPoint:
    """An end of wires, the wire that leads to it, and what lies beyond."""

    end: WireEnd
    wire: Wire
    onward: tuple["BranchPoint", ...]

    @property
    def tip(self) -> bool:
        """Tell whether nothing lies beyond."""
        return not self.onward

    def tips(self) -> Iterator["BranchPoint"]:
        """Return its tips, those that hang on it directly before those beyond further splices."""
        if self.tip:
            yield self
        for knot in self.onward:
            yield from knot.tips()


@dataclass(frozen=True)
class CircuitTree:
    """What feeds a circuit, and what it leads to."""

    end: WireEnd
    onward: tuple[BranchPoint, ...]

    @property
    def tips(self) -> tuple[BranchPoint, ...]:
        """All tips, from the first row down."""
        return tuple(tip for knot in self.onward for tip in knot.tips())


def circuit_trees(wires: Sequence[Wire]) -> tuple[CircuitTree, ...]:
    """Return the trees of some wires, each from an end that no wire leads to."""
    led_to = {_identity(wire.end) for wire in wires}
    roots = {_identity(wire.start): wire.start for wire in wires if _identity(wire.start) not in led_to}
    return tuple(CircuitTree(root, _onward(root, wires)) for root in roots.values())


def _onward(end: WireEnd, wires: Sequence[Wire]) -> tuple[BranchPoint, ...]:
    beyond = [wire for wire in wires if _identity(wire.start) == _identity(end)]
    knots = [BranchPoint(wire.end, wire, _beyond(wire.end, wires)) for wire in beyond]
    return (*(knot for knot in knots if knot.tip), *(knot for knot in knots if not knot.tip))


def _beyond(end: WireEnd, wires: Sequence[Wire]) -> tuple[BranchPoint, ...]:
    return _onward(end, wires) if end.kind in ("splice", *THROUGH) else ()


def _identity(end: WireEnd) -> Identity:
    """Return what tells an end from others; the contacts of a relay are one thing, a box's ways are not."""
    terminal = "" if end.kind in ("splice", *THROUGH) else end.terminal
    return end.kind, end.name, terminal


SIGN_OF_KIND: dict[Kind, Sign] = {
    "filament": "lamp",
    "led": "led",
    "discharge": "lamp",
    "motor": "motor",
    HORN: HORN,
    COIL: COIL,
    "relay coil": "coil",
    "heater": "heater",
    "electronics": "electronics",
}
BACK = ("return", "sender return")


@dataclass(frozen=True)
class Things:
    """A plan with its wires."""

    laid: Laid
    plan: Plan
    wiring: Wiring

    @cached_property
    def _backs(self) -> dict[tuple[str, str, str], Wire]:
        wires = (wire for wire in self.wiring.wires if wire.kind in BACK and wire.start.kind != "splice")
        return {(wire.start.kind, wire.start.name, wire.start.point): wire for wire in wires}

    def back(self, end: WireEnd) -> Wire | None:
        """Return the wire that leads a load's, switch's, relay's or multiplexer's current back from a point."""
        return self._backs.get((end.kind, end.name, end.point))

    def stands(self, end: WireEnd) -> bool:
        """Tell whether a thing itself is at the end of a wire: where its return begins, if it has any.

        A sender that is read at two places stands at one of them; the live side of a switch is told apart.
        """
        backed = any(key[:2] == (end.kind, end.name) for key in self._backs)
        return end.terminal != "live" and (not backed or self.back(end) is not None)

    @cached_property
    def _switches(self) -> dict[str, Switch]:
        return {switch.name: switch for switch in self.laid.site.job.wired_inputs}

    @cached_property
    def _kinds(self) -> dict[str, Kind]:
        return {load.name: kind_of(load) for load in self.laid.site.job.bike.loads}

    @cached_property
    def other_ends(self) -> dict[str, str]:
        """Where the other end goes of what has no wire to earth of its own: of a coil, of a bulb's further filament."""
        starts = [wire.start for wire in self.wiring.wires if wire.kind in BACK]
        shared = {name: f"by the pin of {start.name}" for start in starts for name in start.with_}
        return {**{load.name: load.other_end or "" for load in coils_of(self.laid.site.job)}, **shared}

    @cached_property
    def currents(self) -> dict[str, str]:
        """What each load draws."""
        loads = self.laid.site.job.loads
        every = (*loads.on_unit, *loads.guests, *(fed.consumer for fed in loads.fed))
        return {load.name: whole(amperes(load.current)) for load in every}

    def sign(self, end: WireEnd) -> Sign:
        """Return the sign of what a wire leads to."""
        if end.kind == "load":
            return SIGN_OF_KIND[self._kinds[end.name]]
        if end.kind == "switch":
            return _switch_sign(self._switches[end.name])
        plain: dict[str, Sign] = {
            "relay": "coil",
            "multiplexer": "multiplexer",
            "unit": "unit",
            "fuse": "fuse",
            "own switch": "normally open",
        }
        return plain.get(end.kind, "onward")

    def live(self, end: WireEnd) -> bool:
        """Tell whether a wire leads to a switch that puts supply on it."""
        return end.kind == "switch" and self._switches[end.name].signal == "supply"

    def words(self, end: WireEnd) -> str:
        """Say what a wire leads to and where that is."""
        current = self.currents.get(end.name) if end.kind in ("load", "relay") else None
        name = f"{self.plan.only.unit}, {end.name}" if end.kind == "unit" else end.name
        told = [name, end.point, current, self._switch_in_wire(end)]
        return ", ".join(words for words in told if words) + "".join(
            f" ({note})" for note in notes_at(end, self._notes)
        )

    @cached_property
    def _notes(self) -> Notes:
        return notes_of(self.laid.site.job.bike)

    def _switch_in_wire(self, end: WireEnd) -> str:
        """Say where a load's own switch sits in the wire to it; that of a relay's coil has a row of its own."""
        switched = (one for one in self.laid.site.job.bike.loads if end.kind == "load" and one.name == end.name)
        points = [one.own_switch for one in switched if one.own_switch is not None and one.fed != "relay"]
        return f"own switch at {points[0]}" if points else ""

    def source_words(self, root: CircuitTree) -> tuple[str, ...]:
        """Name what feeds a circuit, and say under it how a port is set, or where it is."""
        end = root.end
        if end.kind == "unit":
            return next((told for told in self._settings if told[0] == end.name), (end.name,))
        if end.kind == "multiplexer":
            return end.name, end.terminal
        if end.kind == "dash":
            return end.name, end.terminal, end.point
        return end.name, *([end.point] if end.point != end.name else [])

    @property
    def _settings(self) -> Iterator[tuple[str, ...]]:
        for line in self.plan.outputs:
            yield line.port, ", ".join(line.mode), f"trip {whole(amperes(line.trip))}"
        for switches in self.plan.inputs:
            yield switches.port, switches.signal
        for box in self.plan.multiplexers:
            yield box.port, "coded"
        yield "earth", self.plan.only.unit


def _switch_sign(switch: Switch) -> Sign:
    if switch.signal in ("earth", "supply"):
        return "normally open" if switch.normally == "open" else "normally closed"
    return {"pulse": "sensor", "sender": "sender"}.get(switch.signal, "coded")  # type: ignore[return-value]


def wire_words(wire: Wire) -> tuple[str, str]:
    """Return what stands above a wire and below it: its size, its colour."""
    size = "" if wire.size is None else whole(wire.size.label)
    if wire.colour is None:
        return size, ""
    stripe = wire.colour.stripe
    return size, wire.colour.base if stripe is None else f"{wire.colour.base}/{stripe}"

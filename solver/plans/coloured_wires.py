"""The wires of a plan as the question of their colours sees them."""

from collections.abc import Iterable, Iterator

from solver.colours.question import Kind, Question, Wire
from solver.plans.document import FixedLine, Plan, WireLine
from solver.words.bike import Bike, Colour, Load, Switch
from solver.words.sizes import WireSize

EARTHS = ("return", "sender return", "unit earth")


def colour_question(bike: Bike, plan: Plan) -> Question:
    """Give the wires that are cut for a plan, and the shop's reels.

    The wire of a circuit has the colour that is settled for the first of its loads or switches that has one.
    """
    return Question(tuple(_wires(_Loom(bike), plan)), bike.reels)


class _Loom:
    """A bike's legs and connectors by their names, and the colours that are settled."""

    def __init__(self, bike: Bike) -> None:
        self._legs = bike.frame.legs
        self._numbers = {leg.label: number for number, leg in enumerate(bike.frame.legs)}
        self._connectors = bike.frame.connectors
        entries: tuple[Load | Switch, ...] = (*bike.loads, *(bike.later or ()), *bike.inputs)
        self._settled = {entry.name: entry.colour for entry in entries if entry.colour is not None}

    def wire(self, key: str, size: WireSize, way: WireLine, kind: Kind, serves: Iterable[str]) -> Iterator[Wire]:
        """Give a wire, unless it starts where it ends; it serves loads or switches by these names."""
        legs = tuple(self._numbers[label] for label in way.legs)
        if legs:
            yield Wire(key, size, legs, tuple(self._parted(legs)), kind, self._colour(serves))

    def _parted(self, legs: tuple[int, ...]) -> Iterator[str]:
        """A wire goes through a connector where two of its legs meet at it."""
        ends = [point for number in legs for point in self._legs[number].between]
        yield from (point for point in self._connectors if ends.count(point) > 1)

    def _colour(self, serves: Iterable[str]) -> Colour | None:
        return next((self._settled[name] for name in serves if name in self._settled), None)


def _wires(loom: _Loom, plan: Plan) -> Iterator[Wire]:
    for output in plan.outputs:
        yield from loom.wire(f"output {output.port}", output.size, output.wire, "other", output.loads)
    for read in plan.inputs:
        yield from loom.wire(f"input {read.port}", read.size, read.wire, "other", read.switches)
    for box in plan.multiplexers:
        for own in ("data", "supply"):
            yield from loom.wire(f"{own} {box.name}", box.size, box.wire, "other", ())
        for switch in box.switches:
            yield from loom.wire(f"switch {switch.switch}", box.size, switch.wire, "other", (switch.switch,))
    yield from loom.wire("feed", plan.feed.size, plan.feed.wire, "feed", ())
    for line in (*plan.fed, *plan.returns, *plan.other_wires):
        kind: Kind = "earth" if line.kind in EARTHS else "other"
        yield from loom.wire(f"{line.kind} {line.name}", line.size, line.wire, kind, _served(line))


def _served(line: FixedLine) -> tuple[str, ...]:
    """A settled colour is that of a load's own feed; returns of its point are earth."""
    return (line.name,) if line.kind == "fed load" else ()

"""The goal of a plan: every term of its cost, named once, in micrometres of wire.

A plan costs the sum of all terms over all that it holds. The search weighs the same amounts: what its site
holds is fixed, and each column adds what it puts there. The checker does not look here: it counts for itself.
"""

from collections.abc import Callable, Iterable, Iterator
from typing import Any, Literal

from portloom.base.bike import Weights
from portloom.base.quantities import Micrometres
from portloom.base.values import dataclass
from portloom.job.consumers import Later
from portloom.job.fixed import conductor_of
from portloom.job.fixed_as_built import as_new, stays
from portloom.job.fixed_wires import FixedWire, WireKind
from portloom.job.laid import WIRES_TO_UNIT, Laid, WiredInput, WiredMultiplexer, WiredSwitch
from portloom.job.site import Site
from portloom.job.wired import WiredOutput

CostPart = Literal["wire run", "spare-port loss", "legs in use"]


@dataclass(frozen=True)
class LegInUse:
    """A leg of the frame that holds a wire of the plan, not only one alongside."""

    number: int
    worth: Micrometres


Held = FixedWire | WiredOutput | WiredInput | WiredSwitch | WiredMultiplexer | Later | LegInUse
"""What a plan holds; of later loads, those that it has no room for."""


@dataclass(frozen=True)
class Cost:
    """What a plan costs, or a part of one, in micrometres of wire."""

    wire_run: Micrometres
    spare_port_loss: Micrometres
    legs_in_use: Micrometres = Micrometres(0)

    @property
    def total(self) -> Micrometres:
        """All parts together."""
        return Micrometres(self.wire_run + self.spare_port_loss + self.legs_in_use)

    def weighed(self, by_run: int, by_loss: int) -> int:
        """Return wire and spare ports together, each times a whole number."""
        return by_run * self.wire_run + by_loss * self.spare_port_loss

    def __add__(self, other: "Cost") -> "Cost":
        return Cost(
            Micrometres(self.wire_run + other.wire_run),
            Micrometres(self.spare_port_loss + other.spare_port_loss),
            Micrometres(self.legs_in_use + other.legs_in_use),
        )

    def __sub__(self, other: "Cost") -> "Cost":
        return self + -other

    def __neg__(self) -> "Cost":
        return Cost(Micrometres(-self.wire_run), Micrometres(-self.spare_port_loss), Micrometres(-self.legs_in_use))


@dataclass(frozen=True)
class Priced:
    """What is told with its cost: the whole, and the parts of it."""

    costs: Cost

    @property
    def cost(self) -> Micrometres:
        """All parts together."""
        return self.costs.total

    @property
    def wire_run(self) -> Micrometres:
        """The length of all wires that count, without margin."""
        return self.costs.wire_run

    @property
    def spare_port_loss(self) -> Micrometres:
        """What ports in use and later loads without room are worth."""
        return self.costs.spare_port_loss

    @property
    def legs_in_use(self) -> Micrometres:
        """What the legs that hold a wire are worth; nothing where the file gives a leg no worth."""
        return self.costs.legs_in_use


NO_COST = Cost(Micrometres(0), Micrometres(0))


@dataclass(frozen=True)
class Term:
    """A term of the cost: its part, what it counts in a sentence, and its amount for a thing that a plan holds."""

    name: str
    part: CostPart
    sentence: str
    of: type
    """What a plan holds that this may count."""
    amount: Callable[[Any], int]
    worth: Callable[[Weights], str] | None = None
    """What the bike's weights say of it; None for a wire, which is worth its length, and empty where it is nothing."""


# --- wire run: the lengths of wires along the frame, without what is added where they are cut


def _fixed(*kinds: WireKind) -> Callable[[FixedWire], int]:
    return lambda wire: wire.new_run.length if wire.kind in kinds else 0


def _laid(wires: int = 1) -> Callable[[WiredOutput | WiredInput | WiredSwitch | WiredMultiplexer], int]:
    return lambda wired: wires * wired.new_run.length


# --- spare-port loss: what the ports in use leave, and the later loads that find no room


def _amperes(wired: WiredOutput) -> int:
    return wired.site.job.bike.weights.ampere * (wired.output.limit - wired.circuit.current)


def _abilities(wired: WiredOutput) -> int:
    return 1000 * wired.site.job.bike.weights.ability * len(wired.output.modes - wired.circuit.modes)


def _later(later: Later) -> int:
    return later.worth


# --- legs in use: what is sleeved, tied and led past everything, however many wires are in it


def _leg(leg: LegInUse) -> int:
    return leg.worth


def _worth_of_a_leg(weights: Weights) -> str:
    return f"a leg in use {weights.leg} mm" if weights.leg else ""


TERMS: tuple[Term, ...] = (
    Term("feed", "wire run", "the feed, from battery to unit", FixedWire, _fixed("feed")),
    Term(
        "returns",
        "wire run",
        "each joint return, and each sender's own, to its earth point",
        FixedWire,
        _fixed("return", "sender return"),
    ),
    Term(
        "fed loads",
        "wire run",
        "the wire of each load that no output feeds",
        FixedWire,
        _fixed("fed load", "coil lead"),
    ),
    Term(
        "dash wires",
        "wire run",
        "each wire that only a dash reads, a sensor's return and third wire too",
        FixedWire,
        _fixed("dash signal", "dash return", "dash supply"),
    ),
    Term("output wires", "wire run", "the wire of each output, through all its loads", WiredOutput, _laid()),
    Term("input wires", "wire run", "the wire of each input, through all its switches", WiredInput, _laid()),
    Term("switch wires", "wire run", "the wire from each switch to its multiplexer", WiredSwitch, _laid()),
    Term(
        "multiplexer wires",
        "wire run",
        "data and supply of each multiplexer, from the unit",
        WiredMultiplexer,
        _laid(WIRES_TO_UNIT),
    ),
    Term(
        "spare amperes",
        "spare-port loss",
        "what the circuit on an output leaves of its limit",
        WiredOutput,
        _amperes,
        lambda weights: f"a spare ampere is worth {weights.ampere} mm of wire",
    ),
    Term(
        "spare abilities",
        "spare-port loss",
        "what the output of a circuit can do and no load of it asks for",
        WiredOutput,
        _abilities,
        lambda weights: f"a spare ability {weights.ability} mm",
    ),
    Term(
        "later loads",
        "spare-port loss",
        "each later load that no free output has room for",
        Later,
        _later,
        lambda weights: f"a later load {weights.later} mm unless the file says otherwise",
    ),
    Term(
        "legs in use",
        "legs in use",
        "each leg that holds at least one wire, those alongside left out",
        LegInUse,
        _leg,
        _worth_of_a_leg,
    ),
)


def cost_of(held: Held) -> Cost:
    """Return what one thing that a plan holds adds to its cost."""
    parts: dict[CostPart, int] = {"wire run": 0, "spare-port loss": 0, "legs in use": 0}
    for term in TERMS:
        if isinstance(held, term.of):
            parts[term.part] += term.amount(held)
    return Cost(*map(Micrometres, parts.values()))


def fixed_cost(site: Site) -> Cost:
    """Return what every plan at a site costs before anything is chosen, with room for no later load."""
    return _sum([*site.fixed_wires, *site.job.loads.later])


def cost_of_plan(laid: Laid) -> Cost:
    """Return what a plan costs as it lies."""
    return _sum(_held(laid))


def _held(laid: Laid) -> Iterator[Held]:
    room = {wired.circuit.label for wired in laid.later}
    yield from (wire if stays(wire, conductor_of(laid.site, wire)) else as_new(wire) for wire in laid.site.fixed_wires)
    yield from laid.outputs
    yield from laid.inputs
    yield from laid.switches
    yield from laid.multiplexers
    yield from (later for later in laid.site.job.loads.later if later.consumer.name not in room)
    yield from _legs_in_use(laid)


def _legs_in_use(laid: Laid) -> Iterator[LegInUse]:
    """Return each leg in use where that is worth anything."""
    weights = laid.site.job.bike.weights
    yield from (_in_use(weights, number) for number in (laid.legs_in_use if weights.leg else ()))


def _in_use(weights: Weights, number: int) -> LegInUse:
    return LegInUse(number, Micrometres(1000 * weights.leg))


def cost_of_a_leg(weights: Weights) -> Micrometres:
    """Return what any leg in use costs."""
    return cost_of(_in_use(weights, 0)).total


def _sum(held: Iterable[Held]) -> Cost:
    return sum(map(cost_of, held), start=NO_COST)

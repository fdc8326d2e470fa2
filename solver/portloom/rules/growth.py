"""What a rule says where a load draws more and no wire is laid anew: judged at the sizes that are there."""

from collections.abc import Callable, Iterable, Iterator, Sequence

from portloom.base.copper import Conductor
from portloom.base.figures import amperes
from portloom.base.values import dataclass
from portloom.job.consumers import Consumer
from portloom.job.fixed import conductor_of
from portloom.job.fixed_wires import FixedWire
from portloom.job.laid import Laid
from portloom.job.loading import Bundles, Demand, output_demands
from portloom.job.site import Site
from portloom.job.sizing import fixed_demands
from portloom.job.wired import WiredOutput
from portloom.rules.margins import among

Saying = tuple[str, str]
"""A subject, and the sentence said of it."""
Pairs = Sequence[tuple[WiredOutput, WiredOutput]]
"""The circuits of a load, as they are and with a mA more."""
GrowthRoom = Callable[[Consumer, Pairs], Iterable[int]]
"""By how many mA a load can grow."""


@dataclass(frozen=True)
class OfGrowth:
    """What a rule says of a plan as it is wired, in which one load draws more."""

    headroom: Callable[[Laid], GrowthRoom] | None = None
    """How far a load can grow by what is linear in its current: worked out at once, exact."""
    port: Callable[[WiredOutput], Iterable[Saying]] | None = None
    """In what an output that refuses its circuit falls short, with figures that are not rounded."""
    wire: Callable[[WiredOutput], Iterable[Saying]] | None = None
    """In what a circuit's wire falls short; it has no other reel than that."""
    unit: Callable[[Site], Iterable[Saying]] | None = None
    """In what the unit's feed falls short."""
    shared: Callable[[Laid], Iterable[Saying]] | None = None
    """In what falls short that no output's wire is: the feed, joint returns, wires past the unit."""
    beside: Callable[[Laid, WiredOutput | FixedWire, Bundles], Iterable[Saying]] | None = None
    """What a wire can't carry among the loaded ones beside it."""


UNTOUCHED = OfGrowth()
"""A rule that has nothing to say of currents, or says the same of every plan."""


def bears(wired: WiredOutput, bundles: Bundles) -> bool:
    """Tell whether a circuit's wire carries its trip among the loaded wires beside it."""
    return next(output_short(wired, bundles), None) is None


def output_short(wired: WiredOutput, bundles: Bundles) -> Iterator[Saying]:
    """Say where a circuit's wire does not carry its trip."""
    label, demands = wired.circuit.label, output_demands(wired.site.job, wired)
    for demand, where in _short(wired.site, wired.drawn, wired.run.legs, demands, bundles):
        trip = f"a trip of {amperes(demand.current)} is too much for its {wired.drawn.size.label}"
        yield label, f"{label} on {wired.output.name}: {trip} {where}"


def fixed_wire_said(wire: FixedWire) -> str:
    """Return how a wire that no assignment changes is called."""
    return wire.said if wire.kind in ("feed", "return") else f"the wire to {wire.name}"


def fixed_wire_short(laid: Laid, wire: FixedWire, bundles: Bundles) -> Iterator[Saying]:
    """Say where a wire that no assignment changes does not carry what it must."""
    demands, conductor = fixed_demands(laid.site, wire, laid.outputs), conductor_of(laid.site, wire)
    for demand, where in _short(laid.site, conductor, laid.site.borne(wire) if demands else (), demands, bundles):
        why = "1.25 x what flows, or a fault" if wire.kind == "return" else "its fuse"
        must = f"it must carry {amperes(demand.current)} ({why}), too much for its {conductor.size.label}"
        yield wire.name, f"{fixed_wire_said(wire)}: {must} {where}"


def _short(
    site: Site, conductor: Conductor, legs: Sequence[int], demands: Iterable[Demand], bundles: Bundles
) -> Iterator[tuple[Demand, str]]:
    """Return what a wire can't carry, and where."""
    for demand in demands:
        for leg in legs:
            loaded = bundles.beside(leg, demand)
            if not site.job.carries(conductor, leg, loaded, demand.current):
                yield demand, f"in {site.job.network.legs[leg].label}{among(loaded)}"

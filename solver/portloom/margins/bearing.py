"""Whether the wires of a plan, at the sizes that they have, bear what the rules ask of them."""

from collections.abc import Iterable, Iterator, Sequence

from portloom.base.copper import Conductor
from portloom.base.drop import NOTHING
from portloom.base.figures import amperes, limit_volts, peak_amperes, volts
from portloom.base.fuses import fuse_for, peak_of
from portloom.base.quantities import MilliAmps
from portloom.job.bundles import LOADED, Bundles
from portloom.job.demands import Demand, output_demands
from portloom.job.fixed import conductor_of, fed_drop, fed_load
from portloom.job.laid import Laid
from portloom.job.site import Site
from portloom.job.sizing import way_demands
from portloom.job.wired import WiredOutput
from portloom.job.wires import Way
from portloom.rules.clash import Clash
from portloom.rules.margins import among


def own_peak(wired: WiredOutput) -> Iterator[Clash]:
    """Say that an output does not pass its circuit's inrush, with figures that are not rounded."""
    height, peak = wired.circuit.inrush.height, 1000 * peak_of(wired.output)
    if height > peak:
        label, port = wired.circuit.label, wired.output.name
        sentence = f"{label}: {peak_amperes(height)} when switched on, {port} passes {peak_amperes(peak)}"
        yield Clash("trip", label, sentence)


def own_wire(wired: WiredOutput) -> Iterator[Clash]:
    """Say in what a circuit's wire falls short, its trip or a drop; ``wired`` has no other reel than that."""
    label, port, size = wired.circuit.label, wired.output.name, wired.drawn.size.label
    if not wired.reels:
        yield Clash("wire", label, f"{label} on {port}: a trip of {amperes(wired.trip)} is too much for its {size}")
        return
    lost = wired.drops(wired.drawn)
    for load in wired.circuit.loads:
        if load.at is not None and wired.losses.ever_on(load) and lost[load.name] > load.drop_limit:
            sentence = (
                f"{load.name} on {port} loses {volts(lost[load.name])} on its whole path "
                f"with the {size} that is laid, its limit is {limit_volts(load.drop_limit)}"
            )
            yield Clash("wire", load.name, sentence)


def fed_loads(laid: Laid) -> Iterator[Clash]:
    """Say which load fed from the battery loses too much with the wire that it has."""
    for way in laid.site.ways_of("fed load"):
        load = fed_load(laid.site, way).consumer
        fuse = fuse_for(load.current)
        lost = NOTHING if fuse is None else fed_drop(laid.site, way, conductor_of(laid.site, way), fuse)
        if laid.losses.ever_on(load) and lost > load.drop_limit:
            limit = limit_volts(load.drop_limit)
            yield Clash("wire", load.name, f"{load.name} loses {volts(lost)} on its whole path, its limit is {limit}")


def bears(wired: WiredOutput, bundles: Bundles) -> bool:
    """Tell whether a circuit's wire carries its trip among the loaded wires beside it."""
    return next(_of_output(wired, bundles), None) is None


def company(laid: Laid, planned: Laid, beside: Bundles) -> Iterator[Clash]:
    """Say which wires do not carry what they must; judged are those about which something has changed.

    ``beside`` are the loaded wires of ``planned``. If a wire has become one, at an ampere, all are judged.
    """
    changed = [(old, new) for old, new in zip(planned.outputs, laid.outputs, strict=True) if new is not old]
    same = all((before >= LOADED) == (now >= LOADED) for before, now in _currents(planned, laid, changed))
    bundles = beside if same else Bundles(laid)
    for wired in [new for _, new in changed] if same else laid.outputs:
        yield from _of_output(wired, bundles)
    points = {point for _, new in changed for point in new.circuit.points}
    for way in laid.site.ways:
        if not same or (way.kind == "return" and way.name in points):
            yield from _of_way(laid, way, bundles)


def _currents(
    planned: Laid, laid: Laid, changed: Sequence[tuple[WiredOutput, WiredOutput]]
) -> Iterator[tuple[MilliAmps, MilliAmps]]:
    """Return what flows in every wire in which more may flow, before and now."""
    for old, new in changed:
        yield from ((old.flows[leg], new.flows[leg]) for leg in old.run.legs)
    before, now = planned.site.job, laid.site.job
    for case in before.lasting:
        yield before.unit_current(case), now.unit_current(case)
        for way in planned.site.ways_of("return"):
            yield before.returned_at(way.name, case), now.returned_at(way.name, case)


def _of_output(wired: WiredOutput, bundles: Bundles) -> Iterator[Clash]:
    label, demands = wired.circuit.label, output_demands(wired.site.job, wired)
    for demand, where in _short(wired.site, wired.drawn, wired.run.legs, demands, bundles):
        trip = f"a trip of {amperes(demand.current)} is too much for its {wired.drawn.size.label}"
        yield Clash("wire", label, f"{label} on {wired.output.name}: {trip} {where}")


def _of_way(laid: Laid, way: Way, bundles: Bundles) -> Iterator[Clash]:
    told = {"feed": "the feed", "return": f"the return from {way.name}"}.get(way.kind, f"the wire to {way.name}")
    rule = "main-fuse" if way.kind == "feed" else "wire"
    demands, conductor = way_demands(laid.site, way, laid.outputs), conductor_of(laid.site, way)
    for demand, where in _short(laid.site, conductor, way.run.legs if demands else (), demands, bundles):
        why = "1.25 x what flows, or a fault" if way.kind == "return" else "its fuse"
        must = f"it must carry {amperes(demand.current)} ({why}), too much for its {conductor.size.label}"
        yield Clash(rule, way.name, f"{told}: {must} {where}")
    for wired in laid.outputs if way.kind == "return" else ():
        if way.name in wired.circuit.returned_at and not wired.withstands_at(way.name, conductor.size):
            short = f"a short circuit of {wired.circuit.label} would heat {told} above 160 C before the trip opens"
            yield Clash("wire", way.name, short)


def _short(
    site: Site, conductor: Conductor, legs: Sequence[int], demands: Iterable[Demand], bundles: Bundles
) -> Iterator[tuple[Demand, str]]:
    """Return what a wire can't carry, and where."""
    for demand in demands:
        for leg in legs:
            loaded = 1 if demand.case is None else bundles.loaded(leg, demand.case)
            if not site.job.carries(conductor, leg, max(1, loaded), demand.current):
                yield demand, f"in {site.job.network.legs[leg].label}{among(loaded)}"

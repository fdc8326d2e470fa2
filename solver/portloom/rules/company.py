"""Wires in company: what one would have to carry where others lie beside it, in words."""

from collections.abc import Iterable, Iterator

from portloom.base.ampacity import TABLE_AMBIENT, derated
from portloom.base.copper import Conductor
from portloom.base.figures import amperes, celsius, counted, listed
from portloom.base.quantities import MilliAmps
from portloom.job.cases import Case, named_for
from portloom.job.consumers import Consumer
from portloom.job.fixed_wires import FixedWire
from portloom.job.loading import Demand, loaded_fixed_wires, loaded_of
from portloom.job.site import Site
from portloom.job.sizing import Sized, Unprotected
from portloom.job.wired import WiredOutput

FEW = 6
"""So many wires that lie together are named."""


def overloaded(sized: Sized, wire: Unprotected) -> str:
    """Say what a wire would have to carry, in what company, and what the thickest that it may be carries there."""
    site = sized.laid.site
    ambient = site.job.network.legs[wire.leg].ambient
    carries = derated(wire.thickest.ampacity, site.job.insulation, ambient, wire.loaded)
    must = demanded(wire.wire, wire.demand)
    return (
        f"{_which(wire)} must carry {must} in {leg_said(site, wire.leg)}{_company(sized, wire)}; "
        f"{wire.thickest.size.label}, the thickest {_allowed(site, wire)}, carries {amperes(carries)} there"
    )


def _which(wire: Unprotected) -> str:
    if isinstance(wire.wire, WiredOutput):
        return f"the wire of {wire.wire.circuit.said} on {wire.wire.output.name}"
    return wire.wire.said


def demanded(wire: WiredOutput | FixedWire, demand: Demand) -> str:
    """Say what a wire must carry, and how it comes about."""
    drawn, fault = amperes(demand.current), demand.because
    if isinstance(wire, WiredOutput):
        return f"its trip of {drawn}"
    if wire.kind == "feed":
        return f"the main fuse of {drawn}"
    if wire.kind != "return":
        return f"its fuse of {drawn}"
    if fault is not None:
        return f"{drawn} ({fault.circuit.said} at the trip of {amperes(fault.trip)})"
    if demand.by_fuse_of is not None:
        return f"{drawn} (with the fuse of {demand.by_fuse_of})"
    return f"{drawn} (1.25 x the {amperes(MilliAmps(4 * demand.current // 5))} that flow back)"


def _allowed(site: Site, wire: Unprotected) -> str:
    return "on the reels" if wire.thickest.size == site.job.reels[-1].size else "that its terminal takes"


def _company(sized: Sized, wire: Unprotected) -> str:
    if wire.demand.case is None or wire.loaded < 2:
        return ""
    case = sized.laid.site.job.steady[wire.demand.case]
    names = [*_loaded(sized, wire.leg, case), *([_which(wire)] if wire.demand.more else ())]
    who = f" ({listed(names)})" if len(names) <= FEW else ""
    when = named_for(case, _loading(sized, wire.leg, case)).said
    return f", where {counted(wire.loaded, 'loaded wire')} run together {when}{who}"


def _loading(sized: Sized, leg: int, case: Case) -> Iterator[Consumer]:
    """Return the loads of which the current flows in the loaded wires of a leg."""
    job = sized.laid.site.job
    for wired in sized.laid.outputs:
        if loaded_of(job, wired, leg, case):
            yield from wired.circuit.members
    for wire, _ in loaded_fixed_wires(sized.laid.site, leg, case):
        if wire.kind == "feed":
            yield from job.loads.on_unit
        elif wire.kind == "return":
            yield from (load for load in job.wired_loads if load.returns_at == wire.name)
        elif wire.kind == "fed load":
            yield from (fed.consumer for fed in job.loads.fed if fed.consumer.name == wire.name)


def _loaded(sized: Sized, leg: int, case: Case) -> Iterator[str]:
    for wired in sized.laid.outputs:
        if count := loaded_of(sized.laid.site.job, wired, leg, case):
            yield _times(count, wired.circuit.said)
    for wire, count in loaded_fixed_wires(sized.laid.site, leg, case):
        yield _times(count, wire.said)


def _times(count: int, said: str) -> str:
    return f"{count} x {said}" if count > 1 else said


# --- alone


def carried_alone(site: Site, conductor: Conductor, legs: Iterable[int]) -> str:
    """Say what a wire carries by itself along legs, and in which of them where heat makes it less."""
    hot = [leg for leg in legs if (site.job.network.legs[leg].ambient or TABLE_AMBIENT) > TABLE_AMBIENT]
    if not hot:
        return amperes(conductor.ampacity)
    hottest = max(hot, key=lambda leg: site.job.network.legs[leg].ambient or TABLE_AMBIENT)
    ambient = site.job.network.legs[hottest].ambient
    carries = derated(conductor.ampacity, site.job.insulation, ambient, 1)
    return f"{amperes(carries)} in {leg_said(site, hottest)}"


def leg_said(site: Site, number: int) -> str:
    """Say a leg, and how hot it is where the file says so."""
    leg = site.job.network.legs[number]
    return leg.label if leg.ambient is None else f"{leg.label} at {celsius(leg.ambient)}"

"""Wire: a size that the trip protects, that drops no more than the load's limit, that the terminal takes.

The trip protects a wire if the wire carries it for good in every leg, as hot as the leg is and
derated by the wires loaded beside it in the same case, and if a short circuit trips before the
wire is too hot.
"""

from collections.abc import Iterator

from solver.job.fixed import fed_conductor, fed_load
from solver.job.job import Job
from solver.job.kinds import output_kinds
from solver.job.site import Site
from solver.job.sizing import Sized, Unprotected
from solver.job.wired import WiredOutput
from solver.job.wires import Way
from solver.rules.facts import At, Fact, at_port, every_load
from solver.rules.shapes import Rule, Said
from solver.words.figures import amperes, port_range, volts


def _fit(wired: WiredOutput) -> Said:
    said = _leads(wired)
    if said or wired.serving:
        return said
    return _protected(wired) or _drop(wired) or _short(wired)


def _leads(wired: WiredOutput) -> Said:
    catalogue = wired.site.job.catalogue
    for load in wired.circuit.loads:
        if load.leads is not None and catalogue[load.leads].ampacity < wired.trip:
            return (
                f"{load.name} has tails of {load.leads.label} for {amperes(catalogue[load.leads].ampacity)}, "
                f"the trip on {wired.output.name} would be {amperes(wired.trip)}"
            )
    return None


def _protected(wired: WiredOutput) -> Said:
    if wired.reels:
        return None
    terminal = wired.output.wire_max
    within = f" that its terminal takes (up to {terminal.label})" if terminal else ""
    hot = " in the heat of its legs" if wired.site.job.hot_legs(wired.run) else ""
    return f"no wire on the reels{within} carries the trip of {amperes(wired.trip)} on {wired.output.name}{hot}"


def _drop(wired: WiredOutput) -> Said:
    thickest = wired.reels[-1]
    lost = wired.drops(thickest)
    on = (load for load in wired.circuit.loads if load.at and wired.losses.ever_on(load))
    load = next((load for load in on if lost[load.name] > load.drop_limit), None)
    if load is None:
        return None
    return (
        f"{load.name} would lose {volts(lost[load.name])} on its whole path from {wired.output.name} "
        f"at {wired.site.label} even with {thickest.size.label}, its limit is {volts(load.drop_limit)}"
    )


def _short(wired: WiredOutput) -> str:
    return (
        f"a short circuit of {wired.circuit.label} on {wired.output.name} would heat its thinnest wire "
        f"above 160 C before the trip of {amperes(wired.trip)} opens"
    )


def _fed(site: Site) -> Said:
    for way in site.ways_of("fed load"):
        load = fed_load(site, way).consumer
        if fed_conductor(site, way) is None:
            return (
                f"no wire on the reels feeds {load.name}, {amperes(load.current)}, from the battery "
                f"within its fuse and a drop of {volts(load.drop_limit)}"
            )
    return None


def _bundled(sized: Sized) -> Iterator[tuple[str, str]]:
    for wire in sized.unprotected:
        if isinstance(wire.wire, WiredOutput):
            label = wire.wire.circuit.label
            yield label, f"{label} on {wire.wire.output.name}: {beside(sized, wire)}"
        elif wire.wire.kind != "feed":
            yield wire.wire.name, f"{_fixed(wire.wire)}: {beside(sized, wire)}"


def _fixed(way: Way) -> str:
    """Say which of the wires that no plan changes it is."""
    return f"the return from {way.name}" if way.kind == "return" else f"the wire that feeds {way.name}"


def beside(sized: Sized, wire: Unprotected) -> str:
    """Say what a wire would have to carry, and in what company."""
    leg = sized.laid.site.job.network.legs[wire.leg].label
    company = f"where {wire.loaded} loaded wires lie together" if wire.loaded > 1 else "even alone there"
    return (
        f"{wire.thickest.size.label} does not carry {amperes(wire.demand.current)} in {leg}, "
        f"{company}, and no thicker wire may be used"
    )


def _facts(job: Job) -> Iterator[Fact]:
    order = [output.name for output in job.unit.outputs]
    for kind in output_kinds(job.unit):
        if kind.like.wire_max is not None:
            names = [port.name for port in kind.ports]
            takes = "take wires" if len(names) > 1 else "takes a wire"
            sentence = f"{port_range(names, order)} {takes} of up to {kind.like.wire_max.label}"
            at = at_port(job, "outputs", names[0], "wire_max")
            yield Fact(("terminal", names[0]), "wire", names[0], sentence, at)
    for name, limit in {load.drop_class: load.drop_limit for load in every_load(job)}.items():
        sentence = f"loads of class '{name}' may lose {volts(limit)} on their whole path"
        yield Fact(("drop", name), "wire", name, sentence, At("bike", ("limits", "drop", name)))


RULE = Rule(
    slug="wire",
    protects="wires from burning, and loads from too little voltage",
    source="33 CFR 183.425 Table 5 and its notes; IEC 60949; drop limits common practice, no source",
    wired_fit=_fit,
    place_fit=_fed,
    whole=_bundled,
    facts=_facts,
)

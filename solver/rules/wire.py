"""Wire: a size that the trip protects, that drops no more than the load's limit, that the terminal takes."""

from solver.electrics.copper import BY_SIZE
from solver.job.fixed import fed_conductor, fed_load
from solver.job.site import Site
from solver.job.wired import WiredOutput
from solver.rules.shapes import Rule, Said
from solver.words.figures import amperes, volts


def _fit(wired: WiredOutput) -> Said:
    return _leads(wired) or _protected(wired) or _drop(wired)


def _leads(wired: WiredOutput) -> Said:
    for load in wired.circuit.loads:
        if load.leads is not None and BY_SIZE[load.leads].ampacity < wired.trip:
            return (
                f"{load.name} has tails of {load.leads.label} for {amperes(BY_SIZE[load.leads].ampacity)}, "
                f"the trip on {wired.output.name} would be {amperes(wired.trip)}"
            )
    return None


def _protected(wired: WiredOutput) -> Said:
    if wired.reels:
        return None
    terminal = wired.output.wire_max
    within = f" that its terminal takes (up to {terminal.label})" if terminal else ""
    return f"no wire on the reels{within} carries the trip of {amperes(wired.trip)} on {wired.output.name}"


def _drop(wired: WiredOutput) -> Said:
    if wired.conductor is not None:
        return None
    thickest = wired.reels[-1]
    lost = wired.drops(thickest)
    load = next(load for load in wired.circuit.loads if load.at and lost[load.name] > load.drop_limit)
    return (
        f"{load.name} would lose {volts(lost[load.name])} on its whole path from {wired.output.name} "
        f"at {wired.site.label} even with {thickest.size.label}, its limit is {volts(load.drop_limit)}"
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


RULE = Rule(
    slug="wire",
    protects="wires from burning, and loads from too little voltage",
    source="33 CFR 183.425 Table 5; drop limits common practice, no source",
    wired_fit=_fit,
    place_fit=_fed,
)

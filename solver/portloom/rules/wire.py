"""Wire: a size that the trip protects, that drops no more than the load's limit, that the terminal takes.

The trip protects a wire if the wire carries it for good in every leg, as hot as the leg is and
derated by the wires loaded beside it in the same case, and if a short circuit trips before the
wire is too hot.
"""

from collections.abc import Iterable, Iterator, Sequence

from portloom.base.drop import NOTHING, MicroVolts, resistance_drop
from portloom.base.figures import (
    amperes,
    limit_volts,
    listed,
    lost_volts,
    port_range,
    pronoun_for,
    verb_for,
    volts,
    volts_added_up,
    with_verb,
)
from portloom.base.fuses import fuse_for
from portloom.base.quantities import MicroOhms
from portloom.base.unit import Output
from portloom.job.circuits import OutputCircuit
from portloom.job.consumers import Consumer
from portloom.job.drops import Drops, Lost
from portloom.job.fixed import conductor_of, fed_conductor, fed_drop, fed_load
from portloom.job.fixed_wires import FixedWire
from portloom.job.job import Job
from portloom.job.kinds import output_kinds
from portloom.job.laid import Laid
from portloom.job.loading import Bundles
from portloom.job.site import Site
from portloom.job.sizing import Sized
from portloom.job.wired import OutputWire, WiredOutput, wire_not_laid
from portloom.rules import signal
from portloom.rules.ampacity_margins import margins_of_ampacity
from portloom.rules.as_posted import AsPosted, in_company, wire_alone_said, wire_said
from portloom.rules.clash import Clash, broken_by
from portloom.rules.company import carried_alone, overloaded
from portloom.rules.cures import Cures, earth_points, more_returns, thicker_reels, thicker_terminals
from portloom.rules.facts import At, Fact, at_port, every_load
from portloom.rules.growth import GrowthRoom, OfGrowth, Saying, fixed_wire_said, fixed_wire_short, output_short
from portloom.rules.margins import LimitMargin, volts_spare
from portloom.rules.posted import FirstLook, OfPosts, PostedOutput, PostedPlan, PostFinding
from portloom.rules.shapes import Rule, Said
from portloom.rules.shared_losses import SharedLosses, losses_of_fed, losses_of_outputs


def _fit(wired: WiredOutput) -> Said:
    said = _leads(wired.site.job, wired.wire)
    if said or wired.serving:
        return said
    return _protected(wired) or _drop(wired) or _short(wired)


def _unlaid(job: Job, circuit: OutputCircuit, output: Output) -> Said:
    """In a hot leg a wire carries less: what no reel carries in a cool one none carries anywhere."""
    wire = wire_not_laid(job, circuit, output)
    return _leads(job, wire) or (None if wire.any_reel else f"no wire that {output.name} takes carries its trip")


def _leads(job: Job, wire: OutputWire) -> Said:
    for load in wire.tree.circuit.loads:
        if load.leads is not None and job.catalogue[load.leads].ampacity < wire.trip:
            return (
                f"{with_verb(load.name, 'has')} tails of {load.leads.label} that carry "
                f"{amperes(job.catalogue[load.leads].ampacity)}, {wire.output.name} would trip at {amperes(wire.trip)}"
            )
    return None


def _protected(wired: WiredOutput) -> Said:
    if wired.reels:
        return None
    terminal, reels = wired.output.wire_max, wired.site.job.reels
    thickest = next((reel for reel in reversed(reels) if terminal is None or reel.size.area <= terminal.area), None)
    needs = f"{with_verb(wired.circuit.said, 'needs')} a trip of {amperes(wired.trip)}"
    if thickest is None:
        return f"{needs}, no wire on the reels is thin enough for {wired.output.name}"
    carries = carried_alone(wired.site, thickest, wired.run.legs)
    return f"{needs}, the thickest wire {_takes(wired)}, {thickest.size.label}, carries {carries}"


def _takes(wired: WiredOutput) -> str:
    """Say what keeps an output's wire from being thicker: its terminal, or the reels."""
    terminal, reels = wired.output.wire_max, wired.site.job.reels
    if terminal is not None and terminal.area < reels[-1].size.area:
        return f"that {with_verb(wired.output.name, 'takes')}"
    return "on the reels"


def _drop(wired: WiredOutput) -> Said:
    thickest = wired.reels[-1]
    lost = wired.drops(thickest)
    on = (load for load in wired.circuit.loads if load.at and wired.losses.ever_on(load))
    load = next((load for load in on if lost[load.name] > load.drop_limit), None)
    if load is None:
        return None
    return (
        f"{load.name} would lose {_lost(wired, load)} with {thickest.size.label}, the thickest wire {_takes(wired)}, "
        f"{pronoun_for(load.name)} may lose {limit_volts(load.drop_limit)}"
    )


def _lost(wired: WiredOutput, load: Consumer) -> str:
    """Say where a load loses how much, with the thickest wire that its output takes."""
    feed, plug, behind = wired.losses.parts_before_run(load)
    port = MicroOhms(wired.output.resistance + wired.site.job.assume["unit plug"])
    inside = resistance_drop(port, wired.circuit.current)
    run = wired.drop(load, wired.reels[-1]) - inside
    shares = (
        ("feed and main fuse", feed),
        (f"{wired.output.name} and its plug", inside),
        ("its wire", run),
        ("its own plug and switch" if load.own_switch else "its own plug", plug),
        ("return and earth", behind),
    )
    return volts_added_up([(where, loss) for where, loss in shares if loss])


def _short(wired: WiredOutput) -> str:
    tails, thickest = wired.circuit.tails, wired.reels[-1].size
    thinnest = thickest if tails is None else min(tails, thickest)
    return (
        f"a short circuit of {wired.circuit.said} on {wired.output.name} would heat {thinnest.label} "
        f"above 160 C before the trip of {amperes(wired.trip)} opens"
    )


def _fed(site: Site) -> Said:
    for wire in site.fixed_of("fed load"):
        if fed_conductor(site, wire) is None:
            return _not_fed(site, wire)
    return None


def _not_fed(site: Site, wire: FixedWire) -> str:
    load, thickest = fed_load(site, wire).consumer, site.job.reels[-1]
    needs = f"{with_verb(load.name, 'draws')} {amperes(load.current)} from the battery"
    fuse = fuse_for(load.current)
    if fuse is None:
        return f"{needs}, no fuse is large enough"
    if thickest.ampacity < fuse:
        carries = amperes(thickest.ampacity)
        thick = f"the thickest wire on the reels, {thickest.size.label}, carries {carries}"
        return f"{needs} and {verb_for(load.name, 'needs')} a fuse of {amperes(fuse)}, {thick}"
    lost = lost_volts(fed_drop(site, wire, thickest, fuse))
    thick = f"with {thickest.size.label}, the thickest wire on the reels"
    return f"{needs} and would lose {lost} {thick}, {pronoun_for(load.name)} may lose {limit_volts(load.drop_limit)}"


def _bundled(sized: Sized) -> Iterator[tuple[str, str]]:
    """A posted wire keeps the size that it has; these are told first."""
    for wire in sized.unprotected:
        if isinstance(wire.wire, AsPosted) and wire.wire.posted_size is not None:
            yield wire.wire.circuit.label, in_company(sized.laid.site, wire.wire, wire)
    for wire in sized.unprotected:
        if isinstance(wire.wire, AsPosted) and wire.wire.posted_size is not None:
            continue
        if isinstance(wire.wire, WiredOutput):
            yield wire.wire.circuit.label, overloaded(sized, wire)
        elif wire.wire.kind != "feed":
            yield wire.wire.name, overloaded(sized, wire)


def _margins(laid: Laid) -> Iterator[LimitMargin]:
    """Return what each wire carries of what it can, and what each load loses of what it may."""
    yield from margins_of_ampacity(RULE.slug, laid)
    yield from _of_drops(laid)


def _of_drops(laid: Laid) -> Iterator[LimitMargin]:
    """Return what each load loses against its limit; loads of a circuit that lose the same of the same, together.

    Counted with the wires that are cut.
    """
    drops = Drops(laid)
    for wired in laid.outputs:
        for (lost, limit), names in _alike(drops, wired).items():
            may_be = any(reel.size > wired.drawn.size for reel in wired.serving)
            yield _of_drop(listed(names), f"{listed(names)} on {wired.output.name}", lost, limit, thicker=may_be)
    for wire in laid.site.fixed_of("fed load"):
        load, worst = fed_load(laid.site, wire).consumer, drops.worst_fed(wire)
        if worst is not None:
            may_be = laid.site.job.reels[-1].size > conductor_of(laid.site, wire).size
            yield _of_drop(load.name, f"{load.name}, fed from the battery", worst, load.drop_limit, thicker=may_be)


def _alike(drops: Drops, wired: WiredOutput) -> dict[tuple[Lost, MicroVolts], tuple[str, ...]]:
    names: dict[tuple[Lost, MicroVolts], tuple[str, ...]] = {}
    for load in wired.circuit.loads:
        worst = drops.worst_on_output(wired, load)
        if load.at is not None and worst is not None:
            key = (worst, load.drop_limit)
            names[key] = (*names.get(key, ()), load.name)
    return names


def _of_drop(subject: str, told: str, worst: Lost, limit: MicroVolts, *, thicker: bool) -> LimitMargin:
    left = MicroVolts(limit - worst.drop)
    allowed = "; it may be thicker" if thicker else ""
    sentence = (
        f"{told}: {volts(worst.drop)} of {limit_volts(limit)} lost over the whole path {worst.case.said}, "
        f"{volts_spare(left)}{allowed}"
    )
    return LimitMargin(RULE.slug, subject, worst.drop, limit, left, worst.drop / limit, sentence, thicker)


# --- of a load that draws more


def _own_wire(wired: WiredOutput) -> Iterator[Saying]:
    """Say in what a circuit's wire falls short, its trip or a drop."""
    label, port, size = wired.circuit.label, wired.output.name, wired.drawn.size.label
    if not wired.reels:
        yield label, f"{label} on {port}: a trip of {amperes(wired.trip)} is too much for its {size}"
        return
    lost = wired.drops(wired.drawn)
    for load in wired.circuit.loads:
        if load.at is not None and wired.losses.ever_on(load) and lost[load.name] > load.drop_limit:
            sentence = (
                f"{load.name} on {port} loses {volts(lost[load.name])} over its whole path "
                f"with the {size} in the plan, its limit is {limit_volts(load.drop_limit)}"
            )
            yield load.name, sentence


def _past_the_unit(laid: Laid) -> Iterator[Saying]:
    """Say which load fed from the battery loses too much with the wire that it has."""
    for wire in laid.site.fixed_of("fed load"):
        load = fed_load(laid.site, wire).consumer
        fuse = fuse_for(load.current)
        lost = NOTHING if fuse is None else fed_drop(laid.site, wire, conductor_of(laid.site, wire), fuse, laid.losses)
        if laid.losses.ever_on(load) and lost > load.drop_limit:
            limit = limit_volts(load.drop_limit)
            yield load.name, f"{load.name} loses {volts(lost)} over its whole path, its limit is {limit}"


def _beside(laid: Laid, wire: WiredOutput | FixedWire, bundles: Bundles) -> Iterator[Saying]:
    if isinstance(wire, WiredOutput):
        yield from output_short(wire, bundles)
    elif wire.kind != "feed":
        yield from fixed_wire_short(laid, wire, bundles)
        yield from _too_hot(laid, wire) if wire.kind == "return" else ()


def _too_hot(laid: Laid, wire: FixedWire) -> Iterator[Saying]:
    size = conductor_of(laid.site, wire).size
    for wired in laid.outputs:
        if wire.back in wired.circuit.returns and not wired.return_withstands(wire.back, size):
            heats = f"would heat {fixed_wire_said(wire)} above 160 C before the trip opens"
            yield wire.name, f"a short circuit of {wired.circuit.label} {heats}"


def _headroom(laid: Laid) -> GrowthRoom:
    return SharedLosses(laid, (*losses_of_outputs(laid), *losses_of_fed(laid))).rooms


# --- of a plan that somebody posted


def _posted(posted: PostedOutput) -> Iterable[str]:
    if posted.wired is None:
        return wire_alone_said(posted.output, posted.trip, posted.size)
    said = wire_said(posted.wired)
    return () if said is None else (said,)


def of_returns(plan: PostedPlan, clashes: Sequence[Clash]) -> list[Clash]:
    """Return what is wrong with joint returns: their wires, and how far they lift the earth of switches."""
    said = tuple(wire.said for wire in plan.site.fixed_of("return")) if plan.site else ()
    wrong = broken_by(clashes, RULE.slug, signal.RULE.slug)
    return [clash for clash in wrong if said and clash.sentence.startswith(said)]


def _look(plan: PostedPlan, clashes: Sequence[Clash]) -> PostFinding:
    what = "earths"
    if plan.site is None:
        return PostFinding(what, "not judged", "can't tell from the post alone")
    if wrong := of_returns(plan, clashes):
        return PostFinding(what, "wrong", wrong[0].sentence)
    returns = plan.site.fixed_of("return")
    ends = [point for point in plan.job.bike.frame.earth if any(wire.ends[-1] == point for wire in returns)]
    if not ends:
        return PostFinding(what, "look again", "no load has a wired return: check how each gets its current back")
    there = f"in the bike's file every wired return ends at {' or '.join(ends)}"
    return PostFinding(what, "not judged", f"the post does not say where returns end; {there}")


def _facts(job: Job) -> Iterator[Fact]:
    order = [output.name for output in job.unit.outputs]
    for kind in output_kinds(job.unit):
        if kind.like.wire_max is not None:
            names = [port.name for port in kind.ports]
            ports, size = port_range(names, order), f"wire of up to {kind.like.wire_max.label}"
            at = at_port(job, "outputs", names[0], "wire_max")
            sentence = f"{with_verb(ports, 'takes')} {size}"
            yield Fact(("terminal", names[0]), "wire", ports, sentence, at, f"take {size}")
    for name, limit in {load.drop_class: load.drop_limit for load in every_load(job)}.items():
        sentence = f"loads of class '{name}' may lose {limit_volts(limit)} from the battery and back"
        at = At("bike", ("limits", "drop", name))
        yield Fact(("drop", name), "wire", name, sentence, at)


def _cures(job: Job) -> Iterator[Cures]:
    yield from thicker_terminals(job)
    yield thicker_reels(job)
    yield more_returns(job)
    yield from earth_points(job)


RULE = Rule(
    slug="wire",
    protects="wires from burning, and loads from too little voltage",
    about="fire",
    source="33 CFR 183.425 Table 5, notes; below 18 AWG from memory; IEC 60949; drop limits common practice, no source",
    right="a thicker wire or terminal, a shorter way, a place nearer by, or less current, such as an LED lamp; "
    "'reels' says which wire the shop has",
    unlaid_fit=_unlaid,
    wired_fit=_fit,
    place_fit=_fed,
    whole=_bundled,
    margins=_margins,
    growth=OfGrowth(headroom=_headroom, wire=_own_wire, shared=_past_the_unit, beside=_beside),
    posts=OfPosts(
        first=5, output=_posted, output_only=True, look=FirstLook(6, _look), wants=("trips", "sizes", "inputs")
    ),
    facts=_facts,
    cures=_cures,
)

"""Every load on exactly one output or its own feed, every switch on one input or a multiplexer's way."""

from collections import Counter
from collections.abc import Iterable, Iterator, Sequence

from portloom.base.bike import Switch
from portloom.base.figures import listed, with_article, with_verb
from portloom.base.parts.others import why_kept_off
from portloom.base.vocabulary import Concern
from portloom.job.job import Job
from portloom.job.laid import WiredInput, WiredSwitch
from portloom.job.site import Site
from portloom.job.wired import WiredOutput
from portloom.rules.clash import Clash
from portloom.rules.facts import Fact, at_load, at_switch, every_load
from portloom.rules.faults import no_way
from portloom.rules.posted import FirstLook, OfPosts, PostedPlan, PostFinding
from portloom.rules.shapes import Addend, Budget, BudgetRow, Key, Rule, Said

ON_THE_BIKE = "on the bike"
KEPT_OFF: Concern = "fire"
"""What it is about that something is on an output which no output may feed."""


def _budgets(site: Site) -> list[Budget]:
    job = site.job
    rows: dict[Key, BudgetRow] = {}
    for load in job.loads.on_unit:
        key = job.alike[load.name]
        count = rows[key].at_most + 1 if key in rows else 1
        subject = rows[key].subject if key in rows else load.name
        rows[key] = BudgetRow(subject, at_most=count, at_least=count, fact=("load", subject))
    for switch in job.inputs:
        fact = ("switch", switch.name)
        rows["input", switch.name] = BudgetRow(switch.name, at_most=len(site.units), at_least=1, fact=fact)
        for unit in site.units if len(site.units) > 1 else ():
            rows["input", switch.name, unit.seat] = BudgetRow(f"{switch.name}, at {unit.seat}", at_most=1, fact=fact)
    return [Budget(rows, _sentence, lambda wired: _loads(job, wired), _switches, _switches)]


def _loads(job: Job, wired: WiredOutput) -> Iterable[Addend]:
    return Counter(job.alike[load.name] for load in wired.circuit.members if load.name in job.alike).items()


def _switches(wired: WiredInput | WiredSwitch) -> Iterable[Addend]:
    return [(key, 1) for switch in wired.circuit.switches for key in _switch_keys(wired.site, switch)]


def _switch_keys(unit: Site, switch: Switch) -> Iterable[Key]:
    """A switch is on one port; with several units on one of each that wants it."""
    return ("input", switch.name), ("input", switch.name, unit.seat)


def _sentence(row: BudgetRow, found: int) -> str:
    if found < row.at_least:
        return f"{row.subject} is on no port"
    return f"{row.subject} is on more than one port"


def _every_fed_load_has_a_way(site: Site) -> Said:
    reached = {wire.name for wire in site.fixed_of("fed load")}
    cut_off = [fed.consumer.name for fed in site.job.loads.fed if fed.consumer.name not in reached]
    if not cut_off:
        return None
    load = next(fed.consumer for fed in site.job.loads.fed if fed.consumer.name == cut_off[0])
    return no_way("the battery", load.name, load.avoid, site.job)


# --- of a plan that somebody posted


def _left_out(plan: PostedPlan) -> Iterator[Clash]:
    """Return what is on no port and must be, and what is on one that needs none."""
    outputs, inputs = plan.job.unit.outputs, plan.job.unit.inputs
    ports = {output.name for output in outputs} | {source.name for source in inputs}
    for port, what in plan.kept_off:
        there = f"is on {port}" if port in ports else "is in the plan of the unit"
        sentence = f"{with_article(what)} {there}: {why_kept_off(what)}"
        yield Clash(RULE.slug, f"kept off, {what}", sentence, about=KEPT_OFF, first=0)
    if plan.site is not None:
        for subject, sentence in _all_left_out(plan):
            yield Clash(RULE.slug, subject, sentence)


def _all_left_out(plan: PostedPlan) -> Iterator[tuple[str, str]]:
    yield from _on_no_output(plan)
    yield from _past_the_unit(plan)
    yield from _guests(plan)
    yield from _not_for_the_unit(plan)


def _on_no_output(plan: PostedPlan) -> Iterator[tuple[str, str]]:
    """Tell what is missing, unless some line is not clear: it may be there."""
    if not plan.doubts:
        yield from ((name, with_verb(name, "is on no output")) for name in plan.missing)


def _past_the_unit(plan: PostedPlan) -> Iterator[tuple[str, str]]:
    for name in plan.past:
        past = with_verb(name, "bypasses the unit in the bike's file")
        yield name, f"{past}, here on {plan.ports[name]}"


def _guests(plan: PostedPlan) -> Iterator[tuple[str, str]]:
    guests = {guest.name for guest in plan.job.loads.guests}
    for port, held in plan.outputs.items():
        driven = {load.name for load in plan.circuit(held).loads}
        for name in held:
            if name in guests and name not in driven:
                fed = with_verb(name, "is fed from other loads")
                yield name, f"{fed}, none of them is on {port}"


def _not_for_the_unit(plan: PostedPlan) -> Iterator[tuple[str, str]]:
    """What neither tells nor operates anything is a dash's, or nobody's."""
    read = {switch.name: [point.dash for point in switch.shown_by] for switch in plan.job.dash_inputs}
    for switch in plan.job.bike.inputs:
        for port in (port for port, held in plan.inputs.items() if switch.name in held and not switch.to_unit):
            dashes = read.get(switch.name)
            what = f"only {listed(dashes)} reads it" if dashes else "it neither tells nor operates anything"
            yield switch.name, f"{with_verb(switch.name, 'is')} on {port}, and {what} in the bike's file"


def _look(plan: PostedPlan, clashes: Sequence[Clash]) -> PostFinding:
    what = "no starter motor, regulator or ABS on the unit"
    if wrong := [clash for clash in clashes if clash.about == KEPT_OFF]:
        return PostFinding(what, "wrong", wrong[0].sentence)
    charging = plan.job.bike.supply.charging
    if charging is not None and charging.joins == "unit":
        again = "the regulator's lead goes to the unit: connect it to the battery side, through a fuse of its own"
        return PostFinding(what, "look again", again)
    if open_ := plan.unclear() or _unknown(plan):
        return PostFinding(what, "not judged", open_)
    at = "the regulator's lead joins the battery in the bike's file, and every load posted on an output is the bike's"
    return PostFinding(what, "right", at)


def _unknown(plan: PostedPlan) -> str:
    """Say why nobody can tell whether one of them is on the unit."""
    if plan.site is None:
        return "the post does not say where the starter's cable, the regulator's lead and the rest of the bike go"
    if plan.job.bike.supply.charging is None:
        return "neither the post nor the bike's file says where the regulator's lead goes"
    return f"{listed(plan.missing)}: on no output, so not all that the bike has is posted" if plan.missing else ""


def _facts(job: Job) -> Iterator[Fact]:
    for load in every_load(job):
        at = at_load(job, load.name)
        yield Fact(("load", load.name), "cover", load.name, with_verb(load.name, "is on the bike"), at, ON_THE_BIKE)
    for switch in job.wired_inputs:
        at = at_switch(job, switch.name)
        yield Fact(
            ("switch", switch.name), "cover", switch.name, with_verb(switch.name, "is on the bike"), at, ON_THE_BIKE
        )


RULE = Rule(
    slug="cover",
    protects="loads and switches from being left out, or wired twice",
    source="the job itself",
    right="each load on one output and each switch on one input, no more and no less, and a way along the legs to each",
    place_fit=_every_fed_load_has_a_way,
    budgets=_budgets,
    of_whole_bike=True,
    facts=_facts,
    posts=OfPosts(
        needs="whether a load of the bike is missing from the post",
        plan=_left_out,
        look=FirstLook(5, _look),
        wants=("inputs",),
    ),
)

"""Judge a post without a bike's file: its loads and ports against the unit, and what can't be judged that way."""

from collections.abc import Iterator

from portloom.base.figures import listed, with_verb
from portloom.base.unit import Unit
from portloom.job.job import Job
from portloom.review.concerns import first_looks, ordered, posted_plan
from portloom.review.laid_post import laid_of_post
from portloom.review.posted import PostVerdict
from portloom.review.told_once import company_clashes
from portloom.review.unjudged import names_none
from portloom.review.without_bike import RUNNING, PostWithoutBike
from portloom.rules.book import RULES, broken_rows, output_clashes
from portloom.rules.clash import Clash
from portloom.rules.posted import PostedOutput, PostedPlan
from portloom.rules.sites import sites_of


def judge_alone(unit: Unit, alone: PostWithoutBike) -> tuple[PostVerdict, Job]:
    """Judge what a post says by itself, and give the job by which that was done.

    The loads count as being on together only where that proves them harmless.
    """
    job = Job(alone.bike(), unit)
    plan = posted_plan(job, None, alone.posted)
    clashes = ordered(job, RULES, tuple(dict.fromkeys(_clashes(plan))))
    verdict = PostVerdict(
        clashes,
        (),  # nobody knows what the bike has besides, so no rule can be called kept
        (),
        (),
        tuple(_not_judged(job, alone)),
        first_looks(plan, clashes),
    )
    return verdict, job


def _clashes(plan: PostedPlan) -> Iterator[Clash]:
    for rule in RULES:
        yield from rule.posts.plan(plan) if rule.posts.plan else ()
        for subject, said in rule.posts.unfused(plan) if rule.posts.unfused and plan.no_fuse else ():
            yield Clash(rule.slug, subject, said)
    for output in plan.job.unit.outputs:
        held = plan.outputs.get(output.name, ())
        if held:
            trip, size = plan.trips.get(output.name), plan.sizes.get(output.name)
            yield from _on_output(plan.job, PostedOutput(plan.circuit(held), output, trip, size, None))
    for rule in RULES:
        if rule.posts.fuse and plan.main_fuse is not None:
            for subject, said in rule.posts.fuse(plan, None, plan.main_fuse):
                yield Clash(rule.slug, subject, said)


def _on_output(job: Job, posted: PostedOutput) -> Iterator[Clash]:
    """Return what is wrong with loads on an output, its trip and its wire."""
    circuit = posted.circuit
    yield from company_clashes(RULES, job, circuit, posted.output.name)
    yield from output_clashes([rule for rule in RULES if not rule.posts.needs], job, circuit, posted.output)
    for rule in RULES:
        for said in rule.posts.output(posted) if rule.posts.output else ():
            yield Clash(rule.slug, circuit.label, said)
        for said in rule.posts.alone(job, posted) if rule.posts.alone else ():
            yield Clash(rule.slug, circuit.label, said)


# --- what is on together


def _together(job: Job, alone: PostWithoutBike) -> dict[str, str | None]:
    """Return for each rule that adds up currents what it says with everything on, None where even that is right.

    A rule that is kept then is kept in every case. What a load draws of which the post says nothing counts as none.
    """
    laid, _ = laid_of_post(sites_of(job)[0], alone.posted)
    said: dict[str, str | None] = {}
    for rule in RULES:
        budgets = list(rule.budgets(laid.site)) if rule.budgets else []
        if any(row.case is not None for budget in budgets for row in budget.rows.values()):
            broken = (b.budget.sentence(b.row, b.found) for b in broken_rows([rule], laid) if b.row.case is not None)
            said[rule.slug] = next(broken, None)
    return said


def _unknown(alone: PostWithoutBike) -> list[str]:
    held = {name for names in alone.posted.outputs.values() for name in names}
    return [name for name, load in alone.loads.items() if name in held and not load.known]


def _strange(alone: PostWithoutBike) -> list[str]:
    """Return the loads of which nobody can tell what they are."""
    held = {name for names in alone.posted.outputs.values() for name in names}
    return [name for name, load in alone.loads.items() if name in held and load.part is None]


def _not_judged(job: Job, alone: PostWithoutBike) -> Iterator[str]:
    """Say what nobody can judge of a post by itself, and what was taken for what."""
    unknown = _unknown(alone)
    yield "which loads and switches the bike has besides: so no rule can be called kept"
    strange = _strange(alone)
    if strange:
        yield f"what {with_verb(listed(strange), 'is')}: no part is told, so rules that go by parts can't judge it"
    if alone.posted.settings.main_fuse is None and not alone.posted.no_fuse:
        yield f"main fuse: {names_none(alone.posted)}"
    if unknown:
        yield f"what {with_verb(listed(unknown), 'draws')}: the post gives no current, power or lamp"
    for name, load in alone.loads.items():
        if load.nominal is not None:
            more = with_verb(name, "draws")
            yield f"{more} more than the nominal power of UN R37 that is posted: post the lamp, such as {load.nominal}"
    for slug, broken in _together(job, alone).items():
        if broken is not None:
            yield f"rule {slug}: the post does not say what is on together; with everything on, {broken}"
        elif unknown:
            yield f"rule {slug}: what {listed(unknown)} would add to what is on"
    yield from _not_set(alone)
    yield "heat and voltage drop of wires in a loom: the post does not say where anything sits"
    yield from (f"rule {rule.slug}: {rule.posts.needs}" for rule in RULES if rule.posts.needs)


def _not_set(alone: PostWithoutBike) -> Iterator[str]:
    """Say of which outputs the post tells no trip, and of which no wire."""
    settings, used = alone.posted.settings, [port for port, held in alone.posted.outputs.items() if held]
    for what, ports in (("trips", set(settings.trips)), ("wire sizes", set(settings.sizes))):
        lacking = [port for port in used if port not in ports]
        if lacking:
            of = f" of {listed(lacking)}" if ports else ""
            yield f"{what}{of}: {names_none(alone.posted)}"


def taken_as(alone: PostWithoutBike) -> Iterator[str]:
    """Say how loads were taken: as which part, lamp or kind."""
    for name, load in alone.loads.items():
        part = f"{name} as a load with part '{load.part}'" if load.part else ""
        lamp = f"its lamp as {load.lamp}" if load.lamp else f"its kind as {load.kind}"
        if load.part or load.known:
            yield f"{part}, {lamp}" if part else f"{name}: {lamp}"
    yield from (load.multiplied for load in alone.loads.values() if load.multiplied)
    if any(load.power is not None and load.current is None for load in alone.loads.values()):
        yield f"watts at {RUNNING}, as the bike charges (common practice, no source)"

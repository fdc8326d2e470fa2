"""Judge a post without a bike's file: its loads and ports against the unit, and what can't be judged that way."""

from collections.abc import Iterator, Sequence

from solver.checking.as_posted import set_wrong, terminal_said, unlisted
from solver.checking.concerns import ordered
from solver.checking.coverage import kept_off
from solver.checking.laid_post import circuit_of, laid_of_post
from solver.checking.looks import first_looks_alone
from solver.checking.posted import PostVerdict
from solver.checking.posted_fuse import too_large_for_unit
from solver.electrics.copper import BY_SIZE
from solver.job.circuits import OutputCircuit
from solver.job.job import Job
from solver.posts.alone import RUNNING, Alone
from solver.rules.book import RULES, broken_rows, output_clashes, pair_clashes
from solver.rules.main_fuse import largest_for_unit
from solver.rules.shapes import Clash, Rule
from solver.rules.sites import sites_of
from solver.words.agreement import does
from solver.words.figures import amperes, listed
from solver.words.quantities import MilliAmps
from solver.words.unit import Output, Unit

NEEDS: dict[str, str] = {
    "opening": "how long the legs are and what passes their openings",
    "cranking": "what must work while the starter pulls",
    "key-off": "what stays on with the key off",
    "mode": "how each load is to be driven, but for indicators, which flash",
    "engine-stop": "which input tells the unit of the engine stop",
    "run": "which inputs tell it of side stand and neutral",
    "start": "which inputs let it crank",
    "engine-run": "whether an input tells it that the engine turns",
    "follow": "which switch operates what",
    "signal": "what each switch gives",
    "inputs": "which switches there are",
    "cover": "whether a load of the bike is missing from the post",
}
"""Rules that a post by itself says nothing of, and what of the bike they would need."""


def judge_alone(unit: Unit, alone: Alone) -> tuple[PostVerdict, Job]:
    """Judge what a post says by itself, and give the job by which that was done.

    The loads count as being on together only where that proves them harmless.
    """
    job = Job(alone.bike(), unit)
    clashes = ordered(job, RULES, tuple(dict.fromkeys(_clashes(job, alone))))
    broken = {clash.rule for clash in clashes}
    judged = [rule for rule in RULES if rule.pair or rule.output_fit]
    kept = [rule.slug for rule in judged if rule.slug not in NEEDS and rule.slug not in broken]
    verdict = PostVerdict(
        clashes,
        (*kept, *_sums_kept(job, alone)),
        (),
        (),
        tuple(_not_judged(job, alone)),
        first_looks_alone(job, alone.posted, clashes),
    )
    return verdict, job


def _clashes(job: Job, alone: Alone) -> Iterator[Clash]:
    posted = alone.posted
    yield from kept_off(posted)
    for output in job.unit.outputs:
        held = posted.outputs.get(output.name, ())
        if held:
            yield from _on_output(job, circuit_of(job, held), output, alone)
    yield from _main_fuse(job, alone)


def _on_output(job: Job, circuit: OutputCircuit, output: Output, alone: Alone) -> Iterator[Clash]:
    """Return what is wrong with loads on an output, its trip and its wire."""
    yield from pair_clashes(RULES, circuit)
    yield from output_clashes([rule for rule in RULES if rule.slug not in NEEDS], job, circuit, output)
    trip = alone.posted.settings.trips.get(output.name)
    if trip is not None:
        for said in set_wrong(circuit, output, trip):
            yield Clash("trip", circuit.label, said)
    yield from (Clash("wire", circuit.label, said) for said in _wire(output, trip, alone))


def _wire(output: Output, trip: MilliAmps | None, alone: Alone) -> Iterator[str]:
    """Say what is wrong with a posted wire alone, in no heat and no company: the most that it can carry."""
    size = alone.posted.settings.sizes.get(output.name)
    if size is None:
        return
    too_thick = terminal_said(output, size)
    if too_thick is not None:
        yield too_thick
    carried = BY_SIZE[size].ampacity
    if trip is not None and carried < trip and unlisted(output, trip) is None:
        yield (
            f"{output.name} is set to trip at {amperes(trip)}, and its wire of {size.label} carries "
            f"{amperes(carried)} even where it lies alone and cool"
        )


def _main_fuse(job: Job, alone: Alone) -> Iterator[Clash]:
    fuse, settings = alone.posted.settings.main_fuse, alone.posted.settings
    if fuse is None:
        return
    said = f"the posted main fuse of {amperes(fuse)}"
    if fuse > largest_for_unit(job):
        yield Clash("main-fuse", "main fuse", too_large_for_unit(job, fuse))
    for port, trip in settings.trips.items():
        if trip >= fuse:
            yield Clash("main-fuse", port, f"the trip of {amperes(trip)} on {port} is not below {said}")


# --- what is on together


def _together(job: Job, alone: Alone) -> dict[str, str | None]:
    """Return for each rule that adds up currents what it says with everything on, None where even that is right.

    A rule that is kept then is kept in every case. What a load draws of which the post says nothing counts as none.
    """
    laid, _ = laid_of_post(sites_of(job, RULES)[0], alone.posted)
    said: dict[str, str | None] = {}
    for rule in RULES:
        budgets = list(rule.budgets(laid.site)) if rule.budgets else []
        if any(row.case is not None for budget in budgets for row in budget.rows.values()):
            broken = (b.budget.sentence(b.row, b.found) for b in broken_rows([rule], laid) if b.row.case is not None)
            said[rule.slug] = next(broken, None)
    return said


def _sums_kept(job: Job, alone: Alone) -> Iterator[str]:
    if not _unknown(alone):
        yield from (slug for slug, broken in _together(job, alone).items() if broken is None)


def _unknown(alone: Alone) -> list[str]:
    held = {name for names in alone.posted.outputs.values() for name in names}
    return [name for name, load in alone.loads.items() if name in held and not load.known]


def _not_judged(job: Job, alone: Alone) -> Iterator[str]:
    """Say what nobody can judge of a post by itself, and what was taken for what."""
    unknown = _unknown(alone)
    if unknown:
        yield f"what {does(listed(unknown), 'draws')}: the post gives no current, power or lamp"
    for name, load in alone.loads.items():
        if load.nominal is not None:
            more = does(name, "draws")
            yield f"{more} more than the nominal power of UN R37 that is posted: post the lamp, such as {load.nominal}"
    for slug, broken in _together(job, alone).items():
        if broken is not None:
            yield f"rule {slug}: the post does not say what is on together; with all of it on, {broken}"
        elif unknown:
            yield f"rule {slug}: what {listed(unknown)} would add to what is on"
    yield from _not_set(alone)
    yield "wires among others, their heat and their drop: the post does not say where anything sits"
    yield from (f"rule {rule.slug}: {NEEDS[rule.slug]}" for rule in _unjudged())


def _not_set(alone: Alone) -> Iterator[str]:
    """Say of which outputs the post tells no trip, and of which no wire."""
    settings, used = alone.posted.settings, [port for port, held in alone.posted.outputs.items() if held]
    for what, ports in (("trips", set(settings.trips)), ("wire sizes", set(settings.sizes))):
        lacking = [port for port in used if port not in ports]
        if lacking:
            of = f" of {listed(lacking)}" if ports else ""
            yield f"{what}{of}: the post names none"


def _unjudged() -> Sequence[Rule]:
    return [rule for rule in RULES if rule.slug in NEEDS]


def taken_as(alone: Alone) -> Iterator[str]:
    """Say how loads were taken: as which part, lamp or kind."""
    for name, load in alone.loads.items():
        part = f"{name} as a load with part '{load.part}'" if load.part else ""
        lamp = f"its lamp as {load.lamp}" if load.lamp else f"its kind as {load.kind}"
        if load.part or load.known:
            yield f"{part}, {lamp}" if part else f"{name}: {lamp}"
    if any(load.power is not None and load.current is None for load in alone.loads.values()):
        yield f"watts at {RUNNING}, as the bike charges (common practice, no source)"

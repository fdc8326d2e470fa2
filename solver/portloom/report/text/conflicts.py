"""Why nothing fits, and what would make a bike fit, as an electrician reads it."""

from collections.abc import Iterator, Sequence

from portloom.base.built import BuiltLoom
from portloom.base.figures import counted, listed
from portloom.documents.assumed import CAUTIONS
from portloom.documents.document import Plan
from portloom.explaining.fixes.fix import Fix
from portloom.explaining.fixes.hunt import Fixes
from portloom.explaining.telling.claim import claim
from portloom.explaining.telling.conflict import Conflict, Lift, ToldFact
from portloom.job.assignment import Change
from portloom.report.text.layout import Page, metres, write_cautions
from portloom.report.text.places import Places
from portloom.rules.fact_kinds import ALIKE, is_thing, kind_of

OF_TAKEN_OUT = (
    "What is taken out of the loom is noted in a copy of the built plan beside it, FILE.built.json, which goes with "
    "FILE from then on: --built FILE.built.json"
)


def write_verdict(bike: str, unit: str, page: Page) -> None:
    """Write that nothing fits."""
    page.line(f"{bike} on the {unit}: NOTHING FITS, proved.", "bold red")


def write_not_covered(said: str, page: Page) -> None:
    """Write what an explanation does not cover, if there is anything."""
    if said:
        page.heading("Not covered")
        page.items([said])


def write_built(loom: BuiltLoom | None, page: Page) -> None:
    """Write what stays of a loom that is built, where one is."""
    if loom is not None:
        page.line(f"The unit stays where it was built in, {loom.place}; built wires stay in their looms ({loom.file}).")


def write_conflicts(
    bike: str,
    unit: str,
    conflicts: Sequence[Conflict],
    page: Page,
    not_covered: str = "",
    loom: BuiltLoom | None = None,
) -> None:
    """Write the verdict, then each conflict: its sentence, a line a fact and where it is written."""
    write_verdict(bike, unit, page)
    write_built(loom, page)
    for conflict in conflicts:
        write_conflict(conflict, page)
    page.line("")
    more = "portloom why" if loom is None else "portloom why with --built"
    page.line(f"More conflicts, and what would make it fit: {more}. What a rule protects: portloom rules NAME")
    write_not_covered(not_covered, page)
    write_cautions(CAUTIONS, page)


def write_no_two(bike: str, units: Sequence[str], reason: str, page: Page) -> None:
    """Write that two units instead of one do not fit, and why so far as that is told."""
    page.line(f"{bike} on two units: NOTHING FITS, proved.", "bold red")
    page.line(f"Two units instead of one: {listed([f'the {unit}' for unit in units])}, at any two different places.")
    page.line(f"Why: {reason}.")
    page.line(
        "Of two units no more reasons are looked for, and no changes are tried. What is in the way of one unit, and "
        "what would make it fit: portloom why with that unit."
    )
    write_cautions(CAUTIONS, page)


def write_conflict(conflict: Conflict, page: Page, title: str = "") -> None:
    """Write one conflict: its sentence, its facts, what refuses whom, the rules that it hangs on, what may help."""
    page.heading(f"{title}{conflict.sentence}")
    facts = _needed(conflict.facts)
    page.items([*_facts(facts), *conflict.detail])
    unsaid = {fact.rule for fact in conflict.facts} - {fact.rule for fact in facts}
    rules = tuple(rule for rule in conflict.rules if rule not in unsaid)
    page.line(f"  {'Rules' if len(rules) > 1 else 'Rule'}: {listed(rules)}.")
    if conflict.lifted_by:
        page.line(f"  {_lifted(conflict.lifted_by)}.")
    if conflict.hints:
        page.line(f"  May help, not tried: {'; '.join(conflict.hints)}.")


def _lifted(lifts: Sequence[Lift]) -> str:
    """Say what lifts a conflict, and with what the bike fits then."""
    all_fit = all(lift.fits for lift in lifts)
    what = "makes it fit" if all_fit else "lifts it"
    one = f"Any one of these {what}" if len(lifts) > 1 else f"What {what}"
    said = [lift.said if all_fit or not lift.fits else f"{lift.said} (then it fits)" for lift in lifts]
    return f"{one}, proved: {'; '.join(said)}"


def _needed(facts: Sequence[ToldFact]) -> list[ToldFact]:
    """Leave away that a thing is on the bike where a figure of it is told."""
    figured = {fact.key[1] for fact in facts if kind_of(fact.key).role == "figure"}
    figured |= {name for fact in facts if kind_of(fact.key) is ALIKE for name in fact.key[1:]}
    return [fact for fact in facts if not is_thing(fact.key) or fact.key[1] not in figured]


def _facts(facts: Sequence[ToldFact]) -> Iterator[str]:
    """Return a line a fact, with where it is written; several of which the same is said, in one line."""
    places = Places()
    for group in _alike(facts):
        names = [f"{fact.name} ({places.said(fact.where)})" for fact in group]
        first = group[0]
        if len(group) > 1 or kind_of(first.key).counts_ports:
            yield f"{first.together}: {listed(names)}"
        else:
            yield f"{first.sentence} {names[0].removeprefix(first.name).lstrip()}"


def _alike(facts: Sequence[ToldFact]) -> list[list[ToldFact]]:
    groups: dict[tuple[str, ...], list[ToldFact]] = {}
    for fact in facts:
        groups.setdefault((fact.rule, fact.together) if fact.together else fact.key, []).append(fact)
    return list(groups.values())


def write_proof(conflicts: Sequence[Conflict], page: Page) -> None:
    """Write how each conflict was proved."""
    page.heading("Proof")
    for number, conflict in enumerate(conflicts, 1):
        page.line(
            f"  {number}. With these facts alone, all else left out or without limit, there is no plan; proved twice, "
            f"in two ways, at each place: {'; '.join(conflict.places)}. Any one of them taken otherwise, there is:"
        )
        page.items([f"'{fact.sentence}': {fact.without_it}, place {fact.fits_at}" for fact in conflict.facts])


def write_fixes(fixes: Fixes, conflicts: Sequence[Conflict], page: Page) -> None:
    """Write each fix with what it takes and the plan that it gives, and what is proved of them together."""
    page.heading("What would make it fit")
    for number, fix in enumerate(fixes.found, 1):
        page.line(f"  {number}. {fix.sentence} (effort {fix.effort})", "bold")
        page.items(list(_about(fix)))
    page.line(claim(fixes, conflicts))
    if fixes.found:
        page.line("Write one into a copy of the bike's file: --apply NUMBER --out FILE")
    if any(fix.taken_out for fix in fixes.found):
        page.line(OF_TAKEN_OUT)


def where(plan: Plan) -> str:
    """Say where the unit sits, what wire a plan takes, of a built loom what is new, and whether it is proved best."""
    proof = "proved best" if plan.proven else "not proved best: the time limit was reached"
    new = "" if plan.change is None else "new "
    return f"place {plan.only.seat}, {metres(plan.wire_run)} of {new}wire, {proof}"


def _about(fix: Fix) -> Iterator[str]:
    yield f"then it fits: {where(fix.plan)}"
    if fix.plan.change is not None:
        yield touched(fix.plan.change.change)
    if fix.parts:
        yield f"needs {'; '.join(fix.parts)}"
    for box in fix.plan.multiplexers:
        switches = listed([one.switch for one in box.switches])
        yield f"{box.name} at {box.at}, on {box.port}, reads {switches}"
    yield _left(fix.plan)
    if not fix.least:
        yield "not proved that nothing less would do"


def touched(change: Change) -> str:
    """Say which circuits a plan touches of a built loom, and which sleeves it opens."""
    circuits = listed((*change.mattering, *change.others)) or "no circuit"
    return f"touches {circuits}; opens {listed(change.opened) or 'no sleeve'}"


def _left(plan: Plan) -> str:
    ports = ((len(plan.only.free_outputs), "output"), (len(plan.only.free_inputs), "input"))
    free = listed([counted(number, port) for number, port in ports if number])
    stay = (
        f"{free} {'stays' if sum(number for number, _ in ports) == 1 else 'stay'} free"
        if free
        else "no port stays free"
    )
    rooms = listed([f"{room.load} on {room.port}" for room in plan.room_for])
    none = "; room for none of the later loads" if plan.no_room_for else ""
    return f"{stay}; room for {rooms}" if rooms else f"{stay}{none}"

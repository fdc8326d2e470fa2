"""Explanations as an electrician reads them: why nothing fits and what would help, or how near a plan is."""

from collections.abc import Iterator, Sequence

from portloom.base.figures import amperes, capital, counted, listed, port_range
from portloom.base.quantities import Micrometres
from portloom.documents.assumed import CAUTIONS
from portloom.documents.document import Plan
from portloom.explaining.explain import DoesNotFit, Every, Explained, Fits, Undecided
from portloom.explaining.telling.conflict import Conflict
from portloom.explaining.telling.told import Why
from portloom.explaining.why_not import Elsewhere, ExtraCost, LoadMove, WhyNot
from portloom.margins.misses import NearMisses
from portloom.report.text.conflicts import (
    touched,
    where,
    write_built,
    write_conflict,
    write_fixes,
    write_not_covered,
    write_proof,
    write_verdict,
)
from portloom.report.text.decisions import beside, in_parts, write_decisions
from portloom.report.text.layout import Page, metres, write_cautions, write_first
from portloom.rules.fact_kinds import is_thing


def write_near(near: NearMisses, page: Page) -> None:
    """Write the limits with less than 10 % left, then the load with the least headroom, the fullest leg and case."""
    page.heading("Near misses")
    if near.tight:
        page.line("  Less than 10 % left, the most serious first, wires that may be thicker last:")
        page.items([margin.sentence for margin in near.tight])
    else:
        page.line(f"  No limit has less than 10 % left. The tightest: {near.first.sentence}.")
    page.line("  With wires and main fuse as planned:")
    page.items(list(_fullest(near)))


def _fullest(near: NearMisses) -> Iterator[str]:
    case = near.nearest_case
    if near.grows_least is not None:
        yield near.grows_least.sentence
    if near.fullest_leg is not None:
        yield f"fullest leg: {near.fullest_leg.sentence}"
    yield f"heaviest case: {case.when}, {amperes(case.current)} of the unit's {amperes(case.limit)}"


def write_explained(explained: Explained, page: Page, *, proof: bool) -> None:
    """Write an explanation; ``proof`` also how each conflict was proved."""
    write_first(explained.first, explained.set_aside, page)
    match explained.answer:
        case Fits(plan, near):
            _write_fits(explained, plan, page)
            if explained.why_not is None and not explained.elsewhere and explained.decisions is None:
                write_near(near, page)
        case DoesNotFit(why, fixes, every):
            _write_why(explained, why, page)
            if proof:
                write_proof(why.conflicts, page)
            if every is not None:
                _write_every(every, page, proof=proof)
            write_fixes(fixes, why.conflicts, page)
        case Undecided():
            page.line(f"{explained.bike} on the {explained.unit}: UNKNOWN, the time limit was reached.", "bold")
            page.line("It is proved neither that it fits nor that it does not. Allow more time.")
    if explained.why_not is not None:
        _write_why_not(explained.why_not, page, proof=proof)
    _write_elsewhere(explained, page)
    if explained.decisions is not None:
        write_decisions(explained.decisions, page)
    write_not_covered(explained.not_covered, page)
    write_cautions(CAUTIONS, page)


def _write_fits(explained: Explained, plan: Plan, page: Page) -> None:
    page.line(f"{explained.bike} on the {explained.unit}: IT FITS, {where(plan)}.", "bold")
    write_built(explained.built, page)
    if plan.change is not None:
        page.line(f"It {touched(plan.change.change)}. The change order: portloom plan with --built")


# --- conflicts


def _write_why(explained: Explained, why: Why, page: Page) -> None:
    write_verdict(explained.bike, explained.unit, page)
    write_built(explained.built, page)
    many = len(why.conflicts)
    if many == 1 and why.complete:
        page.line("One conflict: fix any one thing in it.")
    elif many > 1:
        page.line(f"{capital(counted(many, 'conflict'))}, with nothing in common: fix one thing in each.")
    for number, conflict in enumerate(why.conflicts, 1):
        write_conflict(conflict, page, f"{number}. ")
    if not why.complete:
        page.line("")
        page.line("The time limit was reached: there may be more conflicts. What is listed here is proved.", "bold")


def _write_every(every: Every, page: Page, *, proof: bool) -> None:
    page.heading("Every smallest set of facts that can't hold together")
    for number, conflict in enumerate(every.conflicts, 1):
        write_conflict(conflict, page, f"{number}. ")
    page.line("")
    page.line(
        "These are all." if every.complete else "Stopped early, at the bound or the time limit: there may be more."
    )
    if proof:
        write_proof(every.conflicts, page)


# --- wishes


def _write_why_not(answer: WhyNot, page: Page, *, proof: bool) -> None:
    page.heading(answer.question)
    for line in _answered(answer):
        page.line(f"  {capital(line)}{'' if line.endswith(':') else '.'}")
    if answer.conflict is not None:
        write_conflict(answer.conflict, page)
        if proof:
            write_proof((answer.conflict,), page)


def _answered(answer: WhyNot) -> Iterator[str]:
    match answer.answer:
        case "alone":
            yield "impossible by itself, proved:"
            yield from answer.refusals
        case "with the rest":
            yield "impossible with the rest of the bike, proved:"
        case "nothing fits":
            yield "nothing fits, with it or without it: see the conflicts"
        case "not known":
            yield "not known: the time limit was reached"
        case "possible":
            yield from _priced(answer.price)


def _priced(price: ExtraCost | None) -> Iterator[str]:
    if price is None:
        return
    if price.same_kind:
        yield "possible at no cost: it is a port of the same kind, swap them"
        return
    parts = in_parts(price.costs, _more)
    cost = f"{_more(price.cost)}, " if len(parts) > 1 else ""
    what = f"at {cost}{' and '.join(parts)}" if parts else "at the same cost"
    yield f"possible {what}, place {price.place}"
    if price.loom is not None and price.loom.any:
        yield "; ".join(beside(price.loom))
    if price.moves:
        yield f"these move: {'; '.join(_moved(move) for move in price.moves)}"


def _moved(move: LoadMove) -> str:
    return f"{listed(move.loads)} from {move.before} to {move.after}"


def _more(length: Micrometres) -> str:
    sign = "-" if length < 0 else "+"
    return f"{sign}{metres(Micrometres(abs(length)))}"


def _write_elsewhere(explained: Explained, page: Page) -> None:
    if not explained.elsewhere or not isinstance(explained.answer, Fits):
        return
    page.heading("What its port offers that others don't")
    page.items(list(_ports(explained.elsewhere)))


def _ports(elsewhere: Sequence[Elsewhere]) -> Iterator[str]:
    order = [port for one in elsewhere for port in one.ports]
    for one in elsewhere:
        told = list(_answered(one.why_not))
        if one.why_not.conflict is not None:
            told.append(_in_short(one.why_not.conflict))
        said = "; ".join(told).replace(":; ", ": ")
        yield f"{port_range(one.ports, order)}: {said}."


def _in_short(conflict: Conflict) -> str:
    """Return a conflict's sentence, with the names of what is too many where it only counts them."""
    things = [fact.name for fact in conflict.facts if is_thing(fact.key)]
    sentence = conflict.sentence.rstrip(".")
    return sentence if all(name in sentence for name in things) else f"{sentence} ({listed(things)})"

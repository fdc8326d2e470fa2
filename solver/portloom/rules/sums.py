"""Currents added up in a case, as rules of sums tell them."""

from collections.abc import Callable, Iterable, Iterator, Sequence
from fractions import Fraction

from portloom.base.figures import added_up, amperes
from portloom.base.quantities import MilliAmps
from portloom.job.cases import Case
from portloom.job.job import Job
from portloom.job.laid import Laid
from portloom.job.site import Site
from portloom.job.wired import WiredOutput
from portloom.rules.margins import LimitMargin, amperes_left, each_unit
from portloom.rules.shapes import Budget, BudgetRow

Drawn = tuple[str, MilliAmps]
"""Whose it is, and what it draws."""


def sum_in(case: Case | None, job: Job, outputs: Iterable[WiredOutput]) -> str:
    """Say when circuits draw what: 'at night: 5.2 A (dipped beam) + 0.8 A (tail lamp) = 6 A'."""
    circuits = [wired.circuit for wired in outputs if case is None or job.circuit_on(wired.circuit, case)]
    order = [load.name for load in job.loads.on_unit]
    circuits.sort(key=lambda circuit: order.index(circuit.members[0].name))
    return _said(case, [(circuit.said, circuit.current) for circuit in circuits])


def worst_sum(job: Job) -> str:
    """Say the same of every load that the unit feeds, in the worst case; a guest counts as often as it is fed."""
    case = max(job.cases, key=job.unit_current)
    loads = (*job.loads.on_unit, *job.loads.guests)
    return _said(case, [(load.name, MilliAmps(job.on(load, case) * load.current)) for load in loads])


def _said(case: Case | None, shares: Sequence[Drawn]) -> str:
    drawn = [(whose, current) for whose, current in shares if current]
    total = amperes(MilliAmps(sum(current for _, current in drawn)))
    when = f"{case.said}: " if case else ""
    return f"{when}{added_up(drawn)} = {total}" if len(drawn) > 1 else f"{when}{added_up(drawn)}"


def margins_of_sums(
    slug: str, budgets: Callable[[Site], Iterable[Budget]], laid: Laid, named: Callable[[BudgetRow], tuple[str, str]]
) -> Iterator[LimitMargin]:
    """Return for each limit of a rule's sums the case in which most of it is used, the first of equal ones.

    ``named`` gives a limit's name, and how it is called in a sentence.
    """
    for unit in each_unit(laid):
        for budget in budgets(unit.site):
            most: dict[str, tuple[MilliAmps, BudgetRow]] = {}
            for key, current in budget.sums(unit).items():
                row = budget.rows[key]
                subject, _ = named(row)
                if subject not in most or current > most[subject][0]:
                    most[subject] = (MilliAmps(current), row)
            for current, row in most.values():
                yield _of_sum(slug, named(row), current, row).at(unit.site.own_name)


def _of_sum(slug: str, named: tuple[str, str], current: MilliAmps, row: BudgetRow) -> LimitMargin:
    subject, said = named
    limit = MilliAmps(row.at_most)
    left = MilliAmps(limit - current)
    sentence = f"{said} {row.when}: {amperes(current)} of {amperes(limit)}, {amperes_left(left)}"
    return LimitMargin(slug, subject, current, limit, left, Fraction(current, limit), sentence)

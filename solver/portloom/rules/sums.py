"""Currents added up in a case, as rules of sums tell them."""

from collections.abc import Callable, Iterable, Iterator, Sequence
from fractions import Fraction

from portloom.base.figures import added_up, amperes
from portloom.base.quantities import MilliAmps
from portloom.job.cases import Case, named_for
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
    every = [wired.circuit for wired in outputs]
    circuits = [circuit for circuit in every if case is None or job.circuit_on(circuit, case)]
    if case is not None:
        case = named_for(case, (load for circuit in every for load in circuit.members))
    order = [load.name for load in job.loads.on_unit]
    circuits.sort(key=lambda circuit: order.index(circuit.members[0].name))
    return _said(case, [(circuit.said, circuit.current) for circuit in circuits])


def worst_sum(job: Job) -> str:
    """Say the same of every load that the unit feeds, in the worst case; a guest counts as often as it is fed."""
    case = max(job.cases, key=job.unit_current)
    loads = (*job.loads.on_unit, *job.loads.guests)
    return _said(
        named_for(case, job.loads.on_unit),
        [(load.name, MilliAmps(job.on(load, case) * load.current)) for load in loads],
    )


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
                yield _of_sum(slug, named(row), current, row, _when(unit, budget, row)).at(unit.site.own_name)


def _when(unit: Laid, budget: Budget, row: BudgetRow) -> str:
    """Say when a sum is drawn, by what may be in it alone."""
    fact = row.fact
    rows = [key for key, other in budget.rows.items() if other.fact == fact]
    summed = [wired.circuit for wired in unit.outputs if any(key in rows for key, _ in budget.output(wired))]
    return named_for(row.case, (load for circuit in summed for load in circuit.members)).said if row.case else ""


def _of_sum(slug: str, named: tuple[str, str], current: MilliAmps, row: BudgetRow, when: str) -> LimitMargin:
    subject, said = named
    limit = MilliAmps(row.at_most)
    left = MilliAmps(limit - current)
    sentence = f"{said} {when}: {amperes(current)} of {amperes(limit)}, {amperes_left(left)}"
    return LimitMargin(slug, subject, current, limit, left, Fraction(current, limit), sentence)

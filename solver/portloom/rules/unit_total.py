"""All outputs together stay within the unit's feed limit, in every case."""

from collections.abc import Iterable, Iterator, Sequence

from portloom.base.figures import amperes
from portloom.base.quantities import MilliAmps
from portloom.job.job import Job
from portloom.job.laid import Laid
from portloom.job.site import Site
from portloom.job.wired import WiredOutput
from portloom.rules.facts import At, Fact, FactKey
from portloom.rules.margins import LimitMargin
from portloom.rules.shapes import Addend, Budget, BudgetRow, Capacities, Capacity, Key, Rule
from portloom.rules.sums import margins_of_sums, sum_in

FEED_LIMIT: FactKey = ("total", "unit")


def _budgets(site: Site) -> list[Budget]:
    job = site.job
    rows: dict[Key, BudgetRow] = {
        number: BudgetRow(case.label, at_most=job.unit.feed.limit, fact=FEED_LIMIT, case=case)
        for number, case in enumerate(job.cases)
    }
    return [Budget(rows, _sentence, output=lambda wired: _drawn(job, wired), summed=_summed)]


def _drawn(job: Job, wired: WiredOutput) -> Iterable[Addend]:
    circuit = wired.circuit
    return [(number, circuit.current) for number, case in enumerate(job.cases) if job.circuit_on(circuit, case)]


def _sentence(row: BudgetRow, found: int) -> str:
    return f"{row.subject}: {amperes(MilliAmps(found))} in all, the unit can carry {amperes(MilliAmps(row.at_most))}"


def _summed(laid: Laid, row: BudgetRow) -> str:
    return f"{sum_in(row.case, laid.site.job, laid.outputs)}, the unit can carry {amperes(MilliAmps(row.at_most))}"


def _capacities(job: Job) -> Iterator[Capacity]:
    yield Capacity(FEED_LIMIT, job.unit.feed.limit, frozenset(output.name for output in job.unit.outputs))


def _together(capacities: Sequence[Capacity], units: int) -> str:
    limit = amperes(MilliAmps(sum(capacity.limit for capacity in capacities)))
    return f"the unit can carry {limit}" if units == 1 else f"both units can carry {limit}"


def _margins(laid: Laid) -> Iterator[LimitMargin]:
    return margins_of_sums(RULE.slug, _budgets, laid, lambda _: ("unit", "the unit in all"))


def _facts(job: Job) -> Iterator[Fact]:
    limit = job.unit.feed.limit
    yield Fact(
        FEED_LIMIT, "unit-total", "unit", f"the unit can carry {amperes(limit)} in all", At("unit", ("feed", "limit"))
    )


RULE = Rule(
    slug="unit-total",
    protects="the unit's supply terminal from overload",
    about="fire",
    source="the unit's profile",
    right="less current at once: LED lamps, a load fed past the unit ('fed: relay' or 'fed: fuse'), or a larger unit",
    budgets=_budgets,
    capacities=Capacities(_capacities, _together),
    margins=_margins,
    facts=_facts,
)

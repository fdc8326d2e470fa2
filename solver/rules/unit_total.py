"""All outputs together stay within the unit's feed limit, in every case."""

from collections.abc import Iterable

from solver.job.job import Job
from solver.job.site import Site
from solver.job.wired import WiredOutput
from solver.rules.shapes import Budget, Entry, Key, Row, Rule
from solver.words.figures import amperes
from solver.words.quantities import MilliAmps


def _budgets(site: Site) -> list[Budget]:
    job = site.job
    rows: dict[Key, Row] = {
        number: Row(case.label, at_most=job.unit.feed.limit) for number, case in enumerate(job.cases)
    }
    return [Budget(rows, _sentence, output=lambda wired: _drawn(job, wired))]


def _drawn(job: Job, wired: WiredOutput) -> Iterable[Entry]:
    circuit = wired.circuit
    return [(number, circuit.current) for number, case in enumerate(job.cases) if job.circuit_on(circuit, case)]


def _sentence(row: Row, found: int) -> str:
    return f"{row.subject}: {amperes(MilliAmps(found))} in all, the unit passes {amperes(MilliAmps(row.at_most))}"


RULE = Rule(
    slug="unit-total",
    protects="the unit's supply terminal from overload",
    source="the unit's profile",
    budgets=_budgets,
)

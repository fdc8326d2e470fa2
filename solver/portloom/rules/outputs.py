"""No more circuits than outputs of each kind."""

from collections.abc import Iterator

from portloom.job.job import Job
from portloom.job.kinds import output_kinds
from portloom.job.site import Site
from portloom.rules.facts import Fact
from portloom.rules.port_counts import facts_of_kinds, kind_numbers, rows_of
from portloom.rules.shapes import Budget, BudgetRow, Rule


def _budgets(site: Site) -> list[Budget]:
    kinds = output_kinds(site.job.unit)
    kind_of = kind_numbers(kinds)
    return [Budget(rows_of(kinds, "outputs"), _sentence, output=lambda wired: [(kind_of[wired.output.name], 1)])]


def _sentence(row: BudgetRow, found: int) -> str:
    return f"{found} circuits need {row.subject}, there is room for {row.at_most}"


def _facts(job: Job) -> Iterator[Fact]:
    return facts_of_kinds(job, output_kinds(job.unit), "outputs")


RULE = Rule(
    slug="outputs",
    protects="outputs from driving more than one circuit",
    source="the unit's profile",
    right="one circuit an output: loads that share one, a load fed past the unit ('fed: relay' or 'fed: fuse'), or "
    "a unit with more outputs",
    budgets=_budgets,
    facts=_facts,
)

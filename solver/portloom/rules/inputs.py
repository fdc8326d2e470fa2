"""No more input circuits than inputs of each kind."""

from collections.abc import Iterator

from portloom.job.job import Job
from portloom.job.kinds import input_kinds
from portloom.job.laid import WiredInput, WiredMultiplexer
from portloom.job.site import Site
from portloom.rules.facts import Fact
from portloom.rules.port_counts import facts_of_kinds, kind_numbers, rows_of
from portloom.rules.posted import OfPosts
from portloom.rules.shapes import Addend, Budget, BudgetRow, Rule


def _budgets(site: Site) -> list[Budget]:
    kinds = input_kinds(site.job.unit)
    kind_of = kind_numbers(kinds)

    def taken(wired: WiredInput | WiredMultiplexer) -> list[Addend]:
        return [(kind_of[wired.port.name], 1)]

    return [Budget(rows_of(kinds, "inputs"), _sentence, input=taken, multiplexer=taken)]


def _sentence(row: BudgetRow, found: int) -> str:
    return f"{found} switches need {row.subject}, there is room for {row.at_most}"


def _facts(job: Job) -> Iterator[Fact]:
    return facts_of_kinds(job, input_kinds(job.unit), "inputs")


RULE = Rule(
    slug="inputs",
    protects="inputs from reading switches that do not say the same",
    source="the unit's profile",
    right="one circuit an input: switches on a multiplexer, switches that say the same on one input, or a unit with"
    " more inputs",
    budgets=_budgets,
    facts=_facts,
    posts=OfPosts(needs="which switches there are", wants=("inputs",)),
)

"""No more circuits than outputs of each kind."""

from collections.abc import Iterator

from solver.job.job import Job
from solver.job.kinds import output_kinds
from solver.job.site import Site
from solver.rules.facts import Fact, at_port
from solver.rules.shapes import Budget, Key, Row, Rule
from solver.words.figures import counted, listed, port_range


def _budgets(site: Site) -> list[Budget]:
    unit = site.job.unit
    kinds = output_kinds(unit)
    kind_of = {port.name: number for number, kind in enumerate(kinds) for port in kind.ports}
    rows: dict[Key, Row] = {
        number: Row(
            listed([port.name for port in kind.ports]),
            at_most=len(kind.ports),
            fact=("outputs", kind.ports[0].name),
        )
        for number, kind in enumerate(kinds)
    }
    return [Budget(rows, _sentence, output=lambda wired: [(kind_of[wired.output.name], 1)])]


def _sentence(row: Row, found: int) -> str:
    return f"{found} circuits want {row.subject}, there is room for {row.at_most}"


def _facts(job: Job) -> Iterator[Fact]:
    order = [port.name for port in job.unit.outputs]
    for kind in output_kinds(job.unit):
        names = [port.name for port in kind.ports]
        sentence = f"the {job.unit.unit} has {counted(len(names), 'such output')}, {port_range(names, order)}"
        yield Fact(("outputs", names[0]), "outputs", names[0], sentence, at_port(job, "outputs", names[0]))


RULE = Rule(
    slug="outputs",
    protects="that an output drives one circuit",
    source="the unit's profile",
    budgets=_budgets,
    facts=_facts,
)

"""How many ports of a kind there are: what the rules of outputs and of inputs have in common."""

from collections.abc import Iterator, Sequence

from portloom.base.figures import counted, listed, port_range
from portloom.job.job import Job
from portloom.job.kinds import InputKind, OutputKind, PortDirection, port_names
from portloom.rules.facts import Fact, at_port
from portloom.rules.shapes import BudgetRow, Key

Kinds = Sequence[OutputKind | InputKind]


def rows_of(kinds: Kinds, ports: PortDirection) -> dict[Key, BudgetRow]:
    """Return a row for each kind, by its number: no more circuits than ports."""
    return {
        number: BudgetRow(listed(kind.names), len(kind.names), fact=(ports, kind.names[0]))
        for number, kind in enumerate(kinds)
    }


def kind_numbers(kinds: Kinds) -> dict[str, int]:
    """Return the number of its kind for each port's name."""
    return {name: number for number, kind in enumerate(kinds) for name in kind.names}


def facts_of_kinds(job: Job, kinds: Kinds, ports: PortDirection) -> Iterator[Fact]:
    """Return how many ports of each kind the unit has."""
    order = port_names(job.unit, ports)
    for kind in kinds:
        names = kind.names
        such = counted(len(names), f"such {ports.removesuffix('s')}")
        sentence = f"the {job.unit.unit} has {such}, {port_range(names, order)}"
        yield Fact((ports, names[0]), ports, names[0], sentence, at_port(job, ports, names[0]), f"the {ports}")

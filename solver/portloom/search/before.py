"""Who is on which port before anything moves, and columns that are for one port of their kind alone."""

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import field, replace

from portloom.base.values import dataclass
from portloom.job.kinds import InputKind, OutputKind
from portloom.search.columns import (
    Column,
    InputColumn,
    MultiplexerColumn,
    OutputColumn,
    PortColumn,
    SumRow,
    SwitchColumn,
    on_kind,
)

Ports = Mapping[str, Sequence[str]]
"""What is on each port, by names."""


@dataclass(frozen=True)
class Before:
    """Who is on which port now; a switch or multiplexer that is on none may go anywhere, which is no move."""

    outputs: Ports
    inputs: Ports
    stands: Mapping[str, str] = field(default_factory=dict)
    """Where multiplexers stand that stand somewhere already; there they stay."""

    @property
    def ports(self) -> dict[str, str]:
        """The input, or the multiplexer, on which each switch and multiplexer is."""
        return {name: port for port, held in self.inputs.items() for name in held}


def seated(column: Column, before: Before) -> list[str]:
    """Return the switches and the multiplexer of a column that are on a port already."""
    match column:
        case InputColumn():
            names = [switch.name for switch in column.wired.circuit.switches]
        case SwitchColumn():
            names = [column.wired.switch.name]
        case MultiplexerColumn():
            names = [column.wired.stand.multiplexer.name]
        case _:
            names = []
    return [name for name in names if name in before.ports]


def stays(column: Column, before: Before) -> bool:
    """Tell whether a multiplexer of which a column speaks stands where it stood, if it stood anywhere."""
    if not isinstance(column, SwitchColumn | MultiplexerColumn):
        return True
    stand = column.wired.stand
    return before.stands.get(stand.multiplexer.name, stand.at) == stand.at


# --- columns of one port


def on_one(column: PortColumn, name: str) -> Column:
    """Return a column for one of the ports of its kind alone."""
    if isinstance(column, OutputColumn):
        output = next(output for output in column.kind.ports if output.name == name)
        return replace(column, kind=OutputKind(column.kind.like, (output,)), most=1)
    port = next(port for port in column.kind.ports if port.name == name)
    return replace(column, kind=InputKind(column.kind.like, (port,)))


def ports_once(columns: Sequence[Column]) -> Iterator[SumRow]:
    """No two of the columns for one port are chosen."""
    at: dict[tuple[bool, str], list[int]] = {}
    for number, column in enumerate(columns):
        if on_kind(column) and len(column.kind.ports) == 1:
            at.setdefault((isinstance(column, OutputColumn), column.kind.ports[0].name), []).append(number)
    return (
        SumRow(tuple((n, 1) for n in own), 0, 1, name=("port", name)) for (_, name), own in at.items() if len(own) > 1
    )

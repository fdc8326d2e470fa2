"""Columns: what can be chosen at a site, each with its cost in micrometres, and the rows that hold them together."""

from collections.abc import Callable, Iterable
from typing import TypeGuard

from portloom.base.figures import amperes
from portloom.base.quantities import MilliAmps
from portloom.base.unit import Output, Port
from portloom.base.values import dataclass
from portloom.job.circuits import InputCircuit
from portloom.job.consumers import Later
from portloom.job.fixed_wires import FixedWire
from portloom.job.goal import NO_COST, Cost
from portloom.job.kinds import InputKind, OutputKind
from portloom.job.laid import WiredInput, WiredMultiplexer, WiredSwitch
from portloom.job.losses import Losses
from portloom.job.site import Site
from portloom.job.touching import Touched
from portloom.job.wired import WiredOutput
from portloom.rules.facts import FactKey
from portloom.rules.shapes import Addend, Budget, nothing


@dataclass(frozen=True)
class FuseColumn:
    """A step that the main fuse of a unit may be of: the unit's site with that fuse alone, and what is lost there."""

    site: Site
    losses: Losses
    price: Cost = NO_COST
    cost: int = 0
    most: int = 1

    @property
    def fuse(self) -> MilliAmps:
        """The main fuse."""
        return self.site.fuses[0]


@dataclass(frozen=True)
class OutputColumn:
    """A circuit on a kind of output; ``later`` where it is one that may come one day.

    Its wire is as thin as any main fuse of its site allows it.
    """

    wired: WiredOutput
    kind: OutputKind
    price: Cost
    """What it adds to both parts of the goal."""
    cost: int
    """What a search makes least: the whole price, unless it asks for something else."""
    most: int = 1
    later: Later | None = None
    least_fuse: MilliAmps = MilliAmps(0)
    """The smallest main fuse with which the rules allow it; so does each larger one."""


@dataclass(frozen=True)
class InputColumn:
    """Switches on a kind of input."""

    wired: WiredInput
    kind: InputKind
    price: Cost
    cost: int
    most: int = 1


@dataclass(frozen=True)
class SwitchColumn:
    """A switch on a way of a multiplexer that stands at one of its points."""

    wired: WiredSwitch
    price: Cost
    cost: int
    most: int = 1


@dataclass(frozen=True)
class MultiplexerColumn:
    """A multiplexer at one of its points, on a kind of input."""

    wired: WiredMultiplexer
    kind: InputKind
    price: Cost
    cost: int
    most: int = 1


@dataclass(frozen=True)
class ReturnColumn:
    """The return from a point that has none unless a multiplexer stands there."""

    wire: FixedWire
    price: Cost
    cost: int
    most: int = 1


@dataclass(frozen=True)
class TouchColumn:
    """That a built circuit does not stay as it is: set anew, or a wire of no port replaced by a thicker one."""

    what: Touched
    wire: FixedWire | None
    """The wire of no port that it is."""
    price: Cost
    cost: int
    most: int = 1


@dataclass(frozen=True)
class OpenedColumn:
    """That the sleeve of a leg is opened for a new wire."""

    leg: int
    label: str
    price: Cost = NO_COST
    cost: int = 0
    most: int = 1


PlacedColumn = OutputColumn | InputColumn | SwitchColumn | MultiplexerColumn | ReturnColumn
ChangeColumn = TouchColumn | OpenedColumn
Column = FuseColumn | PlacedColumn | ChangeColumn


@dataclass(frozen=True)
class SumRow:
    """A sum over columns that stays between two bounds."""

    entries: tuple[tuple[int, int], ...]
    """Column number and amount."""
    at_least: int
    at_most: int
    fact: FactKey | None = None
    """The fact that sets its bounds."""
    name: tuple[str, ...] = ()
    """What people call it, in parts: the rule, then what it is a sum of."""


@dataclass(frozen=True)
class Flag:
    """A further whole number from 0 to ``most``, and what it is up for, in parts."""

    most: int
    name: tuple[str, ...]


@dataclass(frozen=True)
class Link:
    """A column that is chosen only with one of others: what a rule asks of the inputs, or what a multiplexer is."""

    column: int
    any_of: tuple[int, ...]
    fact: FactKey | None = None
    """The fact that asks for it; None where it is so by its nature."""


def contributions(budget: Budget, column: Column) -> Iterable[Addend]:  # noqa: PLR0911 - one for each class
    """Return what a column adds to the rows of a budget."""
    match column:
        case FuseColumn():
            return budget.fuse(column.site)
        case OutputColumn():
            return budget.output(column.wired)
        case InputColumn():
            return budget.input(column.wired)
        case SwitchColumn():
            return budget.switch(column.wired)
        case MultiplexerColumn():
            return budget.multiplexer(column.wired)
        case ReturnColumn():
            return budget.back(column.wire)
        case TouchColumn() | OpenedColumn():
            return ()


def may_add(budget: Budget, of: type[Column]) -> bool:
    """Tell whether columns of a class may add anything to a budget."""
    adding: dict[type[Column], Callable[..., Iterable[Addend]]] = {
        FuseColumn: budget.fuse,
        OutputColumn: budget.output,
        InputColumn: budget.input,
        SwitchColumn: budget.switch,
        MultiplexerColumn: budget.multiplexer,
        ReturnColumn: budget.back,
        TouchColumn: nothing,
        OpenedColumn: nothing,
    }
    return adding[of] is not nothing


PortColumn = OutputColumn | InputColumn | MultiplexerColumn


def on_kind(column: Column) -> TypeGuard[PortColumn]:
    """Tell whether a column takes a port of a kind."""
    return isinstance(column, OutputColumn | InputColumn | MultiplexerColumn)


@dataclass(frozen=True)
class Telling:
    """Switches that tell a unit at its site what they do, and the input that they are on, if they are on one."""

    site: Site
    circuit: InputCircuit
    port: Port | None


def told_by(column: Column) -> Iterable[Telling]:
    """Return what a column tells its unit."""
    if isinstance(column, InputColumn):
        yield Telling(column.wired.site, column.wired.circuit, column.wired.port)
    elif isinstance(column, SwitchColumn):
        yield Telling(column.wired.site, column.wired.circuit, None)


def column_name(column: Column) -> str:  # noqa: PLR0911 - as above
    """Return what people call a column: who, and where."""
    match column:
        case FuseColumn():
            return f"main fuse {amperes(column.fuse)} at {column.site.seat}"
        case OutputColumn():
            later = "later: " if column.later else ""
            return f"{later}{column.wired.circuit.label} on {_ports(column.kind.ports)}"
        case InputColumn():
            switches = ", ".join(switch.name for switch in column.wired.circuit.switches)
            return f"{switches} on {_ports(column.kind.ports)}"
        case SwitchColumn():
            return f"{column.wired.switch.name} by {_stand(column.wired)}"
        case MultiplexerColumn():
            return f"{_stand(column.wired)} on {_ports(column.kind.ports)}"
        case ReturnColumn():
            return column.wire.said.removeprefix("the ")
        case TouchColumn():
            return f"anew: {column.what.said}"
        case OpenedColumn():
            return f"opened: {column.label}"


def _ports(ports: Iterable[Port | Output]) -> str:
    return " or ".join(port.name for port in ports)


def _stand(wired: WiredSwitch | WiredMultiplexer) -> str:
    return f"{wired.stand.multiplexer.name} at {wired.stand.at}"

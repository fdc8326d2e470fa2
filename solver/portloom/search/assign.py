"""From chosen columns back to the bike's own names and the unit's own ports."""

from collections.abc import Iterable, Iterator, Sequence
from typing import TypeVar

from portloom.base.quantities import Micrometres
from portloom.base.sizes import WireSize
from portloom.base.unit import Output, Port
from portloom.job.assignment import Assignment, Change, OnInput, OnMultiplexer, OnOutput, OnWay, Room, Seat
from portloom.job.consumers import Consumer
from portloom.job.fixed import conductor_of
from portloom.job.fixed_wires import FixedWireKey
from portloom.job.goal import cost_of_plan
from portloom.job.job import Job
from portloom.job.laid import Laid
from portloom.job.site import Site
from portloom.job.sizing import size_wires
from portloom.job.wired import WiredOutput
from portloom.search.columns import (
    Column,
    FuseColumn,
    InputColumn,
    MultiplexerColumn,
    OpenedColumn,
    OutputColumn,
    PlacedColumn,
    ReturnColumn,
    SwitchColumn,
    TouchColumn,
)
from portloom.search.places import Found
from portloom.search.sizing_cuts import laid_by

AnyPort = TypeVar("AnyPort", Output, Port)
OnPort = TypeVar("OnPort", OnOutput, OnInput)


def assignment_of(found: Found) -> Assignment:
    """Return the plan in names, of one unit or two: circuits in the order of the file on ports in the unit's order."""
    sized = size_wires(laid_by(found.tableau, found.chosen)).laid
    costs = cost_of_plan(sized)
    return Assignment(
        seats=tuple(_seats(found, sized)),
        fixed_wires=sized.site.fixed_wires,
        fixed_sizes=_fixed_sizes(sized.site),
        cost=Micrometres(found.cost + costs.legs_in_use),
        costs=costs,
        bound=Micrometres(found.bound),
        proven=found.proven,
        once=found.once,
        change=_change(found) if sized.site.job.built is not None else None,
    )


def _fixed_sizes(site: Site) -> tuple[tuple[FixedWireKey, WireSize], ...]:
    return tuple((wire.key, conductor_of(site, wire).size) for wire in site.fixed_wires if wire.kind != "alongside")


def _seats(found: Found, sized: Laid) -> Iterator[Seat]:
    """Return who is on the ports of each unit; ``sized`` is the plan as it lies."""
    used, names = list(_used(found)), _Names(sized.site.job)
    for unit in sized.site.units:
        placed = (column for column in used if not isinstance(column, FuseColumn | TouchColumn | OpenedColumn))
        here = [column for column in placed if _is_at(unit, column)]
        yield _seat(unit, here, [wired for wired in sized.outputs if wired.site.shares(unit)], names)


def _change(found: Found) -> Change:
    """Return what a plan changes of a built loom."""
    used = list(_used(found))
    touched = [column.what for column in used if isinstance(column, TouchColumn)]
    opened = (column.label for column in used if isinstance(column, OpenedColumn))
    return Change(
        tuple(what.said for what in touched if what.matters),
        tuple(what.said for what in touched if not what.matters),
        tuple(opened),
    )


def _is_at(unit: Site, column: PlacedColumn) -> bool:
    return isinstance(column, ReturnColumn) or column.wired.site.shares(unit)


def _seat(unit: Site, used: Sequence[PlacedColumn], sized: Sequence[WiredOutput], names: "_Names") -> Seat:
    free = _Free()
    circuits = [column for column in used if isinstance(column, OutputColumn) and not column.later]
    switches = [column for column in used if isinstance(column, InputColumn)]
    coming = [column for column in used if isinstance(column, OutputColumn) and column.later]
    outputs = list(_outputs(names, circuits, sized, free))
    inputs = [_on_input(column, free) for column in switches]
    boxes = [_on_multiplexer(column, used, free) for column in used if isinstance(column, MultiplexerColumn)]
    return Seat(
        place=unit.place.name,
        turned=unit.turned,
        main_fuse=unit.fuses[0],
        outputs=_by_port(outputs, [output.name for output in unit.job.unit.outputs]),
        inputs=_by_port(inputs, [port.name for port in unit.job.unit.inputs]),
        room_for=tuple(Room(c.wired.circuit.label, free.take(c.kind.ports).name) for c in coming),
        multiplexers=tuple(boxes),
    )


def _used(found: Found) -> Iterator[Column]:
    for column, times in zip(found.tableau.columns, found.chosen, strict=True):
        yield from [column] * times


class _Free:
    """The ports that are still free, by kind."""

    def __init__(self) -> None:
        self._taken: set[str] = set()

    def take(self, ports: Sequence[AnyPort]) -> AnyPort:
        """Take the first free port of a kind."""
        port = next(port for port in ports if (key := f"{type(port).__name__} {port.name}") not in self._taken)
        self._taken.add(key)
        return port


class _Names:
    """Loads that are alike, handed out in the order of the file."""

    def __init__(self, job: Job) -> None:
        self.job = job
        self._left: dict[int, list[Consumer]] = {}
        for load in job.loads.on_unit:
            self._left.setdefault(job.alike[load.name], []).append(load)

    def real(self, members: Iterable[Consumer]) -> list[Consumer]:
        """Return the loads that stand for ``members``."""
        return [self._left[self.job.alike[member.name]].pop(0) for member in members]


def _outputs(
    names: _Names, columns: Iterable[OutputColumn], sized: Iterable[WiredOutput], free: _Free
) -> Iterator[OnOutput]:
    for column, wired in zip(columns, sized, strict=True):
        circuit = names.job.circuit(names.real(column.wired.circuit.members))
        yield OnOutput(
            port=free.take(column.kind.ports).name,
            loads=tuple(load.name for load in circuit.loads),
            run=wired.run,
            size=wired.drawn.size,
            trip=wired.trip,
            staying=wired.wire.staying,
        )


def _on_input(column: InputColumn, free: _Free) -> OnInput:
    switches = tuple(switch.name for switch in column.wired.circuit.switches)
    return OnInput(free.take(column.kind.ports).name, switches, column.wired.run, column.wired.old)


def _on_multiplexer(column: MultiplexerColumn, used: Sequence[PlacedColumn], free: _Free) -> OnMultiplexer:
    stand = column.wired.stand
    through = (other.wired for other in used if isinstance(other, SwitchColumn) and other.wired.stand == stand)
    return OnMultiplexer(
        name=stand.multiplexer.name,
        at=stand.at,
        port=free.take(column.kind.ports).name,
        run=column.wired.run,
        ways=tuple(OnWay(wired.switch.name, wired.run, wired.old) for wired in through),
        old=column.wired.old,
    )


def _by_port(lines: Iterable[OnPort], order: Sequence[str]) -> tuple[OnPort, ...]:
    return tuple(sorted(lines, key=lambda line: order.index(line.port)))

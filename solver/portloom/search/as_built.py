"""What may stay of a built loom, as columns beside those that are laid anew; and what a change touches and opens.

A built circuit that does not stay is touched: its column is chosen. A leg in which a built wire lies is opened where a
new one is laid: its column is chosen with that of the wire (FORMULATION.md, 'A built loom').
"""

from collections.abc import Collection, Iterable, Iterator, Sequence

from portloom.job.circuits import InputCircuit, OutputCircuit
from portloom.job.fixed import first_conductor, sized_fixed_wires
from portloom.job.fixed_as_built import as_new, new_part, stays
from portloom.job.fixed_wires import FixedWire
from portloom.job.goal import NO_COST, cost_of
from portloom.job.kinds import InputKind, OutputKind
from portloom.job.laid import MultiplexerStand, WiredInput, WiredMultiplexer, WiredSwitch
from portloom.job.losses import Losses
from portloom.job.routed import routed_tree
from portloom.job.site import Site
from portloom.job.touching import Touched, TouchedKind, touchable, touched_wire
from portloom.job.wired import OutputWire, WiredOutput
from portloom.search.columns import (
    Column,
    InputColumn,
    Link,
    MultiplexerColumn,
    OpenedColumn,
    OutputColumn,
    ReturnColumn,
    SumRow,
    SwitchColumn,
    TouchColumn,
)

# --- columns of what stays


def staying_output(site: Site, losses: Losses, circuit: OutputCircuit, kind: OutputKind) -> Iterator[OutputColumn]:
    """Return a circuit on its built output, its wire the built one with what branches off it."""
    standing, output = site.job.built, kind.ports[0]
    if standing is None or output.name not in standing.outputs:
        return
    held = standing.still_on(output.name, (*site.job.loads.on_unit, *site.job.loads.guests))
    face = site.face(output.face)
    if not held or not {load.name for load in circuit.loads}.issuperset(held):
        return
    found = standing.output(output.name, circuit, face)
    if found is not None:
        tree = routed_tree(site, circuit, found.run, face)
        reel = site.job.catalogue[standing.outputs[output.name].size]
        wired = WiredOutput(site, losses, OutputWire(site.job, tree, output, stock=[reel], staying=found))
        price = cost_of(wired)
        yield OutputColumn(wired, kind, price, price.total)


def staying_input(site: Site, circuit: InputCircuit, kind: InputKind) -> Iterator[InputColumn]:
    """Return switches on their built input, the same."""
    standing, port = site.job.built, kind.ports[0]
    if standing is None or port.name not in standing.inputs:
        return
    held = standing.switches_on(port.name, site.job.inputs)
    if not held or not {switch.name for switch in circuit.switches}.issuperset(held):
        return
    found = standing.input(port.name, circuit, site.face(port.face))
    if found is not None:
        wired = WiredInput(site, circuit, found.run, port, found.old)
        price = cost_of(wired)
        yield InputColumn(wired, kind, price, price.total)


def staying_multiplexer(site: Site, stand: MultiplexerStand, kind: InputKind) -> Iterator[MultiplexerColumn]:
    """Return a multiplexer on its built input, where it stands as built."""
    box = None if site.job.built is None else site.job.built.multiplexers.get(stand.multiplexer.name)
    port = kind.ports[0]
    if site.job.built is not None and box is not None and (box.at, box.port) == (stand.at, port.name):
        run = site.job.built.run(box.legs)
        wired = WiredMultiplexer(site, stand, run, port, run)
        price = cost_of(wired)
        yield MultiplexerColumn(wired, kind, price, price.total)


def staying_switch(site: Site, stand: MultiplexerStand, switch: str) -> Iterator[SwitchColumn]:
    """Return a switch on its built way of a multiplexer that stands as built."""
    standing, name = site.job.built, stand.multiplexer.name
    box = None if standing is None else standing.multiplexers.get(name)
    if standing is None or box is None or box.at != stand.at:
        return
    if switch in standing.switches_through(name, site.job.inputs):
        run = standing.way(name, switch)
        known = next(one for one in site.job.inputs if one.name == switch)
        wired = WiredSwitch(site, known, run, stand, run)
        price = cost_of(wired)
        yield SwitchColumn(wired, price, price.total)


# --- columns of what changes


def change_columns(site: Site) -> Iterator[TouchColumn | OpenedColumn]:
    """Return every built circuit as touched, and every leg that has a sleeve as opened; nothing where none is built."""
    standing = site.job.built
    if standing is None:
        return
    for what, _ in touchable(site.job):
        yield TouchColumn(what, None, NO_COST, 0)
    for wire in site.fixed_wires:
        line = standing.fixed.get(wire.key)
        if line is not None:
            more = cost_of(as_new(wire)) - cost_of(wire)
            yield TouchColumn(touched_wire(site.job, line), wire, more, more.total)
    for number in sorted(standing.sleeved):
        yield OpenedColumn(number, site.job.network.legs[number].label)


def change_rows(site: Site, columns: Sequence[Column]) -> Iterator[SumRow]:
    """Return that each built circuit stays or is touched, and what is so in every plan.

    Nothing where no column says what changes: then it is not asked how much does.
    """
    if site.job.built is None:
        return
    of = {column.what: number for number, column in enumerate(columns) if isinstance(column, TouchColumn)}
    for what in (what for what, _ in touchable(site.job) if what in of):
        staying = [(number, 1) for number, column in enumerate(columns) if _stays_as(column, what)]
        yield SumRow(((of[what], 1), *staying), 1, 1, name=("as built", what.said))
    for number, column in enumerate(columns):
        if isinstance(column, TouchColumn) and column.wire is not None and _is_gone(site, column.wire):
            yield SumRow(((number, 1),), 1, 1, name=("as built", column.what.said))
    opened = {column.leg: number for number, column in enumerate(columns) if isinstance(column, OpenedColumn)}
    always = (leg for wire in _placed(site) for leg in wire)
    for leg in sorted(set(always).intersection(opened)):
        yield SumRow(((opened[leg], 1),), 1, 1, name=("opened", site.job.network.legs[leg].label))


def _is_gone(site: Site, wire: FixedWire) -> bool:
    """Tell whether a built wire stays in no plan; how thick a feed must be hangs on the main fuse."""
    return wire.old is None or (wire.kind != "feed" and not stays(wire, first_conductor(site, wire)))


def _placed(site: Site) -> Iterator[tuple[int, ...]]:
    """Return the legs of what is laid anew of wires that no port needs, in every plan."""
    for wire in sized_fixed_wires(site):
        if wire.wire.kind != "alongside" and wire.conductor is not None:
            yield new_part(wire.wire, wire.conductor).legs if wire.wire.kind != "feed" else wire.wire.new_run.legs


def _stays_as(column: Column, what: Touched) -> bool:
    match column:
        case OutputColumn(later=None):
            return what.kind == "output" and column.wired.stays and column.wired.output.name == what.name
        case InputColumn():
            return what.kind == "input" and column.wired.old is not None and column.wired.port.name == what.name
        case MultiplexerColumn():
            box = column.wired.stand.multiplexer.name
            return what.kind == "multiplexer" and column.wired.old is not None and box == what.name
        case _:
            return False


def change_links(site: Site, columns: Sequence[Column]) -> Iterator[Link]:
    """Return that what is laid anew opens the legs that it lies in, and how a multiplexer stays with its switches."""
    standing = site.job.built
    if standing is None:
        return
    opened = {column.leg: number for number, column in enumerate(columns) if isinstance(column, OpenedColumn)}
    for number, column in enumerate(columns):
        for leg in dict.fromkeys(new_legs(column)):
            if leg in opened:
                yield Link(number, (opened[leg],))
    boxes = {
        (column.wired.stand.multiplexer.name): number
        for number, column in enumerate(columns)
        if isinstance(column, MultiplexerColumn) and column.wired.old is not None
    }
    for number, column in enumerate(columns):
        if isinstance(column, SwitchColumn) and column.wired.old is not None:
            box = column.wired.stand.multiplexer.name
            yield Link(number, (boxes[box],) if box in boxes else ())
            if box in boxes:
                yield Link(boxes[box], (number,))


def new_legs(column: Column) -> Iterable[int]:
    """Return the legs in which a column lays new wire."""
    match column:
        case OutputColumn(later=None):
            return column.wired.new_legs
        case InputColumn() | SwitchColumn() | MultiplexerColumn():
            return column.wired.new_run.legs
        case ReturnColumn():
            return column.wire.new_run.legs
        case TouchColumn(wire=wire) if wire is not None:
            return wire.run.legs
        case _:
            return ()


# --- what is least


def weights(columns: Sequence[Column]) -> list[int]:
    """Return how much each column changes, one after the other in one number: what matters, other circuits, legs.

    A leg counts one; a circuit more than all legs together; one that matters more than all these together. So of two
    plans the one of the lesser sum touches less that matters, or as much and less of the rest, or opens fewer legs.
    """
    legs = sum(isinstance(column, OpenedColumn) for column in columns)
    others = sum(isinstance(column, TouchColumn) and not column.what.matters for column in columns)
    of_other, of_mattering = legs + 1, (legs + 1) * (others + 1)

    def weight(column: Column) -> int:
        match column:
            case OpenedColumn():
                return 1
            case TouchColumn():
                return of_mattering if column.what.matters else of_other
            case _:
                return 0

    return [weight(column) for column in columns]


def one_more(site: Site, columns: Sequence[Column], ports: Collection[tuple[TouchedKind, str]]) -> int | None:
    """Return what a plan changes at least that touches more than it must; None where one of these ports can't stay.

    ``ports`` are those on which all columns leave what is built as it is.
    """
    weighed = zip(columns, weights(columns), strict=True)
    touches = [(column, weight) for column, weight in weighed if isinstance(column, TouchColumn)]
    must = [(column, weight) for column, weight in touches if _must(site, column, columns)]
    if any((column.what.kind, column.what.name) in ports for column, _ in must):
        return None
    legs = sum(isinstance(column, OpenedColumn) for column in columns)
    return sum(weight for _, weight in must) + legs + 1


def _must(site: Site, column: TouchColumn, columns: Sequence[Column]) -> bool:
    """Tell whether every plan touches a circuit, or a wire that no port needs."""
    if column.wire is not None:
        return _is_gone(site, column.wire)
    return not any(_stays_as(each, column.what) for each in columns)

"""What a multiplexer adds to the choice at a site: where it stands, on which input, who goes through it.

A used one takes an input; its data and supply lead there, so the way counts twice. A return is needed where its
point has none yet, once for all that stand there.
"""

from collections.abc import Iterator, Sequence

from portloom.base.bike import Switch
from portloom.job.circuits import InputCircuit
from portloom.job.fixed_wires import multiplexer_return
from portloom.job.goal import cost_of
from portloom.job.laid import MultiplexerStand, WiredMultiplexer, WiredSwitch
from portloom.job.network import NOWHERE
from portloom.job.site import Site
from portloom.search.candidates import Candidates
from portloom.search.columns import Column, Link, MultiplexerColumn, ReturnColumn, SumRow, SwitchColumn
from portloom.search.strands import Runs


def multiplexer_columns(site: Site, pairs: Candidates, runs: Runs) -> Iterator[Column]:
    """Each switch on each multiplexer's way, each multiplexer on each kind of input, and the returns they need."""
    boxes = {box.name for box, _ in pairs.multiplexers}
    through = {name: [switch for switch, box in pairs.switches if box.name == name] for name in boxes}
    points: dict[str, None] = {}
    for box in site.job.bike.multiplexers:
        for at in box.at if through.get(box.name) else ():
            points[at] = None
            yield from _switches(site, MultiplexerStand(box, at), through[box.name], runs)
            yield from _on_inputs(site, MultiplexerStand(box, at), pairs, runs)
    for point in points:
        wire = multiplexer_return(site.job, point)
        if wire is not None:
            price = cost_of(wire)
            yield ReturnColumn(wire, price, price.total)


def _switches(site: Site, stand: MultiplexerStand, switches: Sequence[Switch], runs: Runs) -> Iterator[SwitchColumn]:
    for switch in switches:
        run = runs.of_input(InputCircuit((switch,)), stand.at)
        if run is not None:
            wired = WiredSwitch(site, switch, run, stand)
            price = cost_of(wired)
            yield SwitchColumn(wired, price, price.total)


def _on_inputs(site: Site, stand: MultiplexerStand, pairs: Candidates, runs: Runs) -> Iterator[MultiplexerColumn]:
    for box, kind in pairs.multiplexers:
        if box.name == stand.multiplexer.name:
            run = runs.to_face(stand.at, site.face(kind.like.face)) or NOWHERE
            wired = WiredMultiplexer(site, stand, run, kind.ports[0])
            price = cost_of(wired)
            yield MultiplexerColumn(wired, kind, price, price.total)


def multiplexer_links(columns: Sequence[Column]) -> Iterator[Link]:
    """A switch's way is there where its multiplexer stands; a multiplexer stands where a switch goes through it."""
    boxes: dict[MultiplexerStand, list[int]] = {}
    switches: dict[MultiplexerStand, list[int]] = {}
    returns = {column.wire.name: number for number, column in enumerate(columns) if isinstance(column, ReturnColumn)}
    standing: dict[str, list[int]] = {point: [] for point in returns}
    for number, column in enumerate(columns):
        if isinstance(column, SwitchColumn):
            switches.setdefault(column.wired.stand, []).append(number)
        elif isinstance(column, MultiplexerColumn):
            boxes.setdefault(column.wired.stand, []).append(number)
            standing.get(column.wired.stand.at, []).append(number)
    for stand, numbers in switches.items():
        yield from (Link(number, tuple(boxes.get(stand, ()))) for number in numbers)
    for stand, numbers in boxes.items():
        yield from (Link(number, tuple(switches.get(stand, ()))) for number in numbers)
        if stand.at in returns:
            yield from (Link(number, (returns[stand.at],)) for number in numbers)
    yield from (Link(returns[point], tuple(numbers)) for point, numbers in standing.items())


def one_stand_each(columns: Sequence[Column]) -> Iterator[SumRow]:
    """A multiplexer stands at one of its points, on one input, or nowhere."""
    boxes: dict[str, list[tuple[int, int]]] = {}
    for number, column in enumerate(columns):
        if isinstance(column, MultiplexerColumn):
            boxes.setdefault(column.wired.stand.multiplexer.name, []).append((number, 1))
    return (SumRow(tuple(entries), 0, 1, name=("once", name)) for name, entries in boxes.items())

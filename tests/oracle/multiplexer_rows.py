"""Multiplexers in the 0/1 programme: where each stands, on which input, and which switches go through it.

Columns: ("through", switch, (multiplexer, point)); ("data" and "supply", (multiplexer, point),
input), two equal wires; ("return", point, None) for a point that has none otherwise.
"""

from collections import defaultdict
from itertools import product
from math import inf

from .guards import may_be_on
from .multiplexing import goes_through, port_takes, return_column, way_column, wire_column
from .programme import Model
from .site import Site
from .things import Multiplexer

Spot = tuple[Multiplexer, str]
Terms = dict[int, int]


def add_columns(site: Site, model: Model) -> None:
    """Add the columns of all multiplexers of a bike."""
    spots = [(box, point) for box in site.bike.multiplexers for point in box.points]
    for (box, point), switch in product(spots, site.bike.switches):
        way = way_column(site, switch, point) if goes_through(switch, box) else None
        if way is not None:
            model.column(("through", switch, (box, point)), way.cost_um, way)
    for (box, point), port in product(spots, site.unit.inputs):
        wire = wire_column(site, point, port) if port_takes(box, port) and may_be_on(site.bike, (), port.name) else None
        if wire is not None:
            model.column(("data", (box, point), port), wire.cost_um, wire)
            model.column(("supply", (box, point), port), wire.cost_um, wire)
    for point in dict.fromkeys(point for _, point in spots):
        back = return_column(site, point)
        if back is not None:
            model.column(("return", point, None), back.cost_um, back)


def add_rows(model: Model) -> None:
    """Let a multiplexer stand once where switches go through it, no more than it has ways, with its return."""
    through, standing = defaultdict[Spot, list[int]](list), defaultdict[Spot, list[int]](list)
    for number, (what, held, port) in enumerate(model.meanings):
        if what == "through":
            through[port].append(number)
            standing[port] += []
        elif what == "data":
            standing[held].append(number)
            model.row({number: 1, number + 1: -1}, 0, 0)
    boxes = defaultdict[Multiplexer, Terms](dict)
    for spot, stands in standing.items():
        boxes[spot[0]] |= dict.fromkeys(stands, 1)
        _ways(model, spot[0].ways, through[spot], stands)
    for terms in boxes.values():
        model.row(terms, -inf, 1)
    _returns(model, standing)


def _ways(model: Model, ways: int | None, through: list[int], stands: list[int]) -> None:
    """Let switches through only where it stands, and let it stand only where there are any."""
    for number in through:
        model.row({number: 1, **dict.fromkeys(stands, -1)}, -inf, 0)
    model.row({**dict.fromkeys(stands, 1), **dict.fromkeys(through, -1)}, -inf, 0)
    if ways is not None:
        model.row({**dict.fromkeys(through, 1), **dict.fromkeys(stands, -ways)}, -inf, 0)


def _returns(model: Model, standing: dict[Spot, list[int]]) -> None:
    for number, (what, point, _) in enumerate(model.meanings):
        if what == "return":
            there = [stand for spot, stands in standing.items() if spot[1] == point for stand in stands]
            model.row({number: 1, **dict.fromkeys(there, -1)}, -inf, 0)
            for stand in there:
                model.row({stand: 1, number: -1}, -inf, 0)

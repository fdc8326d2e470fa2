"""The optimum by plain enumeration of which thing sits on which single port; no solver."""

from collections.abc import Callable, Iterator
from dataclasses import dataclass
from itertools import combinations
from typing import TypeVar

from .circuits import Circuit, circuit, may_join, may_share
from .drive import Column
from .electrics import input_fits, trip_ma
from .guards import may_be_on
from .job import Laid
from .judge import Plan, Result, cost_um, later_fits, links_kept, room_kept, totals_kept
from .multiplexing import Stand, return_columns, stand_columns
from .reading import on_unit
from .sendings import sendings, standings
from .site import Site
from .sites import over_all_sites
from .things import InPort, Later, Output, Switch

Thing = TypeVar("Thing")
Port = TypeVar("Port")
Seated = list[tuple[tuple[Switch, ...], InPort]]
Wired = tuple[Seated, tuple[Stand, ...]]
"""What is on the inputs: switches, and multiplexers."""


def optimum(bike_text: str, unit_text: str) -> Result:
    """Take a bike's and a unit's YAML; give the optimum of every place and turn."""
    return over_all_sites(bike_text, unit_text, best_at)


def seatings(
    things: list[Thing],
    ports: tuple[Port, ...],
    takes: Callable[[Thing, Port], bool],
    together: Callable[[Thing, Thing], bool],
) -> Iterator[list[tuple[list[Thing], Port]]]:
    """Return every way to put each thing on one port, those on one port allowed together."""
    seats: list[list[Thing]] = [[] for _ in ports]

    def seat(number: int) -> Iterator[list[tuple[list[Thing], Port]]]:
        if number == len(things):
            yield [(list(held), port) for held, port in zip(seats, ports, strict=True) if held]
            return
        for held, port in zip(seats, ports, strict=True):
            if takes(things[number], port) and all(together(things[number], other) for other in held):
                held.append(things[number])
                yield from seat(number + 1)
                held.pop()

    return seat(0)


@dataclass(frozen=True)
class Half:
    """The columns of all outputs, or of all inputs, and their cost (um)."""

    cost_um: int
    columns: tuple[Column, ...]


def best_at(site: Site) -> int | None:
    """Return the least cost (um) at a site; None if no plan is possible."""
    inputs = _input_halves(site)
    best: int | None = None
    worth = sum(later.worth_um for later in site.bike.later)
    for outputs, half in sorted(_output_halves(site), key=lambda entry: entry[1].cost_um) if inputs else ():
        bound = site.fixed_um() + half.cost_um + inputs[0][1].cost_um
        if best is not None and bound >= best:
            break
        if not totals_kept(site, Plan(outputs, (), ())):
            continue
        later = _best_later(site, outputs)
        bound += worth - sum(placed.worth_um for placed, _ in later)
        sized = site.laid(half.columns) if best is None or bound < best else None
        if sized is None:
            continue
        found = _best_with_inputs(site, (outputs, sized), inputs, later)
        if found is not None and (best is None or found < best):
            best = found
    return best


def every_wiring(site: Site) -> Iterator[Wired]:
    """Return every way to wire the switches, each to one input or one multiplexer."""
    for straight, sent in sendings(site.bike):
        for seating in seatings(straight, site.unit.inputs, input_fits, may_join):
            seated = [(tuple(held), port) for held, port in seating]
            taken = [port for _, port in seated]
            alive = [port for port in site.unit.inputs if may_be_on(site.bike, (), port.name)]
            for stands in standings(sent, [port for port in alive if port not in taken]):
                yield seated, stands


def _input_halves(site: Site) -> list[tuple[Wired, Half]]:
    """Return every wiring of the switches, cheapest first; of those with equal effect only one."""
    kept: dict[object, tuple[Wired, Half]] = {}
    for seated, stands in every_wiring(site):
        columns = [site.input_column(held, port) for held, port in seated]
        columns += [column for stand in stands for column in stand_columns(site, stand)]
        columns += return_columns(site, stands)
        able = tuple(column for column in columns if column is not None)
        if len(able) == len(columns):
            half = Half(sum(column.cost_um for column in able), able)
            kept.setdefault(_effect(site, seated, half), ((seated, stands), half))
    return sorted(kept.values(), key=lambda entry: entry[1].cost_um)


def _effect(site: Site, seated: Seated, half: Half) -> object:
    followed = {output.follow for output in site.unit.outputs}
    runs = sorted(sorted(wire.run) for column in half.columns for wire in column.wires)
    return str(runs), frozenset((held, port.name) for held, port in seated if port.name in followed)


def _output_halves(site: Site) -> Iterator[tuple[tuple[tuple[Circuit, Output], ...], Half]]:
    loads = on_unit(site.bike)
    shared = {frozenset((one, other)) for one, other in combinations(loads, 2) if may_share(site.bike, one, other)}
    made: dict[tuple[str, ...], Circuit] = {}
    # What a port cannot drive alone it cannot drive in company.
    drives = {
        (load, output) for load in loads for output in site.unit.outputs if trip_ma(circuit(site.bike, [load]), output)
    }
    for seating in seatings(
        loads,
        site.unit.outputs,
        lambda load, output: (load, output) in drives,
        lambda one, other: frozenset((one, other)) in shared,
    ):
        outputs = []
        for held, output in seating:
            key = tuple(load.name for load in held)
            outputs.append((made.setdefault(key, circuit(site.bike, held)), output))
        columns = [site.output_column(held, output) for held, output in outputs]
        fitting = tuple(column for column in columns if column is not None)
        if len(fitting) == len(columns):
            yield tuple(outputs), Half(sum(column.cost_um for column in fitting), fitting)


def _best_later(site: Site, outputs: tuple[tuple[Circuit, Output], ...]) -> tuple[tuple[Later, Output], ...]:
    """Return the placing of later loads that loses least worth beside these circuits."""
    taken = {output for _, output in outputs}
    free: list[Output | None] = [None, *(output for output in site.unit.outputs if output not in taken)]
    best: tuple[tuple[Later, Output], ...] = ()
    for placed in _later_choices(site, list(site.bike.later), free):
        better = sum(x.worth_um for x, _ in placed) > sum(x.worth_um for x, _ in best)
        if better and totals_kept(site, Plan(outputs, (), placed)):
            best = placed
    return best


def _later_choices(
    site: Site, later: list[Later], free: list[Output | None]
) -> Iterator[tuple[tuple[Later, Output], ...]]:
    if not later:
        yield ()
        return
    for output in free:
        if output is None:
            yield from _later_choices(site, later[1:], free)
        elif later_fits(site, later[0], output):
            rest = [other for other in free if other is not output]
            for others in _later_choices(site, later[1:], rest):
                yield ((later[0], output), *others)


def _best_with_inputs(
    site: Site,
    sized: tuple[tuple[tuple[Circuit, Output], ...], list[Laid]],
    inputs: list[tuple[Wired, Half]],
    later: tuple[tuple[Later, Output], ...],
) -> int | None:
    outputs, laid = sized
    for (seated, stands), half in inputs:
        plan, thin = Plan(outputs, tuple(seated), later, stands), [w for column in half.columns for w in column.wires]
        if links_kept(site, plan) and room_kept(site, laid + thin):
            return cost_um(site, plan)
    return None

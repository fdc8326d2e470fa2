"""The optimum by HiGHS: one 0/1 column for each (circuit, single port).

The solution is rounded, judged and priced again in whole numbers; the bound that HiGHS
proves must come within half a unit of that price. Sizes in the looms, which depend on the
whole plan, are judged afterwards: a choice of columns that has none is forbidden, and the
programme solved again. Until then each wire counts at the thinnest that it can have.
"""

from collections import defaultdict
from collections.abc import Sequence
from itertools import product
from math import inf
from typing import Any

from scipy.optimize import OptimizeResult

from .circuits import all_circuits, circuit, groups, may_join
from .job import Laid
from .judge import Plan, Result, cost_um, later_fits
from .lazily import forbid
from .matched import apart
from .multiplexer_rows import add_columns, add_rows
from .multiplexing import Stand
from .programme import Model, solved
from .reading import on_unit
from .site import Site
from .sites import over_all_sites
from .things import InPort, Leg, Multiplexer

ON_PORTS = ("circuit", "switches", "later", "data")
DRAWING = ("circuit", "later")


def optimum(bike_text: str, unit_text: str) -> Result:
    """Take a bike's and a unit's YAML; give the optimum of every place and turn."""
    return over_all_sites(bike_text, unit_text, best_at)


def best_at(site: Site) -> int | None:
    """Return the least cost (um) at a site; None if no plan is possible."""
    plan = best_plan(site)
    return None if plan is None else cost_um(site, plan)


def best_plan(site: Site) -> Plan | None:
    """Return a cheapest plan at a site; None if no plan is possible."""
    model = programme_of(site)
    if any(not terms and not low <= 0 <= high for terms, low, high in model.rows):
        return None
    if not model.costs:
        return Plan((), (), ())
    while True:
        answer = solved(model)
        if answer is None:
            return None
        chosen = [number for number, value in enumerate(answer.x) if round(value) == 1]
        if not forbid(site, model, chosen):
            return _verified(site, model, answer, chosen)


def programme_of(site: Site) -> Model:
    """Return the programme of a site, before anything is forbidden for the sizes in its looms."""
    model = Model()
    _columns(site, model)
    _cover(site, model)
    _budgets(site, model)
    openings(model, site.bike.legs, site.fixed)
    _links(site, model)
    _alike(site, model)
    add_rows(model)
    return model


def _columns(site: Site, model: Model) -> None:
    for held, output in product(all_circuits(site.bike), site.unit.outputs):
        column = site.output_column(held, output)
        if column is not None:
            model.column(("circuit", held, output), column.cost_um, column)
    for switches, port in product(groups(list(site.bike.switches), may_join), site.unit.inputs):
        column = site.input_column(switches, port)
        if column is not None:
            model.column(("switches", switches, port), column.cost_um, column)
    for later, output in product(site.bike.later, site.unit.outputs):
        if later_fits(site, later, output):
            model.column(("later", later, output), -later.worth_um, None)
    add_columns(site, model)


def _cover(site: Site, model: Model) -> None:
    exactly, most = defaultdict[Any, dict[int, int]](dict), defaultdict[Any, dict[int, int]](dict)
    for load in on_unit(site.bike):
        exactly[load] = {}
    for switch in site.bike.switches:
        exactly[switch] = {}
    for number, (what, held, port) in enumerate(model.meanings):
        if what in ON_PORTS and not port.many:
            most[port][number] = 1
        if what == "later":
            most[held][number] = 1
        for thing in _covered(what, held):
            exactly[thing][number] = 1
    for terms in exactly.values():
        model.row(terms, 1, 1)
    for terms in most.values():
        model.row(terms, -inf, 1)


def _covered(what: str, held: Any) -> tuple[Any, ...]:
    if what == "circuit":
        return tuple(held.loads)
    if what == "through":
        return (held,)
    return tuple(held) if what == "switches" else ()


def _budgets(site: Site, model: Model) -> None:
    for case in site.job.cases:
        unit, banks = dict[int, int](), defaultdict[str, dict[int, int]](dict)
        for number, (what, held, port) in enumerate(model.meanings):
            if what not in DRAWING:
                continue
            held_names = held.names if what == "circuit" else {held.load.name}
            if held_names & case.on:
                steady = held.steady_ma if what == "circuit" else held.load.current_ma
                unit[number] = banks[port.bank][number] = steady
        model.row(unit, -inf, site.unit.limit_ma)
        for bank, limit in site.unit.banks.items():
            model.row(banks[bank], -inf, limit)


def openings(model: Model, legs: Sequence[Leg], always: Sequence[Laid]) -> None:
    """Add the rows of all openings, for the wires of columns and those that every plan has."""
    for leg in legs:
        if leg.room_um is None:
            continue
        fixed = [laid.diameter_um for laid in always if leg.number in laid.run]
        passing = {
            number: here
            for number, column in enumerate(model.held)
            if column is not None
            if (here := [wire.diameter_um for wire in column.wires if leg.number in wire.run])
        }
        _area(model, leg.room_um, fixed, passing)
        _pairs(model, leg.room_um, fixed, passing)


def _area(model: Model, room: int, fixed: list[int], passing: dict[int, list[int]]) -> None:
    left = 16 * max(room, 0) ** 2 - 25 * sum(d * d for d in fixed)
    model.row({number: 25 * sum(d * d for d in here) for number, here in passing.items()}, -inf, left)


def _pairs(model: Model, room: int, fixed: list[int], passing: dict[int, list[int]]) -> None:
    if sum(sorted(fixed)[-2:]) > room and fixed:
        model.row({}, 1, 1)
    for number, here in passing.items():
        if max(here) + max(fixed, default=0) > room or sum(sorted(here)[-2:]) > room:
            model.row({number: 1}, -inf, 0)
    ordered = sorted(passing)
    for place, one in enumerate(ordered):
        for other in ordered[place + 1 :]:
            if max(passing[one]) + max(passing[other]) > room:
                model.row({one: 1, other: 1}, -inf, 1)


def _links(site: Site, model: Model) -> None:
    for number, (what, held, output) in enumerate(model.meanings):
        if what != "circuit":
            continue
        if not site.suffices(held):
            model.row({number: 1}, -inf, 0)
        if output.follow and not any(held.names <= switch.operates for switch in site.bike.gone_switches):
            helps = {
                other: -1
                for other, (kind, switches, port) in enumerate(model.meanings)
                if kind == "switches"
                and port.name == output.follow
                and any(held.names <= switch.operates for switch in switches)
            }
            model.row({number: 1, **helps}, -inf, 0)


def _alike(site: Site, model: Model) -> None:
    """No two circuits with loads whose outputs must be alike are on outputs that are not."""
    circuits = ((n, held, port) for n, (what, held, port) in enumerate(model.meanings) if what == "circuit")
    for one, other in apart(site.bike, circuits):
        model.row({one: 1, other: 1}, -inf, 1)


def _verified(site: Site, model: Model, answer: OptimizeResult, numbers: list[int]) -> Plan:
    """Round, judge and price the solution exactly. Raises ArithmeticError if it does not stand."""
    plan = plan_of(site, [model.meanings[number] for number in numbers])
    exact = cost_um(site, plan)
    constant = site.fixed_um() + sum(later.worth_um for later in site.bike.later)
    if exact is None or (exact - constant) / model.factor > answer.mip_dual_bound + 0.5:
        msg = f"HiGHS gave {answer.fun}, exactly {exact}, bound {answer.mip_dual_bound}"
        raise ArithmeticError(msg)
    return plan


def plan_of(site: Site, chosen: list[tuple[str, Any, Any]]) -> Plan:
    """Return the plan that chosen columns stand for."""
    outputs = tuple((circuit(site.bike, held.loads), port) for what, held, port in chosen if what == "circuit")
    inputs = tuple((held, port) for what, held, port in chosen if what == "switches")
    later = tuple((held, port) for what, held, port in chosen if what == "later")
    stands = tuple(_stand(chosen, held, port) for what, held, port in chosen if what == "data")
    return Plan(outputs, inputs, later, stands)


def _stand(chosen: list[tuple[str, Any, Any]], spot: tuple[Multiplexer, str], port: InPort) -> Stand:
    box, point = spot
    return Stand(box, point, port, tuple(held for what, held, there in chosen if what == "through" and there == spot))

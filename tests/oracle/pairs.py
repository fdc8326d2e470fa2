"""The optimum for two units by HiGHS: both units and both main fuses in one 0/1 programme for each two places.

Columns: ("circuit", circuit, output), ("later", load, output), ("switches", (unit, switches),
input), ("fuse", unit, mA). A circuit needs a fuse with which its output takes it. Sizes in the
looms are judged afterwards, with each pair of fuses that the columns allow; where none will do,
rows are added that say so for these fuses, and the programme is solved again.
"""

from itertools import product
from math import inf
from typing import Any

from scipy.optimize import OptimizeResult

from .circuits import circuit
from .drive import Column
from .highs import openings
from .judge import Plan
from .lazily import forbid
from .pair import Fuses, Pair, Spots, Two
from .pair_judge import PairPlan, PairResult, fuse_carries, pair_cost_um
from .pair_rows import EITHER, PairModel, add_rows, always_laid, pair_model
from .profiles import read_unit
from .programme import Model, solved
from .reading import read_bike


def optimum(bike_text: str, first_text: str, second_text: str) -> PairResult:
    """Take the YAML of a bike and of two units; give the optimum of every two places."""
    two = Two(read_bike(bike_text), (read_unit(first_text), read_unit(second_text)))
    found = {spots: best_plan(two, spots) for spots in two.spots()}
    return pair_result(two, found)


def pair_result(two: Two, found: dict[Spots, PairPlan | None]) -> PairResult:
    """Take the best plan of each two places, None where there is none; give the whole result."""
    costs = {spots: pair_cost_um(two, plan) if plan else None for spots, plan in found.items()}
    least = min((cost for cost in costs.values() if cost is not None), default=None)
    plan = next((plan for spots, plan in found.items() if plan and costs[spots] == least), None)
    named = {((one[0].name, one[1]), (other[0].name, other[1])): cost for (one, other), cost in costs.items()}
    return PairResult(least, plan, named)


def best_plan(two: Two, spots: Spots) -> PairPlan | None:
    """Return a cheapest plan with the units at two places; None if no plan is possible."""
    made = pair_model(two, spots)
    if made is None:
        return None
    add_rows(made)
    openings(made.model, two.bike.legs, always_laid(made))
    while all(terms or low <= 0 <= high for terms, low, high in made.model.rows):
        answer = solved(made.model)
        if answer is None:
            return None
        chosen = [number for number, value in enumerate(answer.x) if round(value) == 1]
        fuses = _fuses_or_rows(made, spots, chosen)
        if fuses is not None:
            return _verified(made, answer, PairPlan(spots, fuses, plans_of(made, chosen)))
    return None


def _fuses_or_rows(made: PairModel, spots: Spots, chosen: list[int]) -> Fuses | None:
    """Return the first fuses with which the wires of a plan have sizes and room; where none will do, add rows."""
    rows = []
    for fuses in _allowed(made, chosen):
        row = _against(made, made.two.pair(spots, fuses), chosen, fuses)
        if row is None:
            return fuses
        rows.append(row)
    for terms, most in rows:
        made.model.row(terms, -inf, most)
    return None


def _allowed(made: PairModel, chosen: list[int]) -> list[Fuses]:
    """Return the pairs of fuses that go with the columns of a plan and carry what it draws, small ones first."""
    plans, able = plans_of(made, chosen), []
    for unit in EITHER:
        asked = [set(made.by_fuse[n]) for n in chosen if made.units[n] == unit and made.by_fuse[n]]
        able.append(
            [
                fuse
                for fuse, site in made.sites[unit].items()
                if all(fuse in fuses for fuses in asked) and fuse_carries(site, plans[unit])
            ]
        )
    return sorted(product(able[0], able[1]), key=lambda fuses: (sum(fuses), fuses))


def _against(made: PairModel, pair: Pair, chosen: list[int], fuses: Fuses) -> tuple[dict[int, int], int] | None:
    """Return a row that forbids some of the chosen columns with these fuses; None if these will do."""
    fused = {n: 1 for unit in EITHER for n, _, fuse in made.each("fuse", unit) if fuse == fuses[unit]}
    if not pair.sound:
        return fused, 1
    model = made.model
    held = [_with_fuse(made, number, fuses) for number in range(len(model.costs))]
    view = Model(model.meanings, model.costs, held)
    if not forbid(pair, view, chosen):
        return None
    terms, _, most = view.rows[0]
    return terms | fused, int(most) + 2


def _with_fuse(made: PairModel, number: int, fuses: Fuses) -> Column | None:
    """Return a column as it is with these fuses; None for one that lays no wire of its own."""
    if made.model.meanings[number][0] == "switches":
        return made.model.held[number]
    return made.by_fuse[number].get(fuses[made.units[number]])


def plans_of(made: PairModel, chosen: list[int]) -> tuple[Plan, Plan]:
    """Return what is on the ports of both units."""
    return _plan_of(made, chosen, 0), _plan_of(made, chosen, 1)


def _plan_of(made: PairModel, chosen: list[int], unit: int) -> Plan:
    def each(what: str) -> list[tuple[Any, Any]]:
        return [(held, port) for number, held, port in made.each(what, unit) if number in chosen]

    outputs = tuple((circuit(made.two.bike, held.loads), port) for held, port in each("circuit"))
    inputs = tuple((switches, port) for (_, switches), port in each("switches"))
    return Plan(outputs, inputs, tuple(each("later")))


def _verified(made: PairModel, answer: OptimizeResult, plan: PairPlan) -> PairPlan:
    """Judge and price a plan exactly. Raises ArithmeticError if it does not stand."""
    exact = pair_cost_um(made.two, plan)
    constant = made.two.pair(plan.spots, plan.fuses_ma).fixed_um() + sum(x.worth_um for x in made.two.bike.later)
    if exact is None or (exact - constant) / made.model.factor > answer.mip_dual_bound + 0.5:
        msg = f"HiGHS gave {answer.fun}, exactly {exact}, bound {answer.mip_dual_bound}"
        raise ArithmeticError(msg)
    return plan

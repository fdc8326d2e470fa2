"""Whether a whole plan for two units keeps the rules, and its exact cost; no solver."""

from collections.abc import Sequence
from dataclasses import dataclass

from .drive import Column
from .judge import Plan, later_fits, links_kept, room_kept, totals_kept
from .matched import matched
from .pair import Fuses, Pair, Spots, Two, reserved_ma
from .reading import on_unit
from .site import Site
from .wanting import together, wanted_for, wants


@dataclass(frozen=True)
class PairPlan:
    """Where both units are, their main fuses (mA), and what is on the ports of each."""

    spots: Spots
    fuses_ma: Fuses
    plans: tuple[Plan, Plan]


@dataclass(frozen=True)
class PairResult:
    """The optimum (um) and a plan for it, None if there is none; the optimum of each (place, turned) of both."""

    cost_um: int | None
    plan: PairPlan | None
    per_place: dict[tuple[tuple[str, bool], tuple[str, bool]], int | None]


def pair_cost_um(two: Two, plan: PairPlan) -> int | None:
    """Return the exact cost (um) of a plan; None if it breaks a rule."""
    pair = two.pair(plan.spots, plan.fuses_ma)
    apart = plan.spots[0][0].name != plan.spots[1][0].name
    if not (apart and pair.sound and _covers(pair, plan) and switches_right(pair, plan.plans)):
        return None
    if not matched(pair.bike, (driven for part in plan.plans for driven in part.outputs)):
        return None
    both = list(zip(pair.sites, plan.plans, strict=True))
    columns = [column for site, part in both for column in _columns(site, part)]
    able = [column for column in columns if column is not None]
    if len(able) < len(columns) or not all(_unit_keeps(site, part) for site, part in both):
        return None
    laid = pair.laid(able) if _kept_together(pair, plan.plans) else None
    if laid is None or not room_kept(pair, laid):
        return None
    placed = {later.load.name for part in plan.plans for later, _ in part.later}
    lost = sum(later.worth_um for later in pair.bike.later if later.load.name not in placed)
    return pair.fixed_um() + sum(column.cost_um for column in able) + lost


def _columns(site: Site, plan: Plan) -> list[Column | None]:
    found: list[Column | None] = [site.output_column(held, output) for held, output in plan.outputs]
    return found + [site.input_column(switches, port) for switches, port in plan.inputs]


def _unit_keeps(site: Site, plan: Plan) -> bool:
    return (
        links_kept(site, plan)
        and totals_kept(site, plan)
        and fuse_carries(site, plan)
        and all(later_fits(site, later, output) for later, output in plan.later)
    )


def fuse_carries(site: Site, plan: Plan) -> bool:
    """Tell whether the main fuse is at least 1.25 x what its unit's loads draw, later ones not counted, in any case."""
    most = reserved_ma(site.fuse_ma)
    return all(
        sum(held.steady_ma for held, _ in plan.outputs if held.names & case.on) <= most for case in site.job.cases
    )


def _kept_together(pair: Pair, plans: Sequence[Plan]) -> bool:
    """Tell whether loads that belong on one unit are."""
    there = [names_on(plan) for plan in plans]
    crowds = ({load.name for load in crowd} for crowd in together(pair.bike))
    return all(any(crowd <= names for names in there) for crowd in crowds)


def names_on(plan: Plan) -> frozenset[str]:
    """Return the names of the loads on the outputs of one unit."""
    return frozenset(name for held, _ in plan.outputs for name in held.names)


def switches_right(pair: Pair, plans: Sequence[Plan]) -> bool:
    """Tell whether each switch is once on each unit that wants it and on no other, or once where none does."""
    for switch in pair.bike.switches:
        found = [sum(switch in held for held, _ in plan.inputs) for plan in plans]
        wanted = [int(wants(pair.bike, names_on(plan), switch)) for plan in plans]
        if found not in ([wanted] if wanted_for(pair.bike, switch) else ([1, 0], [0, 1])):
            return False
    return True


def _covers(pair: Pair, plan: PairPlan) -> bool:
    """Tell whether each load is on one unit, each later load on one at most, and no port is used twice."""
    loads = sorted(name for part in plan.plans for held, _ in part.outputs for name in held.names)
    later = [placed.load.name for part in plan.plans for placed, _ in part.later]
    ports = [
        [port.name for _, port in ports] for part in plan.plans for ports in ((*part.outputs, *part.later), part.inputs)
    ]
    return loads == sorted(load.name for load in on_unit(pair.bike)) and all(
        len(names) == len(set(names)) for names in (later, *ports)
    )

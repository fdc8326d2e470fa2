"""The optimum for two units by plain enumeration of which thing sits on which port of which unit; no solver."""

from collections.abc import Iterator
from dataclasses import dataclass
from functools import cache
from itertools import combinations, product

from .brute import seatings
from .circuits import Circuit, circuit, may_join, may_share
from .electrics import input_fits, trip_ma
from .judge import Plan, later_fits, totals_kept
from .pair import Pair, Spots, Two
from .pair_judge import PairPlan, PairResult, fuse_carries, pair_cost_um
from .pairs import pair_result
from .profiles import read_unit
from .reading import on_unit, read_bike
from .site import Site
from .things import InPort, Later, Output, Switch
from .wanting import together, wanted_for, wants

EITHER = (0, 1)
Driven = tuple[tuple[Circuit, Output], ...]
Seated = tuple[tuple[tuple[Switch, ...], InPort], ...]
Placed = tuple[tuple[Later, Output], ...]


@dataclass(frozen=True)
class Half:
    """The circuits of both units, the fuses (mA) that each may have with them, and what they cost (um)."""

    cost_um: int
    driven: tuple[Driven, Driven]
    fuses: tuple[list[int], list[int]]


def optimum(bike_text: str, first_text: str, second_text: str) -> PairResult:
    """Take the YAML of a bike and of two units; give the optimum of every two places."""
    two = Two(read_bike(bike_text), (read_unit(first_text), read_unit(second_text)))
    return pair_result(two, {spots: best_plan(two, spots) for spots in two.spots()})


def best_plan(two: Two, spots: Spots) -> PairPlan | None:
    """Return a cheapest plan with the units at two places; None if no plan is possible."""
    best: tuple[int, PairPlan] | None = None
    wirings = cache(lambda wanted: _wirings(two, spots, wanted))
    for half in sorted(_halves(two, spots), key=lambda one: one.cost_um):
        run = _fixed_um(two, spots) + half.cost_um
        for cost, seated in wirings(_wanted(two, half)):
            if best is not None and run + cost >= best[0]:
                break
            best = min(filter(None, (best, _best_with(two, spots, half, seated))), key=lambda one: one[0], default=None)
    return best[1] if best else None


def _fixed_um(two: Two, spots: Spots) -> int:
    feeds = (two.job.path(two.bike.battery, two.site(n, spots[n], two.fuses_ma(n)[0]).feed_face) for n in EITHER)
    return two.job.fixed_um + sum(two.job.frame.length_um(run) for run in feeds)


def _halves(two: Two, spots: Spots) -> Iterator[Half]:
    """Return every seating of the loads, with the fuses that each unit may have by itself."""
    loads = on_unit(two.bike)
    shared = {frozenset((one, other)) for one, other in combinations(loads, 2) if may_share(two.bike, one, other)}
    ports = tuple((number, output) for number in EITHER for output in two.units[number].outputs)
    made: dict[tuple[str, ...], Circuit] = {}
    for seating in seatings(
        loads,
        ports,
        lambda load, port: trip_ma(circuit(two.bike, [load]), port[1]) is not None,
        lambda one, other: frozenset((one, other)) in shared,
    ):
        circuits = [made.setdefault(tuple(x.name for x in some), circuit(two.bike, some)) for some, _ in seating]
        held = list(zip(circuits, (port for _, port in seating), strict=True))
        if _kept_together(two, held):
            driven = tuple(tuple((one, output) for one, (unit, output) in held if unit == number) for number in EITHER)
            yield from _half(two, spots, (driven[0], driven[1]))


def _kept_together(two: Two, held: list[tuple[Circuit, tuple[int, Output]]]) -> bool:
    where = {load: unit for one, (unit, _) in held for load in one.loads}
    return all(len({where[load] for load in crowd}) < len(EITHER) for crowd in together(two.bike))


def _half(two: Two, spots: Spots, driven: tuple[Driven, Driven]) -> Iterator[Half]:
    fuses: list[list[int]] = []
    cost = 0
    for number in EITHER:
        able = {}
        for fuse in two.fuses_ma(number):
            site = two.site(number, spots[number], fuse)
            price = _price_um(site, driven[number]) if site.sound else None
            if price is not None:
                able[fuse] = price
        if not able:
            return
        fuses.append(list(able))
        cost += min(able.values())
    yield Half(cost, driven, (fuses[0], fuses[1]))


def _price_um(site: Site, driven: Driven) -> int | None:
    """Return what the circuits of one unit cost (um); None if they can't be."""
    plan = Plan(driven, (), ())
    if not (totals_kept(site, plan) and fuse_carries(site, plan)):
        return None
    columns = [site.output_column(held, output) for held, output in driven]
    able = [column.cost_um for column in columns if column is not None]
    return sum(able) if len(able) == len(columns) else None


def _wanted(two: Two, half: Half) -> tuple[tuple[bool, bool], ...]:
    """Give, for each switch, whether each unit wants it."""
    there = [[name for held, _ in driven for name in held.names] for driven in half.driven]
    return tuple((wants(two.bike, there[0], switch), wants(two.bike, there[1], switch)) for switch in two.bike.switches)


def _wirings(two: Two, spots: Spots, wanted: tuple[tuple[bool, bool], ...]) -> list[tuple[int, tuple[Seated, Seated]]]:
    """Return every wiring of the switches with its cost (um), cheapest first."""
    choices = [
        [want] if wanted_for(two.bike, switch) else [(True, False), (False, True)]
        for switch, want in zip(two.bike.switches, wanted, strict=True)
    ]
    found = []
    for chosen in product(*choices):
        each = [[s for s, units in zip(two.bike.switches, chosen, strict=True) if units[number]] for number in EITHER]
        halves = [list(_seated(two, spots, number, each[number])) for number in EITHER]
        found += [(a + b, (one, other)) for (a, one), (b, other) in product(*halves)]
    return sorted(found, key=lambda entry: entry[0])


def _seated(two: Two, spots: Spots, number: int, switches: list[Switch]) -> Iterator[tuple[int, Seated]]:
    site = two.site(number, spots[number], two.fuses_ma(number)[0])
    for seating in seatings(switches, two.units[number].inputs, input_fits, may_join):
        seated = tuple((tuple(held), port) for held, port in seating)
        columns = [site.input_column(held, port) for held, port in seated]
        able = [column.cost_um for column in columns if column is not None]
        if len(able) == len(columns):
            yield sum(able), seated


def _best_with(two: Two, spots: Spots, half: Half, seated: tuple[Seated, Seated]) -> tuple[int, PairPlan] | None:
    """Return the best choice of fuses and later loads for all else."""
    best: tuple[int, PairPlan] | None = None
    for fuses in product(*half.fuses):
        pair = two.pair(spots, (fuses[0], fuses[1]))
        for later in _later(pair, half) if pair.sound else ():
            plans = tuple(Plan(half.driven[n], seated[n], later[n]) for n in EITHER)
            plan = PairPlan(spots, (fuses[0], fuses[1]), (plans[0], plans[1]))
            cost = pair_cost_um(two, plan)
            if cost is not None and (best is None or cost < best[0]):
                best = cost, plan
    return best


def _later(pair: Pair, half: Half) -> Iterator[tuple[Placed, Placed]]:
    """Return every choice of free outputs, of either unit, for the later loads."""
    taken = [output for driven in half.driven for _, output in driven]
    free = [(n, output) for n in EITHER for output in pair.sites[n].unit.outputs if output not in taken]
    for chosen in product([None, *free], repeat=len(pair.bike.later)):
        some = [seat for seat in chosen if seat is not None]
        fits = all(
            seat is None or later_fits(pair.sites[seat[0]], later, seat[1])
            for later, seat in zip(pair.bike.later, chosen, strict=True)
        )
        if fits and len(some) == len(set(some)):
            pairs = list(zip(pair.bike.later, chosen, strict=True))
            yield _placed(pairs, 0), _placed(pairs, 1)


def _placed(pairs: list[tuple[Later, tuple[int, Output] | None]], number: int) -> Placed:
    return tuple((later, seat[1]) for later, seat in pairs if seat is not None and seat[0] == number)

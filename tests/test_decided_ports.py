"""Plans in which ports are decided, against HiGHS and against trying everything; and what decides nothing.

The second program reads what is decided of ports by itself, port by port; HiGHS comes with scipy.
"""

from collections.abc import Sequence
from functools import cache
from itertools import combinations

import yaml

from calls import ROOT
from explained import questions_on
from oracle import brute, highs
from oracle.random_bikes import random_case
from portloom.base.bike import Bike
from portloom.base.clock import Clock
from portloom.explaining.conflicts.find import first_conflict
from portloom.explaining.conflicts.kept import Instance
from portloom.explaining.conflicts.question import Questions
from portloom.explaining.decisions import prices_of_decisions
from portloom.explaining.fixes.hunt import fixes_of
from portloom.explaining.fixes.pins import LIFTED
from portloom.explaining.solved import Solved, solve
from portloom.inputs.files import find_unit, read_unit, unit_from_text
from portloom.job.assignment import Assignment
from portloom.job.job import Job
from portloom.planning.plan import Planned, plan
from portloom.rules.book import decisions_of, rules_of
from portloom.rules.facts import FactKey, by_default
from portloom.rules.sites import sites_of
from slices import first_of, on_seeds
from told_conflicts import told_of
from translated import best_plan
from unasked import bike_from_text

EXAMPLES = (("harbour-trail", "eleven-way"), ("bare-single", "six-way"))
DEARER = ("market-parallel", "fourteen-way")


@cache
def best(seed: int) -> Assignment | None:
    """Return the best plan of a random bike, which passes the check and the reference's judge; None without one."""
    return best_plan(*random_case(seed, "held"))


def cost(seed: int) -> int | None:
    """Return what it costs."""
    found = best(seed)
    return None if found is None else found.cost


@on_seeds(range(1, 10), [0, *range(10, 300)])
def test_same_cost_and_verdict_as_highs(seeds: Sequence[int]) -> None:
    """Some are held to ports, kept off some, or find some dead; with and without a plan."""
    found = {seed: cost(seed) for seed in seeds}
    assert found == {seed: highs.optimum(*random_case(seed, "held")).cost_um for seed in seeds}
    planned = [each for each in found.values() if each is not None]
    assert len(seeds) / 8 < len(planned) < len(seeds)


@on_seeds(range(300, 303), range(303, 330))
def test_same_cost_and_verdict_as_enumeration(seeds: Sequence[int]) -> None:
    """Trying every load on every output, and every switch on every input, gives the same."""
    found = {seed: cost(seed) for seed in seeds}
    assert found == {seed: brute.optimum(*random_case(seed, "held")).cost_um for seed in seeds}


def pinned_as_planned(text: str, found: Assignment) -> str:
    """Return the bike with every load and switch held to the port that a plan has it on."""
    bike = yaml.safe_load(text)
    seat = found.seats[0]
    on = {name: line.port for line in seat.outputs for name in line.loads}
    read = {name: line.port for line in seat.inputs for name in line.switches}
    for things, ports in ((bike["loads"], on), (bike["inputs"], read)):
        for thing in things:
            if thing["name"] in ports and not thing.get("from"):
                thing["on"] = ports[thing["name"]]
                thing.pop("not_on", None)
    return str(yaml.safe_dump(bike, sort_keys=False))


@on_seeds(range(12), range(12, 60))
def test_what_is_planned_may_be_decided(seeds: Sequence[int]) -> None:
    """Everything held to where the best plan has it, the plan is the same and costs the same."""
    tried = 0
    for seed in seeds:
        found = best(seed)
        if found is not None:
            text, unit = random_case(seed, "held")
            again = plan(bike_from_text(pinned_as_planned(text, found), "bike"), unit_from_text(unit, "unit"))
            assert isinstance(again, Planned)
            assert again.plan.cost == found.cost, seed
            (seat,), lines = found.seats, again.plan.units[0].outputs
            assert {line.port: set(line.loads) for line in lines} == {
                line.port: set(line.loads) for line in seat.outputs
            }
            tried += 1
    assert tried


@first_of(("bike", "unit"), [EXAMPLES[1], EXAMPLES[0], DEARER], 1)
def test_the_ports_of_a_plan_cost_nothing(bike: str, unit: str) -> None:
    """Examples with every load and switch held to its port: the same plan, each price nought, and nothing to lift."""
    text, profile = (ROOT / f"examples/{bike}.yaml").read_text("utf-8"), read_unit(find_unit(unit))
    job = Job(bike_from_text(text, "bike"), profile)
    first = solve(job, rules_of(job), sites_of(job), Clock(None))
    assert isinstance(first, Solved)
    held = Job(_held(job.bike, first.assignment), profile)
    instance = Instance(held, rules_of(held))
    again = solve(held, instance.rules, instance.sites, Clock(None))
    assert isinstance(again, Solved)
    assert (again.assignment.seats, again.assignment.cost) == (first.assignment.seats, first.assignment.cost)
    told = prices_of_decisions(instance, again, by_default, Clock(None))
    assert {one.price.total for one in told.each if one.price is not None} == {0}
    assert len(told.each) > 10
    assert told.together is not None
    assert (told.together.total, told.lifted, told.complete) == (0, (), True)


def _held(bike: Bike, plan: Assignment) -> Bike:
    """Return a bike with everything on a port held to it."""
    on = {name: line.port for line in plan.outputs for name in line.loads}
    on |= {name: line.port for line in plan.inputs for name in line.switches}
    loads, inputs = (
        tuple(
            thing.model_copy(update={"on": (on[thing.name],)}) if thing.name in on and not fed(thing) else thing
            for thing in things
        )
        for things in (bike.loads, bike.inputs)
    )
    return bike.model_copy(update={"loads": loads, "inputs": inputs})


def fed(thing: object) -> bool:
    """Tell whether others feed a load."""
    return bool(getattr(thing, "from_", ()))


# --- where nothing fits


def fits(bike: str, unit: str) -> bool:
    """Tell what HiGHS says of a bike."""
    return highs.optimum(bike, unit).cost_um is not None


def fewest_lifted(text: str, unit: str) -> int | None:
    """Return how few loads and switches must be freed for a bike to fit; None where freeing all does not help."""
    bike = yaml.safe_load(text)
    held = [thing for thing in (*bike["loads"], *bike["inputs"]) if "on" in thing or "not_on" in thing]
    for count in range(len(held) + 1):
        for some in combinations(held, count):
            names = [thing["name"] for thing in some]
            freed = {
                side: [
                    {k: v for k, v in thing.items() if thing["name"] not in names or k not in ("on", "not_on")}
                    for thing in bike[side]
                ]
                for side in ("loads", "inputs")
            }
            if fits(str(yaml.safe_dump({**bike, **freed}, sort_keys=False)), unit):
                return count
    return None


@on_seeds((0, 1, 5, 9), [*range(2, 5), *range(6, 9), *range(10, 120)])
def test_as_few_are_freed_as_can_be(seeds: Sequence[int]) -> None:
    """Where only what is decided is in the way, no fix that frees nothing else frees more than must be."""
    tried = freeing = 0
    for seed in seeds:
        text, unit = random_case(seed, "held")
        fewest = fewest_lifted(text, unit)
        if fewest:
            questions = questions_on((text, unit))
            conflict = first_conflict(questions, questions.instance.everything)
            found = fixes_of(Questions(questions.instance, Clock(None)), [conflict.keys], ()).found
            efforts = [fix.effort for fix in found if {change.kind for change in fix.changes} == {LIFTED}]
            assert found[0].effort <= 2 * fewest, seed
            assert not efforts or min(efforts) == 2 * fewest, seed
            tried, freeing = tried + 1, freeing + bool(efforts)
    assert tried > 1
    assert freeing


@on_seeds(range(9, 16), [*range(9), *range(16, 150)])
def test_conflicts_are_minimal(seeds: Sequence[int]) -> None:
    """HiGHS finds no plan with the facts of a conflict alone, and one without any single one of them."""
    about: set[str] = set()
    for told in told_of(random_case, "held", seeds):
        assert told.wrong == (), told.written
        assert told.spare == (), told.written
        about.update(key[0] for conflict in told.conflicts for key in conflict)
    assert {"pin", "switch pin", "out of use"} <= about


# --- what it costs


def without(text: str, side: str, name: str) -> str:
    """Return a bike's file without what is decided of a load, of an input, or of a port that is out of use."""
    bike = yaml.safe_load(text)
    if side == "out_of_use":
        del bike[side][name]
        if not bike[side]:
            del bike[side]
    else:
        thing = next(thing for thing in bike[side] if thing["name"] == name)
        thing.pop("on", None)
        thing.pop("not_on", None)
    return str(yaml.safe_dump(bike, sort_keys=False))


SIDES = {"pin": "loads", "switch pin": "inputs", "out of use": "out_of_use"}


@on_seeds((3, 8), [*range(3), *range(4, 8), *range(9, 100)])
def test_each_price_is_the_difference_of_two_optima(seeds: Sequence[int]) -> None:
    """HiGHS finds the best plan with all that is decided, and once more without each thing of it."""
    dearer = 0
    for seed in seeds:
        text, unit = random_case(seed, "held")
        instance = questions_on((text, unit)).instance
        best_plan = solve(instance.job, instance.rules, instance.sites, Clock(None))
        if not isinstance(best_plan, Solved):
            continue
        cost_um = highs.optimum(text, unit).cost_um
        assert cost_um is not None
        told = prices_of_decisions(instance, best_plan, by_default, Clock(None))
        assert told.complete
        for fact, one in zip(decisions_of(instance.job), told.each, strict=True):
            other = highs.optimum(without(text, SIDES[fact.key[0]], fact.key[1]), unit).cost_um
            assert one.price is not None
            assert other is not None
            assert one.price.total == cost_um - other, (seed, fact.key)
            dearer += one.price.total > 0
    assert dearer


# --- what to lift first


MOST_SETS = 4
"""Of bikes in which so many things are decided at most, each set of them is tried."""


@on_seeds((7, 13), [*range(7), *range(8, 13), *range(14, 80)])
def test_no_other_set_of_as_many_saves_more(seeds: Sequence[int]) -> None:
    """HiGHS tries every set of decided things: of each number the cheapest, and whether anything fits at all.

    Sets that save no more than smaller ones are not told, nor any once nothing more can be saved.
    """
    several = lacking = 0
    for seed in seeds:
        text, unit = random_case(seed, "held")
        instance = questions_on((text, unit)).instance
        if len(decisions_of(instance.job)) > MOST_SETS:
            continue
        found = solve(instance.job, instance.rules, instance.sites, Clock(None))
        told = prices_of_decisions(instance, found, by_default, Clock(None))
        keys = [fact.key for fact in decisions_of(instance.job)]
        known = [cost for cost in [_cheapest(text, unit, keys, 0)] if cost is not None]
        fits, wanted = bool(known), []
        for size in range(1, len(keys) + 1):
            cost = _cheapest(text, unit, keys, size)
            if cost is not None and (not known or cost < known[-1]):
                wanted.append((size, cost))
                known.append(cost)
        assert told.complete
        assert [(len(one.sentences), one.cost.total) for one in told.lifted] == wanted, seed
        several += any(size > 1 for size, _ in wanted)
        lacking += bool(wanted) and not fits
    assert several
    assert lacking


def _cheapest(text: str, unit: str, keys: Sequence[FactKey], size: int) -> int | None:
    """Return the least that the bike costs without so many decided things; None where nothing fits."""
    costs = []
    for some in combinations(keys, size):
        edited = text
        for key in some:
            edited = without(edited, SIDES[key[0]], key[1])
        costs.append(highs.optimum(edited, unit).cost_um)
    return min((cost for cost in costs if cost is not None), default=None)

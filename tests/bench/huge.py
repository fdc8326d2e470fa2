"""120 loads, 96 outputs and six places: how long to the proof, or how far it is from one when a limit is reached.

Run on demand: ``python -m tests.bench.huge``. What is wanted is the proof within the limit, or the gap under half a per
cent when it is reached: how much above its proven bound the plan costs that is there by then. Seconds are of processor
time, on a machine with nothing else to do at least what the clock shows; the limit goes by the clock.
"""

from collections.abc import Iterator
from functools import partial

from portloom.planning.plan import Planned, plan

from .big_bikes import EVERY_SIZE, Size, big_bike, typed
from .growth import Grown, grown
from .processes import processor, spent
from .rows import CLOCK, PROCESSOR, Extent, Row, alone

SIZE = "120x96x6"
SEEDS = (0, 1, 2)
LIMIT = 20.0
"""Seconds by the clock."""
GAP_AT_MOST = 0.5
"""In per cent."""
NO_PLAN = 100.0
"""The gap in per cent where there is no plan."""


def to_the_proof(seed: int, size: Size) -> Grown:
    """Plan a bike without a limit."""
    return grown(*typed(*big_bike(seed, size)), None)


def gap(seed: int, size: Size) -> float:
    """Return what is left of the gap in per cent when the limit is reached, nought where the proof is there by then.

    Raises RuntimeError where the limit is not kept.
    """
    files = typed(*big_bike(seed, size))
    answer, took = spent(lambda: plan(*files, time_limit=LIMIT))
    if took.seconds > 2 * LIMIT:
        raise RuntimeError(f"big bike {seed}: {took.seconds:.0f} s for a limit of {LIMIT:g} s")
    if not isinstance(answer, Planned):
        return NO_PLAN
    cost = answer.plan.costs.total
    return 100 * (cost - answer.plan.bound) / cost


def measured(extent: Extent) -> Iterator[Row]:
    """Return the seconds to the proof and of the whole answer, and the gap at the limit, which will do instead."""
    for name in extent.of_sizes([SIZE]):
        size, seeds = EVERY_SIZE[name], extent.of_seeds(SEEDS)
        found = [to_the_proof(seed, size) for seed in seeds]
        seconds = tuple(one.seconds for one in found)
        where = f"of the last {found[-1].where}"
        yield Row(f"{name}: plan to its proof", "one second", PROCESSOR, seconds, LIMIT, None, where)
        whole = tuple(processor(partial(plan, *typed(*big_bike(seed, size))))[1] for seed in seeds)
        also = "after the proof further plans tell what could share an output"
        yield Row(f"{name}: the whole answer", "one second", PROCESSOR, whole, LIMIT, None, also)
        left = tuple(gap(seed, size) for seed in seeds)
        remarks = f"{left.count(NO_PLAN)} of them without a plan by then"
        what = f"{name}: or the gap left after {LIMIT:g} s"
        yield Row(what, "its cost, in per cent", CLOCK, left, GAP_AT_MOST, None, remarks)


if __name__ == "__main__":
    alone(measured, "huge")

"""120 loads, 96 outputs and six places, planned from end to end: how long to the proof, or how far it is from one.

Run on demand: ``python -m tests.bench.huge``. Where the proof is not there within the limit, a second run stops there,
and what is told is how much above its proven bound that plan costs.
"""

from collections.abc import Iterator
from time import perf_counter

from portloom.planning.plan import Planned, plan

from .big_bikes import EVERY_SIZE, Size, big_bike, typed
from .processes import Taken, spent
from .rows import CLOCK, PROCESSOR, Extent, Row, alone

SIZE = "120x96x6"
SEEDS = (0, 1, 2)
LIMIT = 20.0
"""Seconds by the clock."""
GAP_AT_MOST = 0.5
"""In per cent."""


def gap(seed: int, size: Size) -> tuple[Taken, float]:
    """Return what a plan took to its proof, and what is left of the gap at the limit, in per cent."""
    files = typed(*big_bike(seed, size))
    _, whole = spent(lambda: plan(*files))
    if whole.seconds <= LIMIT:
        return whole, 0.0
    began = perf_counter()
    limited = plan(*files, time_limit=LIMIT)
    if not isinstance(limited, Planned) or perf_counter() - began > 2 * LIMIT:
        return whole, 100.0
    costs = limited.plan.costs.total, limited.plan.bound
    return whole, 100 * (costs[0] - costs[1]) / costs[0]


def measured(extent: Extent) -> Iterator[Row]:
    """Return the seconds to the proof, by the clock and of processor time, and the gap at the limit."""
    for name in extent.of_sizes([SIZE]):
        found = [gap(seed, EVERY_SIZE[name]) for seed in extent.of_seeds(SEEDS)]
        for by, seconds in (
            (CLOCK, [whole.seconds for whole, _ in found]),
            (PROCESSOR, [whole.processor for whole, _ in found]),
        ):
            yield Row(f"{name}: plan to its proof", "one second", by, tuple(seconds))
        left = tuple(per_cent for _, per_cent in found)
        yield Row(f"{name}: gap left after {LIMIT:g} s", "its cost, in per cent", CLOCK, left, GAP_AT_MOST, GAP_AT_MOST)


if __name__ == "__main__":
    alone(measured, "huge")

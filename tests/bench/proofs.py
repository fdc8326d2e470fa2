"""What it costs that every proof is made twice: the search with its certificates, and without.

Run on demand: ``python -m tests.bench.proofs``. Side by side, in processor time of this process, so that other work on
the machine matters less: the whole search of each example on a unit that fits and of random bikes, threads one after
the other; then the same where second proofs are taken as made.
"""

import os
import statistics
from collections.abc import Callable, Iterator, Sequence
from functools import partial
from pathlib import Path
from time import process_time
from unittest.mock import patch

from portloom.base.clock import NO_LIMIT
from portloom.inputs.files import find_unit, read_bike, read_unit
from portloom.job.job import Job
from portloom.rules.book import rules_of
from portloom.rules.sites import sites_of
from portloom.search import places
from portloom.search.best import tableaux_of
from portloom.search.sizing_cuts import with_sizing_cuts

from .big_bikes import SIZES, typed
from .tightening import tight_bike

EXAMPLES = Path(__file__).parents[2] / "examples"
FITTING = (
    ("bare-single", "six-way"), ("harbour-trail", "eleven-way"), ("dressed-tourer", "eleven-way"),
    ("market-parallel", "fourteen-way"), ("sidecar-hauler", "twenty-four-way"),
)  # fmt: skip
AT_MOST = 2


def jobs() -> Iterator[tuple[str, Job]]:
    """Return the examples, each on a unit that fits, and two tight random bikes."""
    for bike, unit in FITTING:
        yield f"{bike} on {unit}", Job(read_bike(EXAMPLES / f"{bike}.yaml"), read_unit(find_unit(unit)))
    for seed in (0, 1):
        yield f"random {seed}, 24x16x4", Job(*typed(*tight_bike(seed, SIZES["24x16x4"])))


def seconds(task: Callable[[], object], times: int = 3) -> float:
    """Return the least processor time that a task takes."""
    taken = []
    for _ in range(times):
        began = process_time()
        task()
        taken.append(process_time() - began)
    return min(taken)


def ratios(named: Sequence[tuple[str, Job]]) -> Iterator[float]:
    """Print a line for each job; return how much longer the search takes with its certificates."""
    for name, job in named:
        rules = rules_of(job)
        choices = tableaux_of(job, rules, sites_of(job))
        search = partial(places.best_place, choices, partial(with_sizing_cuts, rules), NO_LIMIT)
        whole = seconds(search)
        with patch.object(places, "_prove_again", lambda *_: True):
            once = seconds(search)
        print(f"{name}: certified {1000 * whole:.0f} ms, not certified {1000 * once:.0f} ms, ratio {whole / once:.2f}")
        yield whole / once


def main() -> None:
    """Print each ratio and their median."""
    with patch.object(os, "cpu_count", lambda: 1):
        print(f"median ratio {statistics.median(ratios(list(jobs()))):.2f}, at most {AT_MOST} is wanted")


if __name__ == "__main__":
    main()

"""What it costs that every proof is made twice: the search with its certificates, and without.

Run on demand: ``python -m tests.bench.proofs``. Side by side, in processor time of this process, so that other work on
the machine matters less: the whole search of each example on a unit that fits and of random bikes, threads one after
the other; the colours of each example's wires; and the hunt for fixes of random bikes that do not fit. Then the same
where second proofs are taken as made.
"""

import os
import statistics
from collections.abc import Callable, Iterator, Sequence
from contextlib import ExitStack
from functools import partial
from pathlib import Path
from time import process_time
from unittest.mock import patch

from portloom.base.clock import NO_LIMIT
from portloom.documents.wiring.colours import colour_question
from portloom.documents.wiring.pieces import wiring_of
from portloom.explaining.fixes.lessons import Lessons
from portloom.inputs.files import bundled_units, find_unit, read_bike, read_unit
from portloom.job.job import Job
from portloom.planning.plan import Planned, plan
from portloom.rules.book import rules_of
from portloom.rules.sites import sites_of
from portloom.search import hitting_sets, places
from portloom.search.best import tableaux_of
from portloom.search.colouring import ColourModel, coloured
from portloom.search.sizing_cuts import with_sizing_cuts

from .big_bikes import SIZES, typed
from .fixes import crowded, spoilt, timed
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


def seconds(task: Callable[[], object], times: int) -> float:
    """Return the least processor time that a task takes."""
    taken = []
    for _ in range(times):
        began = process_time()
        task()
        taken.append(process_time() - began)
    return min(taken)


def of_search() -> Iterator[float]:
    """Print a line for each job; return how much longer the search takes with its certificates."""
    for name, job in jobs():
        rules = rules_of(job)
        choices = tableaux_of(job, rules, sites_of(job))
        search = partial(places.best_place, choices, partial(with_sizing_cuts, rules), NO_LIMIT)
        yield told(name, search, [(places, "_prove_again", True)], 3)


def of_colours() -> Iterator[float]:
    """Print a line for the colours of each example that fits; return the same ratio."""
    for bike, unit in FITTING:
        found = plan(read_bike(EXAMPLES / f"{bike}.yaml"), read_unit(find_unit(unit)))
        if isinstance(found, Planned):
            question = colour_question(found.laid.site.job.bike, wiring_of(found.laid))
            yield told(f"colours, {bike}", partial(coloured, question), [(ColourModel, "proved_again", True)], 3)


def of_fixes() -> Iterator[float]:
    """Print a line for each random bike that does not fit; return the same ratio."""
    size, known = SIZES["24x16x4"], [read_unit(file) for _, file in bundled_units()]
    for seed in (0, 1):
        lacking = [("crowd", crowded(seed, size)[1]), *((cause, lacks) for cause, _, lacks in spoilt(seed, size))]
        for cause, lacks in lacking:
            spared = [(Lessons, "_certify", None), (hitting_sets, "_prove_empty", None)]
            yield told(f"fixes, random {seed}, {cause}", partial(timed, *lacks, known), spared, 1)


def told(name: str, task: Callable[[], object], spared: Sequence[tuple[object, str, object]], times: int) -> float:
    """Print a line; return how much longer a task takes than where second proofs are taken as made."""
    whole = seconds(task, times)
    with ExitStack() as stack:
        for owner, proof, answer in spared:
            stack.enter_context(patch.object(owner, proof, lambda *_, answer=answer: answer))
        once = seconds(task, times)
    print(f"{name}: certified {1000 * whole:.0f} ms, not certified {1000 * once:.0f} ms, ratio {whole / once:.2f}")
    return whole / once


def main() -> None:
    """Print each ratio, and the median and the worst of each part."""
    with patch.object(os, "cpu_count", lambda: 1):
        for what, part in (("search", of_search()), ("colours", of_colours()), ("fixes", of_fixes())):
            found = list(part)
            median, worst = statistics.median(found), max(found)
            print(f"{what}: median ratio {median:.2f}, worst {worst:.2f}; at most {AT_MOST} is wanted", flush=True)


if __name__ == "__main__":
    main()

"""What it costs that every proof is made twice: the search with its certificates, and without.

Run on demand: ``python -m tests.bench.proofs``. Side by side, in processor time, threads one after the other: the whole
search of each example on a unit that fits; the colours of its wires; and the hunt for fixes of random bikes that do not
fit. Then the same where second proofs are taken as made. Random bikes are among ``places``.
"""

import os
from collections.abc import Callable, Iterator, Sequence
from contextlib import ExitStack, contextmanager
from functools import partial
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
from portloom.search.sizing_cuts import in_true_sizes

from .big_bikes import EVERY_SIZE
from .fixes import crowded, explained, spoilt
from .processes import processor
from .rows import PROCESSOR, Extent, Row, alone
from .sheets import FITTING
from .start_up import EXAMPLES

AT_MOST = 2.0
SIZE = "24x16x4"
SEEDS = (0, 1)
TIMES = 3
Spared = Sequence[tuple[object, str, object]]
"""Who makes a second proof, in which function, and what it answers where the proof is taken as made."""
OF_SEARCH: Spared = [(places, "_prove_again", True)]
OF_COLOURS: Spared = [(ColourModel, "proved_again", True)]
OF_FIXES: Spared = [(Lessons, "_certify", None), (hitting_sets, "_prove_empty", None)]


@contextmanager
def sparing(spared: Spared) -> Iterator[None]:
    """Take second proofs as made."""
    with ExitStack() as stack:
        for owner, proof, answer in spared:
            stack.enter_context(patch.object(owner, proof, lambda *_, answer=answer: answer))
        yield


def ratio(task: Callable[[], object], spared: Spared, times: int) -> float:
    """Return how much longer a task takes with its second proofs, the least of so many times each."""
    certified = min(processor(task)[1] for _ in range(times))
    with sparing(spared):
        return certified / min(processor(task)[1] for _ in range(times))


def of_search(bike: str, unit: str) -> Callable[[], object]:
    """Return the search of an example."""
    job = Job(read_bike(EXAMPLES / f"{bike}.yaml"), read_unit(find_unit(unit)))
    rules = rules_of(job)
    choices = tableaux_of(job, rules, sites_of(job))
    return partial(places.best_place, choices, partial(in_true_sizes, rules), NO_LIMIT)


def of_colours(bike: str, unit: str) -> Callable[[], object]:
    """Return the colouring of an example's wires; raise RuntimeError where it has no plan."""
    found = plan(read_bike(EXAMPLES / f"{bike}.yaml"), read_unit(find_unit(unit)))
    match found:
        case Planned(laid=laid):
            return partial(coloured, colour_question(laid.site.job.bike, wiring_of(laid)))
        case _:
            raise RuntimeError(f"{bike} has no plan on the {unit}")


def of_fixes(size: str, seed: int) -> Iterator[Callable[[], object]]:
    """Return the hunt for fixes of random bikes that do not fit."""
    known = [read_unit(file) for _, file in bundled_units()]
    yield partial(explained, *crowded(seed, EVERY_SIZE[size])[1], known)
    for _, _, lacks in spoilt(seed, EVERY_SIZE[size]):
        yield partial(explained, *lacks, known)


def measured(extent: Extent) -> Iterator[Row]:
    """Return a row for searches, one for colours, one for fixes."""
    examples, times = extent.some(FITTING), extent.times(TIMES)
    once = "the same, second proofs taken as made"
    with patch.object(os, "cpu_count", lambda: 1):
        for what, task, spared in (("search", of_search, OF_SEARCH), ("colours", of_colours, OF_COLOURS)):
            ratios = tuple(ratio(task(*example), spared, times) for example in examples)
            yield Row(f"{what} of the examples, certified", once, PROCESSOR, ratios, AT_MOST)
        for size in extent.of_sizes([SIZE]):
            hunts = [hunt for seed in extent.of_seeds(SEEDS) for hunt in of_fixes(size, seed)]
            ratios = tuple(ratio(hunt, OF_FIXES, 1) for hunt in extent.some(hunts))
            yield Row(f"{size}: fixes, certified", once, PROCESSOR, ratios, AT_MOST)


if __name__ == "__main__":
    alone(measured, "proofs")

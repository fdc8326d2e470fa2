"""Why nothing fits: the time of an explanation beside that of planning, and beside a solver's own core.

Run on demand: ``python -m tests.bench.reasons [--size SIZE …] [--seed SEED …]``. For size 39x38x2 a crowd of
39 loads is explained from end to end, and CP-SAT is asked for a core of the same assignment with its
settings as they come. For each of the other sizes loads are put into tight bikes: first a crowd, then one
cause of each sort that is none. The first certified conflict is timed against planning the same bike,
and checking the plan, without the loads of the conflict and all others that were put in.
"""

import random
import statistics
from argparse import ArgumentParser
from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from time import perf_counter

from portloom.base.clock import Clock
from portloom.explaining.conflicts.find import disjoint_conflicts
from portloom.explaining.conflicts.kept import Instance
from portloom.explaining.conflicts.question import Questions
from portloom.explaining.conflicts.shrinking import CertifiedConflict
from portloom.job.assignment import Assignment
from portloom.job.job import Job
from portloom.rules.book import rules_of
from portloom.rules.sites import sites_of
from portloom.search.best import best_assignment
from portloom.verify.judge import check

from . import causes, one_too_many
from .big_bikes import SIZES, Size, typed
from .big_units import Entry
from .tightening import tight_bike

SEEDS = (0, 1, 2)
CROWD_AT_MOST, OTHERS_AT_MOST, CORE_AT_MOST = 2, 10, 0.01


@dataclass(frozen=True)
class Explained:
    """A conflict, how many questions were asked for it, and the seconds that all took."""

    conflict: CertifiedConflict
    asked: int
    seconds: float


def explained(bike: Entry, unit: Entry) -> Explained:
    """Time the first certified conflict of a bike that has no plan."""
    files = typed(bike, unit)
    started = perf_counter()
    job = Job(*files)
    questions = Questions(Instance(job, rules_of(job)), Clock(None))
    conflict = next(disjoint_conflicts(questions))
    return Explained(conflict, questions.asked, perf_counter() - started)


def planned(bike: Entry, unit: Entry) -> float:
    """Return the seconds for a proven best plan that passes its check."""
    files = typed(bike, unit)
    started = perf_counter()
    job = Job(*files)
    rules = rules_of(job)
    found = best_assignment(job, rules, sites_of(job), Clock(None))
    if not isinstance(found, Assignment) or check((job,), rules, found).clashes:
        raise SystemExit(f"{bike['bike']}: without the loads of its conflict it has no plan")
    return perf_counter() - started


def main(sizes: Sequence[str], seeds: Sequence[int]) -> None:
    """Print a line for each bike, then the median and the worst of the ratios."""
    for name in sizes:
        if name in SIZES:
            beside_planning(name, SIZES[name], seeds)
        else:
            beside_a_core()


def beside_a_core() -> None:
    """Explain 39 loads for 38 outputs, and ask CP-SAT for a core of the same."""
    mine = explained(*one_too_many.files())
    loads = sum(key[0] == "load" for key in mine.conflict.keys)
    if loads != one_too_many.LOADS:
        raise SystemExit(f"{loads} loads are told, {one_too_many.LOADS} are one too many")
    core, theirs = one_too_many.core()
    print(
        f"{loads} loads for {loads - 1} outputs: explained in {mine.seconds:.2f} s, {mine.asked} questions; "
        f"CP-SAT's core: {core}, {theirs:.1f} s; ratio {mine.seconds / theirs:.4f}, at most {CORE_AT_MOST} is wanted"
    )


def beside_planning(name: str, size: Size, seeds: Iterable[int]) -> None:
    """Spoil tight bikes of a size."""
    bikes = [tight_bike(seed, size) for seed in seeds]
    crowds = [_ratio(seed, causes.crowd, *files) for seed, files in zip(seeds, bikes, strict=True)]
    _tell(f"{name}, crowds", crowds, CROWD_AT_MOST)
    others = [
        _ratio(seed, cause, *files) for cause in causes.NO_CROWDS for seed, files in zip(seeds, bikes, strict=True)
    ]
    _tell(f"{name}, no crowds", others, OTHERS_AT_MOST)


def _ratio(seed: int, cause: causes.Cause, bike: Entry, unit: Entry) -> float:
    spoilt, its_unit = cause(random.Random(seed), bike, unit)
    mine = explained(spoilt, its_unit)
    plan = planned(causes.mended(spoilt, mine.conflict.keys), its_unit)
    ratio = mine.seconds / plan
    print(
        f"  {bike['bike']}, {cause.__name__}: {len(mine.conflict.keys)} facts, {mine.asked} questions, "
        f"{mine.seconds:.2f} s; planned in {plan:.2f} s; ratio {ratio:.2f}"
    )
    return ratio


def _tell(what: str, ratios: Sequence[float], at_most: float) -> None:
    print(f"{what}: median {statistics.median(ratios):.2f}, worst {max(ratios):.2f}; at most {at_most} is wanted")


if __name__ == "__main__":
    parser = ArgumentParser()
    parser.add_argument("--size", action="append", choices=(one_too_many.SIZE, *SIZES))
    parser.add_argument("--seed", action="append", type=int)
    asked = parser.parse_args()
    main(asked.size or (one_too_many.SIZE, *SIZES), asked.seed or SEEDS)

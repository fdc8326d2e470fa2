"""Why nothing fits: the time of an explanation beside that of planning, and beside what other programs make of it.

Run on demand: ``python -m tests.bench.reasons``. For size 39x38x2 a crowd of 39 loads is explained from end to end, and
CP-SAT is asked for a core of the same assignment with its settings as they come. For each of the other sizes loads are
put into tight bikes: first a crowd, then one cause of each sort that is none. The first certified conflict is measured
against planning the same bike, and checking the plan, without the loads of the conflict and all that were put in.
"""

import random
from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from time import process_time

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
from .big_bikes import EVERY_SIZE, SIZES, Size, typed
from .big_units import Entry
from .rows import PROCESSOR, Extent, Row, alone
from .tightening import tight_bike

SEEDS = (0, 1, 2)
CROWD_AT_MOST, OTHERS_AT_MOST, CORE_AT_MOST = 0.5, 2.0, 0.01


@dataclass(frozen=True)
class Explained:
    """A conflict, how many questions were asked for it, and the seconds of processor time that all took."""

    conflict: CertifiedConflict
    asked: int
    seconds: float


def explained(bike: Entry, unit: Entry) -> Explained:
    """Measure the first certified conflict of a bike that has no plan."""
    files = typed(bike, unit)
    began = process_time()
    job = Job(*files)
    questions = Questions(Instance(job, rules_of(job)), Clock(None))
    conflict = next(disjoint_conflicts(questions))
    return Explained(conflict, questions.asked, process_time() - began)


def planned(bike: Entry, unit: Entry) -> float:
    """Return the seconds of processor time for a proven best plan that passes its check; RuntimeError where is none."""
    files = typed(bike, unit)
    began = process_time()
    job = Job(*files)
    rules = rules_of(job)
    found = best_assignment(job, rules, sites_of(job), Clock(None))
    if not isinstance(found, Assignment) or check((job,), rules, found).clashes:
        raise RuntimeError(f"{bike['bike']}: without the loads of its conflict it has no plan")
    return process_time() - began


def measured(extent: Extent) -> Iterator[Row]:
    """Return the row beside CP-SAT's core, and those beside planning."""
    for name in extent.of_sizes([one_too_many.SIZE, *SIZES]):
        if name == one_too_many.SIZE:
            yield _beside_a_core()
        else:
            yield from _beside_planning(name, EVERY_SIZE[name], extent.of_seeds(SEEDS))


def _beside_a_core() -> Row:
    """Explain 39 loads for 38 outputs, and ask CP-SAT for a core of the same."""
    mine = explained(*one_too_many.files())
    loads = sum(key[0] == "load" for key in mine.conflict.keys)
    if loads != one_too_many.LOADS:
        raise RuntimeError(f"{loads} loads are told, {one_too_many.LOADS} are one too many")
    core, theirs = one_too_many.core()
    remarks = f"{mine.asked} questions; the core has {core}, after {theirs:.0f} s"
    what = f"{loads} loads for {loads - 1} outputs: a proven conflict"
    return Row(what, "CP-SAT's core, stopped at 60 s", PROCESSOR, (mine.seconds / theirs,), CORE_AT_MOST, None, remarks)


def _beside_planning(name: str, size: Size, seeds: Iterable[int]) -> Iterator[Row]:
    """Spoil tight bikes of a size."""
    bikes = [(seed, *tight_bike(seed, size)) for seed in seeds]
    for what, sorts, wanted in (
        ("crowds", (causes.crowd,), CROWD_AT_MOST),
        ("no crowds", causes.NO_CROWDS, OTHERS_AT_MOST),
    ):
        ratios = tuple(_ratio(seed, cause, *files) for cause in sorts for seed, *files in bikes)
        beside = "planning without its loads"
        yield Row(f"{name}, {what}: first proven conflict", beside, PROCESSOR, ratios, wanted)


def _ratio(seed: int, cause: causes.Cause, bike: Entry, unit: Entry) -> float:
    spoilt, its_unit = cause(random.Random(seed), bike, unit)
    mine = explained(spoilt, its_unit)
    return mine.seconds / planned(causes.mended(spoilt, mine.conflict.keys), its_unit)


if __name__ == "__main__":
    alone(measured, "reasons")

"""What would make it fit: the time to the first conflict, to fixes and to the last proof, beside that of a plan.

Run on demand: ``python -m tests.bench.fixes``. From large bikes that fit two in five outputs are taken away, which
leaves a crowd; into others one cause of each sort is put that is none. Each is explained from end to end with as much
work as is usual, and measured against planning the bike that fits, in processor time.
"""

import random
from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass
from time import process_time

from portloom.base.clock import Clock
from portloom.base.unit import Unit
from portloom.explaining.conflicts.find import disjoint_conflicts
from portloom.explaining.conflicts.kept import Instance
from portloom.explaining.conflicts.question import Questions, Work
from portloom.explaining.explain import usual_work
from portloom.explaining.fixes.hunt import Fixes, fixes_of
from portloom.inputs.files import bundled_units, read_unit
from portloom.job.job import Job
from portloom.rules.book import rules_of

from . import causes
from .big_bikes import EVERY_SIZE, HUGE, Size, big_bike, typed
from .big_units import Entry
from .reasons import planned
from .rows import PROCESSOR, Extent, Row, alone
from .tightening import tight_bike

SEEDS = {"24x16x4": (0, 1, 2), "60x48x6": (0,), "120x96x6": (0,)}
GONE = 0.4
"""The share of a unit's outputs that is taken away."""
TOLD_AT_MOST, CROWD_AT_MOST, OTHERS_AT_MOST = 0.5, 0.5, 2.0
FIRST_AT_MOST, FIXES_AT_MOST, END_AT_MOST = 4.0, 8.0, 20.0
FIXES = 3


@dataclass(frozen=True)
class Explained:
    """Seconds of processor time to the first conflict, to the first and the third sort of fix, and to the end.

    A conflict is ``told`` as soon as it is proved, and is there once it is proved to be minimal. Where there are fewer
    sorts, the end is that of the third.
    """

    told: float
    conflict: float
    first: float
    third: float
    end: float
    fixes: Fixes


def explained(bike: Entry, unit: Entry, known: Sequence[Unit]) -> Explained:
    """Explain a bike that has no plan, from end to end."""
    files = typed(bike, unit)
    began = process_time()
    job = Job(*files)
    instance = Instance(job, rules_of(job))
    proved: list[float] = []
    questions = Questions(instance, Clock(None))
    conflict = next(disjoint_conflicts(questions, lambda _: proved.append(process_time() - began)))
    minimal = process_time() - began
    told: dict[str, float] = {}

    def say(text: str) -> None:
        so_far, _, _ = text.partition(", ")
        if so_far.endswith(" found"):
            told.setdefault(so_far, process_time() - began)

    fixes = fixes_of(Questions(instance, Clock(None), Work(usual_work(instance))), [conflict.keys], known, say)
    end = process_time() - began
    sorts = [*told.values(), *(end,) * FIXES]
    return Explained(proved[0], minimal, sorts[0], sorts[FIXES - 1], end, fixes)


Pair = tuple[tuple[Entry, Entry], tuple[Entry, Entry]]
"""A bike with a unit that fits, and what does not."""


def crowded(seed: int, size: Size) -> Pair:
    """Return a bike with its unit, and with one that has fewer outputs."""
    bike, unit = big_bike(seed, size)
    left = len(unit["outputs"]) - int(GONE * len(unit["outputs"]))
    return (bike, unit), (bike, unit | {"outputs": unit["outputs"][:left]})


def spoilt(seed: int, size: Size) -> Iterator[tuple[str, tuple[Entry, Entry], tuple[Entry, Entry]]]:
    """Return tight bikes with each cause that is no crowd: its name, the bike that fits, and the one that does not."""
    whole = tight_bike(seed, size)
    for cause in causes.NO_CROWDS:
        yield cause.__name__, whole, cause(random.Random(seed), *whole)


@dataclass(frozen=True)
class Beside:
    """An explanation, and the seconds of processor time for a plan of the bike that fits."""

    cause: str
    mine: Explained
    plan: float

    @property
    def remarks(self) -> str:
        """What was found, and how long the hunt took in all."""
        efforts = " ".join(f"{fix.effort}{'' if fix.least else '?'}" for fix in self.mine.fixes.found) or "none"
        ended = "" if self.mine.fixes.complete else ", work ended"
        return f"{self.cause} {self.mine.end / self.plan:.1f} (efforts {efforts}{ended})"


def measured(extent: Extent) -> Iterator[Row]:
    """Return rows for crowds and for what is none, at each size."""
    known = [read_unit(file) for _, file in bundled_units()]
    for name in extent.of_sizes(SEEDS):
        size, seeds = EVERY_SIZE[name], extent.of_seeds(SEEDS.get(name, (0,)))
        pairs = [("crowd", *crowded(seed, size)) for seed in seeds]
        yield from _rows(f"{name}, a crowd", pairs, known, CROWD_AT_MOST)
        if size is not HUGE:
            others = [spoiling for seed in seeds for spoiling in spoilt(seed, size)]
            yield from _rows(f"{name}, no crowd", extent.some(others), known, OTHERS_AT_MOST)


def _rows(
    what: str, cases: Sequence[tuple[str, tuple[Entry, Entry], tuple[Entry, Entry]]], known: Sequence[Unit], most: float
) -> Iterator[Row]:
    found = [Beside(cause, explained(*lacks, known), planned(*fits)) for cause, fits, lacks in cases]

    def row(part: str, seconds: Callable[[Explained], float], wanted: float | None, remarks: str = "") -> Row:
        ratios = tuple(seconds(one.mine) / one.plan for one in found)
        return Row(f"{what}: {part}", "planning the bike that fits", PROCESSOR, ratios, wanted, remarks=remarks)

    yield row("a conflict is told", lambda e: e.told, TOLD_AT_MOST)
    yield row("first proven conflict", lambda e: e.conflict, most)
    yield row("first fix", lambda e: e.first, FIRST_AT_MOST)
    yield row("three fixes found", lambda e: e.third, FIXES_AT_MOST)
    remarks = "; ".join(one.remarks for one in found)
    yield row("three fixes and their last proof", lambda e: e.end, END_AT_MOST, remarks)


if __name__ == "__main__":
    alone(measured, "fixes")

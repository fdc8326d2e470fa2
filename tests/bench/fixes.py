"""What would make it fit: the time to the first conflict, the first fix and the last proof, beside that of a plan.

Run on demand: ``python -m tests.bench.fixes [--size SIZE …] [--seed SEED …]``. From large bikes that fit two in five
outputs are taken away, which leaves a crowd; into others one cause of each sort is put that is none. Each is explained
from end to end with as much work as is usual, and timed against planning the bike that fits. All in one process.
"""

import random
import statistics
from argparse import ArgumentParser
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from time import perf_counter

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
from .big_bikes import SIZES, Size, big_bike, typed
from .big_units import Entry
from .reasons import planned
from .tightening import tight_bike

HUGE = Size("ninety-six-way", 16, 56, 26, 50, 10, 6, (*(8,) * 11, 6, 2), (18, 16, 10, 10, 2, 2))
EVERY_SIZE = {"24x16x4": SIZES["24x16x4"], "60x48x6": SIZES["60x48x6"], "120x96x6": HUGE}
SEEDS = (0, 1, 2)
GONE = 0.4
"""The share of a unit's outputs that is taken away."""
WANTED = (0.5, 4, 20)
"""At most, of the time of a plan: the first conflict, the first fix, and the end."""


@dataclass(frozen=True)
class Timed:
    """Seconds to the first conflict, to the first fix, and to the end: that of the first fix where there is none."""

    conflict: float
    first: float
    end: float
    fixes: Fixes


def timed(bike: Entry, unit: Entry, known: Sequence[Unit]) -> Timed:
    """Explain a bike that has no plan, from end to end."""
    files = typed(bike, unit)
    started = perf_counter()
    job = Job(*files)
    instance = Instance(job, rules_of(job))
    conflict = next(disjoint_conflicts(Questions(instance, Clock(None))))
    first = perf_counter() - started
    found: list[float] = []

    def say(text: str) -> None:
        if "found so far" in text:
            found.append(perf_counter() - started)

    fixes = fixes_of(Questions(instance, Clock(None), Work(usual_work(instance))), [conflict.keys], known, say)
    end = perf_counter() - started
    return Timed(first, next(iter(found), end), end, fixes)


def crowded(seed: int, size: Size) -> tuple[tuple[Entry, Entry], tuple[Entry, Entry]]:
    """Return a bike with its unit, and with one that has fewer outputs; of a huge bike loads draw half as much."""
    bike, unit = big_bike(seed, size)
    if size is HUGE:
        halved = [load | {"current": f"{max(100, int(load['current'].split()[0]) // 2)} mA"} for load in bike["loads"]]
        bike = bike | {"loads": halved}
    left = len(unit["outputs"]) - int(GONE * len(unit["outputs"]))
    return (bike, unit), (bike, unit | {"outputs": unit["outputs"][:left]})


def spoilt(seed: int, size: Size) -> Iterator[tuple[str, tuple[Entry, Entry], tuple[Entry, Entry]]]:
    """Return tight bikes with each cause that is no crowd: its name, the bike that fits, and the one that does not."""
    whole = tight_bike(seed, size)
    for cause in causes.NO_CROWDS:
        yield cause.__name__, whole, cause(random.Random(seed), *whole)


def main(sizes: Sequence[str], seeds: Sequence[int]) -> None:
    """Print a line for each bike, then the medians and the worst of the ratios."""
    known = [read_unit(file) for _, file in bundled_units()]
    for name in sizes:
        rows = [("crowd", *crowded(seed, EVERY_SIZE[name])) for seed in seeds]
        _tell(f"{name}, crowds", [_row(*row, known) for row in rows])
        if EVERY_SIZE[name] is not HUGE:
            others = [row for seed in seeds for row in spoilt(seed, EVERY_SIZE[name])]
            _tell(f"{name}, no crowds", [_row(*row, known) for row in others])


def _row(what: str, fits: tuple[Entry, Entry], lacks: tuple[Entry, Entry], known: Sequence[Unit]) -> tuple[float, ...]:
    plan, mine = planned(*fits), timed(*lacks, known)
    ratios = tuple(seconds / plan for seconds in (mine.conflict, mine.first, mine.end))
    told = ", ".join(f"{fix.effort}{'' if fix.least else ' not proved'}" for fix in mine.fixes.found)
    print(
        f"  {lacks[0]['bike']}, {what}: planned in {plan:.2f} s; conflict {ratios[0]:.2f}, first fix {ratios[1]:.2f}, "
        f"end {ratios[2]:.2f} of that; efforts {told or 'none'}{'' if mine.fixes.complete else ', work ended'}",
        flush=True,
    )
    return ratios


def _tell(what: str, rows: Sequence[tuple[float, ...]]) -> None:
    for name, wanted, ratios in zip(
        ("first conflict", "first fix", "end"), WANTED, zip(*rows, strict=True), strict=True
    ):
        print(f"{what}, {name}: median {statistics.median(ratios):.2f}, worst {max(ratios):.2f}; {wanted} is wanted")


if __name__ == "__main__":
    parser = ArgumentParser()
    parser.add_argument("--size", action="append", choices=tuple(EVERY_SIZE))
    parser.add_argument("--seed", action="append", type=int)
    asked = parser.parse_args()
    main(asked.size or tuple(EVERY_SIZE), asked.seed or SEEDS)

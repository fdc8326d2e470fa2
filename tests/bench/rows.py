"""What was measured side by side, as rows of one table; how much is measured; and a part of the bench by itself."""

import json
import statistics
import sys
from argparse import ArgumentParser, Namespace
from collections.abc import Callable, Collection, Iterable, Iterator, Sequence
from dataclasses import dataclass
from typing import TypeVar

from .processes import Taken

Item = TypeVar("Item")

CLOCK, PROCESSOR, MEMORY = "clock", "processor", "memory"
HEAD = ("what", "beside", "by", "runs", "median", "worst", "at most", "within", "remarks")


@dataclass(frozen=True)
class Row:
    """One thing beside another: the ratio of each run, or other figures where it says so, and what they may be."""

    what: str
    beside: str
    by: str
    """What was measured: clock, processor time, memory, or the unit of figures that are no ratios."""
    figures: tuple[float, ...]
    wanted: float | None = None
    """What the median may be at most; None where it stands for comparison only."""
    worst_wanted: float | None = None
    """What each of them may be at most."""
    remarks: str = ""

    @property
    def median(self) -> float:
        """The median of the figures."""
        return statistics.median(self.figures)

    @property
    def worst(self) -> float:
        """The greatest of the figures."""
        return max(self.figures)

    @property
    def within(self) -> bool | None:
        """Whether it is as wanted; None where nothing is."""
        limits = [(self.median, self.wanted), (self.worst, self.worst_wanted)]
        judged = [figure <= limit for figure, limit in limits if limit is not None]
        return all(judged) if judged else None

    @property
    def at_most(self) -> str:
        """What is wanted, as words."""
        said = [] if self.wanted is None else [f"{self.wanted:g}"]
        return ", ".join([*said, *([] if self.worst_wanted is None else [f"worst {self.worst_wanted:g}"])])

    @property
    def cells(self) -> tuple[str, ...]:
        """The row as words, in the order of the table's head."""
        within = {None: "", True: "yes", False: "no"}[self.within]
        measured = str(len(self.figures)), _figure(self.median), _figure(self.worst)
        return self.what, self.beside, self.by, *measured, self.at_most, within, self.remarks

    def document(self) -> dict[str, object]:
        """Return the row as data."""
        return {
            "what": self.what, "beside": self.beside, "by": self.by, "runs": len(self.figures),
            "median": self.median, "worst": self.worst, "wanted": self.wanted, "worst_wanted": self.worst_wanted,
            "within": self.within, "remarks": self.remarks,
        }  # fmt: skip


def _figure(value: float) -> str:
    return f"{value:.2f}" if value >= 0.1 else f"{value:.2g}"


def table(rows: Iterable[Row]) -> str:
    """Return rows as a table in Markdown."""
    lines = [HEAD, ("---",) * len(HEAD), *(row.cells for row in rows)]
    return "\n".join(f"| {' | '.join(cells)} |" for cells in lines)


OF_TAKEN: dict[str, Callable[[Taken], float]] = {
    CLOCK: lambda taken: taken.seconds,
    PROCESSOR: lambda taken: taken.processor,
    MEMORY: lambda taken: taken.memory,
}


def beside(
    what: str, other: str, pairs: Sequence[tuple[Taken, Taken]], judged: Collection[str], wanted: float
) -> Iterator[Row]:
    """Return the row of the clock and that of processor time, by what was taken in the same round; some are judged."""
    for by in (CLOCK, PROCESSOR):
        ratios = tuple(OF_TAKEN[by](mine) / OF_TAKEN[by](theirs) for mine, theirs in pairs)
        yield Row(what, other, by, ratios, wanted if by in judged else None)


TINY = "tiny"


@dataclass(frozen=True)
class Extent:
    """How much is measured: the usual, what was asked for, or as little as shows that it works."""

    quick: bool = False
    seeds: tuple[int, ...] = ()
    sizes: tuple[str, ...] = ()
    runs: int | None = None

    def of_seeds(self, usual: Iterable[int]) -> tuple[int, ...]:
        """Return the seeds that are measured."""
        return self.seeds or tuple(usual)[: 1 if self.quick else None]

    def of_sizes(self, usual: Iterable[str]) -> tuple[str, ...]:
        """Return the names of the sizes that are measured: those asked for, as far as a part has them."""
        if self.quick:
            return (TINY,)
        return tuple(name for name in usual if not self.sizes or name in self.sizes)

    def some(self, usual: Sequence[Item]) -> Sequence[Item]:
        """Return all of several things, or the first of them."""
        return usual[: 1 if self.quick else None]

    def times(self, usual: int) -> int:
        """Return how often a thing is measured."""
        return 1 if self.quick else self.runs or usual


Part = Callable[[Extent], Iterable[Row]]


def options(prog: str, about: str) -> ArgumentParser:
    """Return what reads the options of the bench and of each of its parts."""
    parser = ArgumentParser(prog=prog, description=about)
    parser.add_argument("--quick", action="store_true", help="the least of everything: to see that it works")
    parser.add_argument("--seed", action="append", type=int, default=[], help="of random bikes, instead of the usual")
    parser.add_argument("--size", action="append", default=[], help="of random bikes, such as 24x16x4: only these")
    parser.add_argument("--runs", type=int, help="of each whole process, instead of the usual")
    parser.add_argument("--json", action="store_true", help="print one document")
    return parser


def extent_of(asked: Namespace) -> Extent:
    """Return how much was asked for."""
    return Extent(asked.quick, tuple(asked.seed), tuple(asked.size), asked.runs)


def alone(part: Part, name: str) -> None:
    """Measure one part and print its rows, as ``python -m`` of its module asks for."""
    asked = options(f"python -m tests.bench.{name}", f"The part {name} of the bench.").parse_args()
    rows = list(part(extent_of(asked)))
    written = json.dumps([row.document() for row in rows], indent=2) if asked.json else table(rows)
    sys.stdout.write(f"{written}\n")

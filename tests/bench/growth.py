"""How time and memory grow with a bike: loads, outputs, places, share groups, points of the frame, one at a time.

Run on demand: ``python -m tests.bench.growth``. Each random bike is planned in a process of its own, from its typed
files to the checked plan; processor time and peak memory, the fitted exponent of time (least squares of the
logarithms), and where the time goes at the largest. A plan that is not proved within the limit is marked.
"""

import json
import sys
from collections.abc import Callable, Iterator, Sequence
from dataclasses import asdict, dataclass, replace
from math import log
from threading import Lock
from time import thread_time
from unittest.mock import patch

from portloom.base.bike import Bike
from portloom.base.clock import Clock
from portloom.base.unit import Unit
from portloom.job.job import Job
from portloom.job.site import Site
from portloom.rules.book import rules_of
from portloom.rules.shapes import Rule
from portloom.rules.sites import sites_of
from portloom.search import best
from portloom.search.assign import assignment_of
from portloom.search.candidates import Candidates
from portloom.search.enumeration import Runs
from portloom.search.places import Found
from portloom.search.tableau import Tableau, tableau
from portloom.verify.judge import check

from .big_bikes import SMALL, Size, big_bike, typed
from .processes import as_installed, processor, taken
from .rows import Extent, Row, alone

SEED = 0
LIMIT = 60.0
"""Seconds by the clock for the search."""
LOADS, OUTPUTS, PLACES = (14, 30, 60, 120, 300), (10, 25, 50, 100, 200), (1, 2, 4, 8, 12)
GROUPS, POINTS = (2, 4, 8, 12), (10, 25, 50, 100, 200)
OUTPUT_KINDS, FOLLOWING, INPUTS = 13, 12, (6, 5, 4, 4, 1, 1)


def ports(count: int) -> tuple[int, ...]:
    """Spread so many outputs over the kinds, one on the last, which follows an input."""
    each, more = divmod(count - 1, OUTPUT_KINDS - 1)
    return (*(each + (kind < more) for kind in range(FOLLOWING)), 1)


def of_loads(loads: int) -> Size:
    """A bike of so many loads, a third of them in groups, and a unit with nearly as many outputs; each draws less."""
    groups = loads // 12
    switched = groups + loads // 5
    inputs = (switched // 3 + 3, switched // 3 + 3, switched // 4 + 2, switched // 4 + 2, 1, 1)
    alone = loads - 4 * groups
    return Size("unit", groups, alone, loads // 5, 16, 4, 2, ports(loads), inputs, thrift=max(1, loads // 40))


def of_outputs(outputs: int) -> Size:
    """Eight loads on a unit of so many outputs."""
    return Size("unit", 1, 4, 2, 14, 3, 2, ports(outputs), INPUTS)


def of_places(places: int) -> Size:
    """The smallest of the large bikes with so many places."""
    return replace(SMALL, places=places)


def of_groups(groups: int) -> Size:
    """So many share groups of four, and eight loads alone, on thirty outputs."""
    return Size("unit", groups, 8, 4, 16, 4, 2, ports(30), (8, 8, 4, 4, 1, 1), thrift=2)


def of_points(points: int) -> Size:
    """The smallest of the large bikes on a frame of so many points, every tenth with a leg that closes a ring."""
    return replace(SMALL, points=points, chords=points // 10 + 1)


DIMENSIONS: dict[str, tuple[Sequence[int], Callable[[int], Size]]] = {
    "loads": (LOADS, of_loads),
    "outputs": (OUTPUTS, of_outputs),
    "places": (PLACES, of_places),
    "groups": (GROUPS, of_groups),
    "points": (POINTS, of_points),
}


@dataclass(frozen=True)
class Grown:
    """Seconds of processor time for each part of a planning, and how it ended."""

    job: float
    columns: float
    search: float
    check: float
    end: str

    @property
    def seconds(self) -> float:
        """All of it."""
        return self.job + self.columns + self.search + self.check

    @property
    def where(self) -> str:
        """Where the time goes, in per cent."""
        parts = (("job", self.job), ("columns", self.columns), ("search", self.search), ("check", self.check))
        return ", ".join(f"{name} {100 * part / self.seconds:.0f} %" for name, part in parts)


class SettingUp:
    """The setting up of a place's columns and rows, and the processor time that it took in whichever thread."""

    def __init__(self) -> None:
        """Begin with nothing."""
        self.seconds = 0.0
        self._lock = Lock()

    def __call__(self, site: Site, rules: Sequence[Rule], pairs: Candidates, runs: Runs) -> Tableau:
        """Set up a place."""
        began = thread_time()
        choice = tableau(site, rules, pairs, runs)
        with self._lock:
            self.seconds += thread_time() - began
        return choice


def grown(bike: Bike, unit: Unit, limit: float | None) -> Grown:
    """Plan a bike in this process; ``limit`` of the search is in seconds by the clock."""
    files = bike, unit
    job, of_job = processor(lambda: Job(*files))
    rules = rules_of(job)
    setting_up = SettingUp()
    with patch.object(best, "tableau", setting_up):
        choices, of_pairs = processor(lambda: best.Choices(job, rules, sites_of(job)))
        answer, of_search = processor(lambda: best.best_at_sites(rules, choices, Clock(limit)))
    of_columns, of_search = of_pairs + setting_up.seconds, of_search - setting_up.seconds
    if not isinstance(answer, Found):
        return Grown(of_job, of_columns, of_search, 0, "no plan")
    assignment = assignment_of(answer)
    judged, of_check = processor(lambda: check((job,), rules, assignment))
    if judged.clashes:
        raise RuntimeError(f"{bike.bike}: the plan does not pass its check")
    return Grown(of_job, of_columns, of_search, of_check, "" if answer.proven else "not proved")


def exponent(amounts: Sequence[float], seconds: Sequence[float]) -> float:
    """Return the exponent of a power law by least squares of the logarithms."""
    along, up = [log(amount) for amount in amounts], [log(each) for each in seconds]
    middle, height = sum(along) / len(along), sum(up) / len(up)
    return sum((x - middle) * (y - height) for x, y in zip(along, up, strict=True)) / sum(
        (x - middle) ** 2 for x in along
    )


def measured(extent: Extent) -> Iterator[Row]:
    """Return a row for each dimension, with its exponent; for comparison."""
    with as_installed() as environment:
        for name, (usual, _) in DIMENSIONS.items():
            amounts = usual[: 2 if extent.quick else None]
            runs = [taken(("-m", "tests.bench.growth", "--one", name, str(n)), environment) for n in amounts]
            found = [Grown(**json.loads(run.said)) for run in runs]
            seconds = [one.seconds for one in found]
            points = "; ".join(
                f"{amount}: {one.seconds:.2f} s, {run.memory:.0f} MB{f', {one.end}' if one.end else ''}"
                for amount, one, run in zip(amounts, found, runs, strict=True)
            )
            remarks = f"{points}; at the last {found[-1].where}"
            power = (exponent(amounts, seconds),)
            yield Row(f"{name}, {amounts[0]} to {amounts[-1]}", "their number", "exponent", power, remarks=remarks)


if __name__ == "__main__":
    if sys.argv[1:2] == ["--one"]:
        size = DIMENSIONS[sys.argv[2]][1](int(sys.argv[3]))
        sys.stdout.write(json.dumps(asdict(grown(*typed(*big_bike(SEED, size)), LIMIT))))
    else:
        alone(measured, "growth")

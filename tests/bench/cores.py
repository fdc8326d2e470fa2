"""One minimal conflict, beside CPMpy's own search for one on the same facts.

Run on demand: ``python -m tests.bench.cores``. The bikes are those in which only ports, modes, kinds, bans and sums
decide (``oracle.pure``): random ones of few loads, each with a conflict, and a crowd with one output too few. The
reference is ``mus`` of CPMpy (https://cpmpy.readthedocs.io) with its usual solver, on a model that shares no code with
the package.
"""

from collections.abc import Iterator

import yaml

from explained import questions_on
from oracle.pure import a_minimal_conflict
from oracle.pure_bikes import pure_case
from portloom.explaining.conflicts.find import disjoint_conflicts

from .processes import processor
from .rows import PROCESSOR, Extent, Row, alone

SEEDS = (108, 109, 110)
CROWD = 10


def crowd(loads: int) -> tuple[str, str]:
    """Return a bike of so many loads that may not share, and a unit with one output too few."""
    bike = {
        "bike": "a crowd",
        "supply": {"running": "14.0 V", "battery": {"capacity": "10 Ah", "at": "tray"}},
        "frame": {"legs": [{"between": ["tray", "neck"], "length": "150 mm"}], "earth": ["tray"]},
        "places": [{"name": "under seat", "front": "tray"}],
        "loads": [{"name": f"load {n}", "at": "neck", "current": f"{300 + n} mA"} for n in range(loads)],
        "later": [],
        "inputs": [],
    }
    trips = [f"{amperes} A" for amperes in range(1, 21)]
    outputs = [{"name": f"out {n}", "limit": "20 A", "peak": "120 A", "trip": trips} for n in range(1, loads)]
    unit = {"unit": "trial way", "feed": {"limit": "40 A", "fuse_max": "80 A"}, "outputs": outputs, "inputs": []}
    return yaml.safe_dump(bike), yaml.safe_dump(unit)


def beside_mus(texts: tuple[str, str]) -> float:
    """Return the time of the first proven conflict beside that of CPMpy's."""
    _, mine = processor(lambda: next(disjoint_conflicts(questions_on(texts))))
    _, theirs = processor(lambda: a_minimal_conflict(*texts))
    return mine / theirs


def measured(extent: Extent) -> Iterator[Row]:
    """Return a row for small bikes and one for a crowd, for comparison."""
    cases = [pure_case(seed) for seed in extent.of_seeds(SEEDS)]
    beside_mus(cases[0])  # the first loads what is needed
    mus = "CPMpy's mus, same facts"
    small = tuple(beside_mus(texts) for texts in cases)
    yield Row("three to five loads: first proven conflict", mus, PROCESSOR, small)
    loads = 5 if extent.quick else CROWD
    many = (beside_mus(crowd(loads)),)
    yield Row(f"{loads} loads for {loads - 1} outputs: first proven conflict", mus, PROCESSOR, many)


if __name__ == "__main__":
    alone(measured, "cores")

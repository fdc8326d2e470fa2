"""How long a call takes to answer, beside its time limit; and whether a plan is there by then.

Run on demand: ``python -m tests.bench.limit``. Whole processes by the clock, from their start to their end: each
command on a bike whose loads may share in groups of six, and on one with more loads than any unit has outputs for; the
posted plan has a load on each output. Then random bikes of 300 loads through the library: where the linear relaxation
of some place has a solution, by HiGHS, a plan is wanted when the limit is reached.
"""

import subprocess
import sys
from collections.abc import Iterator
from pathlib import Path
from tempfile import TemporaryDirectory
from time import perf_counter

import numpy as np
from scipy.optimize import milp

from portloom.planning.plan import Planned, plan

from .big_bikes import EVERY_SIZE, THREE_HUNDRED, Size, big_bike, typed
from .places import programme
from .processes import spent
from .rows import CLOCK, Extent, Row, alone
from .tightening import tableaux

UNIT = "twenty-four-way"
OUTPUTS = 24
LOADS = (300, 4000)
GROUP = 6
LIMITS = (2.0, 5.0)
WITHIN, BESIDE = 1.2, 0.5
"""An answer is wanted within so many times the limit, or so many seconds after it."""
WANTED = f"{WITHIN:g} of the limit, or {BESIDE:g} s after it"
LATE = 120
"""Seconds after which a call is ended."""
SIZE, SEEDS, LONG = "300x240x6", (0, 1, 2), 60.0


def bike_of(loads: int) -> str:
    """Return the text of a bike with so many lamps at the tail, each a little brighter than the one before it."""
    lamps = (f"  - {{name: lamp {n}, at: tail, current: {10 + n} mA, share: group {n // GROUP}}}" for n in range(loads))
    return "\n".join([
        "bike: Many lamps",
        "supply: {running: 14.0 V, battery: {capacity: 10 Ah, at: tray}}",
        "frame: {legs: [{between: [tray, tail], length: 500 mm}], earth: [tray]}",
        "places: [{name: tray, front: tray, rear: tail}]",
        "ignition: own", "stand: none", "engine_stop: key",
        "loads:", *lamps,
        "inputs: [{part: key switch, at: tray}]",
        "",
    ])  # fmt: skip


def post_of(loads: int) -> str:
    """Return the text of a plan with the first loads together on each output."""
    each = min(GROUP, -(-loads // OUTPUTS))
    names = ([f"lamp {n}" for n in range(each * port, each * port + each)] for port in range(OUTPUTS))
    return "".join(f"out {port}: {', '.join(held)}\n" for port, held in enumerate(names, 1))


def calls(folder: Path, loads: int) -> Iterator[tuple[str, ...]]:
    """Write the files of a bike, and return the words of each command."""
    bike, post = folder / f"{loads}.yaml", folder / f"{loads}.txt"
    bike.write_text(bike_of(loads), "utf-8")
    post.write_text(post_of(loads), "utf-8")
    on = (str(bike), "--unit", UNIT)
    yield "plan", *on
    yield "why", *on
    yield "check", str(post), *on
    yield "check", str(post), *on, "--best", "--repair"


def late(words: tuple[str, ...], limit: float) -> float:
    """Return how long a call takes with a limit, in times of what is wanted; RuntimeError for what is no answer."""
    call = [sys.executable, "-m", "portloom.cli", *words, "--time-limit", str(limit)]
    began = perf_counter()
    try:
        code = subprocess.run(call, check=False, capture_output=True, timeout=LATE).returncode
    except subprocess.TimeoutExpired:
        code = 3
    if code not in (0, 1, 3):
        raise RuntimeError(f"{' '.join(words)} ended with {code}")
    return (perf_counter() - began) / allowed(limit)


def allowed(limit: float) -> float:
    """Return the seconds within which an answer is wanted."""
    return max(WITHIN * limit, limit + BESIDE)


def relaxed(seed: int, size: Size) -> bool:
    """Tell whether the linear relaxation of any place of a random bike has a solution."""
    written = (programme(choice) for choice in tableaux(*big_bike(seed, size)))
    return any(milp(**{**each, "integrality": np.zeros(len(each["c"]))}).status == 0 for each in written)


def limited(seed: int, size: Size, limit: float) -> tuple[float, float]:
    """Plan a random bike with a limit: how long it takes, in times of what is wanted; and whether a plan is lacking.

    It is lacking where none is there though a relaxation has a solution: 1 if so.
    """
    files = typed(*big_bike(seed, size))
    answer, took = spent(lambda: plan(*files, time_limit=limit))
    return took.seconds / allowed(limit), float(not isinstance(answer, Planned) and relaxed(seed, size))


def measured(extent: Extent) -> Iterator[Row]:
    """Return a row for each number of loads, and one for plans that are not there."""
    with TemporaryDirectory() as folder:
        for loads in extent.some(LOADS):
            ratios = tuple(late(words, limit) for words in calls(Path(folder), loads) for limit in extent.some(LIMITS))
            yield Row(f"{loads} loads: plan, why, check, its repair", WANTED, CLOCK, ratios, 1, 1)
    for name in extent.of_sizes([SIZE]):
        size = THREE_HUNDRED if name == SIZE else EVERY_SIZE[name]
        found = [limited(seed, size, LONG) for seed in extent.of_seeds(SEEDS)]
        ratios, lacking = (tuple(each) for each in zip(*found, strict=True))
        yield Row(f"{name}: the library's plan, {LONG:g} s", WANTED, CLOCK, ratios, 1, 1)
        what = f"{name}: no plan after {LONG:g} s"
        yield Row(what, "relaxation with a solution", "bikes", lacking, 0, 0, "1 where there is none")


if __name__ == "__main__":
    alone(measured, "limit")

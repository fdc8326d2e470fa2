"""A plan is the same byte for byte each time, and of equal plans the files' order chooses.

No outside source: these are promises of the tool itself.
"""

import os
import subprocess
import sys
from collections.abc import Sequence
from time import monotonic

import pytest

import unix
from calls import ROOT
from outcomes import EXAMPLES, circuits, planned
from slices import first_of
from unix import used

REASONS = ROOT / "tests" / "data" / "reasons"
UNIT = "{unit: two-way, feed: {limit: 20 A}, outputs: [%s], inputs: [{names: [in 1, in 2], accepts: earth}]}"
ALIKE = "{names: [out 1, out 2], limit: 5 A}"
BIKE = """
bike: trial single
supply: {running: 14 V, battery: {capacity: 10 Ah, at: tray}}
frame:
  legs:
    - {between: [tray, neck], length: 500 mm}
    - {between: [tray, tail], length: 500 mm}
  earth: [tray]
places: [%s]
later: []
loads:
  - {name: rear lamp, at: tail, current: 1 A}
  - {name: front lamp, at: neck, current: 1 A}
inputs:
  - {name: rear button, at: tail, signal: earth, operates: rear lamp}
  - {name: front button, at: neck, signal: earth, operates: front lamp}
"""
HERE = "{name: here, front: tray}"


def printed(bike: str, unit: str, hash_seed: str) -> bytes:
    """Return what the command prints for a bike in JSON, with the hashes of words thrown by a seed."""
    command = [sys.executable, "-m", "portloom.cli", "plan", f"{bike}.yaml", "--unit", unit, "--json"]
    surroundings = {**os.environ, "PYTHONHASHSEED": hash_seed}
    return subprocess.run(command, cwd=EXAMPLES, env=surroundings, capture_output=True, check=True).stdout


@first_of(("bike", "unit"), [("bare-single", "six-way"), ("harbour-trail", "eleven-way")], 1)
def test_a_plan_is_the_same_byte_for_byte(bike: str, unit: str) -> None:
    """Planned again, and under another seed of hashes, a bike gives the same document."""
    first, again, other = (printed(bike, unit, seed) for seed in ("1", "1", "2"))
    assert b'"status": "planned"' in first
    assert first == again == other


CORES = (
    "import os, sys; os.cpu_count = lambda: {cores}; sys.argv = ['portloom', *sys.argv[1:]]; "
    "from portloom.cli.main import main; main()"
)
IDLE = "while True: pass"


def on_cores(cores: int, *call: str, beside: int = 0) -> bytes:
    """Return what a call prints with so many threads for places, beside so many processes that do nothing but run."""
    busy = [subprocess.Popen([sys.executable, "-c", IDLE]) for _ in range(beside)]
    try:
        command = [sys.executable, "-c", CORES.format(cores=cores), *call]
        return subprocess.run(command, cwd=EXAMPLES, capture_output=True, check=True).stdout
    finally:
        for one in busy:
            one.kill()
            one.wait()


@first_of(
    ("bike", "units"),
    [("bare-single", ["six-way"]), ("harbour-trail", ["eleven-way"]), ("harbour-trail", ["eight-way", "eight-way"])],
    1,
)
def test_a_plan_is_the_same_on_any_number_of_cores(bike: str, units: Sequence[str]) -> None:
    """With one thread, with two, with four, and with two beside processes that leave it little time."""
    call = ("plan", f"{bike}.yaml", *(word for unit in units for word in ("--unit", unit)), "--json")
    alone = on_cores(1, *call)
    assert b'"proven": true' in alone
    assert {on_cores(2, *call), on_cores(4, *call), on_cores(2, *call, beside=3)} == {alone}


LITTLE_WORK = """
import sys
from portloom.cli.main import main
from portloom.explaining import explain
explain.USUAL_WORK, explain.WORK_EACH = 300, 0
sys.argv = ["portloom", "why", "three-things-at-once.yaml", "--unit", "six-way", "--json"]
main()
"""
"""The command with so little work that it ends in the middle: with three times as much other fixes are told."""
SLOW = 10
"""So nice a process gets about a tenth of a core beside one that is not: 1.25 a step. Source: sched(7)."""


def begun(program: str, seed: str = "0", *, on_one_core: bool = False, nice: int = 0) -> "subprocess.Popen[bytes]":
    """Begin a program of Python."""
    cores = {min(os.sched_getaffinity(0))} if on_one_core else os.sched_getaffinity(0)

    def settle() -> None:
        os.sched_setaffinity(0, cores)
        os.nice(nice)

    return subprocess.Popen(
        [sys.executable, "-c", program],
        cwd=REASONS,
        env={**os.environ, "PYTHONHASHSEED": seed},
        stdout=subprocess.PIPE,
        preexec_fn=settle,  # noqa: PLW1509 - no thread runs here
    )


@unix.forks
@unix.usage
@pytest.mark.long
@unix.linux
def test_reasons_are_the_same_at_a_tenth_of_the_speed() -> None:
    """Alone, and beside a busy process on one core, under three seeds of hashes: work is counted, not seconds."""
    seeds = ("0", "1", "2")
    whole = {begun(LITTLE_WORK, seed).communicate()[0] for seed in seeds}
    assert [b'"fixes_complete": false' in text and b'"effort"' in text for text in whole] == [True]
    busy, started, before = begun(IDLE, on_one_core=True), monotonic(), used()
    try:
        slow = [begun(LITTLE_WORK, seed, on_one_core=True, nice=SLOW) for seed in seeds]
        told = {one.communicate()[0] for one in slow}
        speed = (used() - before) / len(seeds) / (monotonic() - started)
    finally:
        busy.kill()
        busy.communicate()
    assert told == whole
    assert speed < 0.2


def test_of_equal_outputs_the_first_load_takes_the_first() -> None:
    """Of two outputs, or inputs, that only their names tell apart, the first of the file gets the first."""
    found = planned(BIKE % HERE, UNIT % ALIKE)
    assert circuits(found) == {"out 1": ("rear lamp",), "out 2": ("front lamp",)}
    assert [line.switches for line in found.inputs] == [("rear button",), ("front button",)]


def test_the_order_of_the_loads_decides() -> None:
    """Written the other way round, the loads change places."""
    lines = (BIKE % HERE).splitlines()
    rear, front = (
        next(n for n, line in enumerate(lines) if f"name: {side} lamp" in line) for side in ("rear", "front")
    )
    lines[rear], lines[front] = lines[front], lines[rear]
    assert circuits(planned("\n".join(lines), UNIT % ALIKE)) == {"out 1": ("front lamp",), "out 2": ("rear lamp",)}


@pytest.mark.parametrize("names", [("one", "two", "three"), ("three", "two", "one")])
def test_of_equal_places_the_first_of_the_file_is_taken(names: tuple[str, ...]) -> None:
    """Three places at one point cost the same; whatever they are called, the first is taken."""
    places = ", ".join(f"{{name: {name}, front: tray}}" for name in names)
    assert planned(BIKE % places, UNIT % ALIKE).only.place == names[0]


def test_a_place_as_written_comes_before_the_same_place_turned() -> None:
    """Where turning the unit costs the same, it is not turned."""
    place = "{name: across, front: neck, rear: tail, way_round: either}"
    unit = UNIT % "{name: out 1, limit: 5 A, face: front}, {name: out 2, limit: 5 A, face: rear}"
    unit = unit.replace("{names: [in 1, in 2], accepts: earth}", "{names: [in 1, in 2], accepts: earth, face: rear}")
    found = planned(BIKE % place, unit)
    assert not found.only.turned
    assert circuits(found) == {"out 1": ("front lamp",), "out 2": ("rear lamp",)}


def test_a_cheaper_place_later_in_the_file_is_taken() -> None:
    """The order of the file settles only what costs the same."""
    places = f"{{name: far, front: neck}}, {HERE}"
    assert planned(BIKE % places, UNIT % ALIKE).only.place == "here"

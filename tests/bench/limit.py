"""How long a call takes to answer, beside its time limit: whole processes, from their start to their end.

Run on demand: ``python -m tests.bench.limit [--seconds SECONDS]``. Each command on a bike whose loads may share in
groups of six, and on one with more loads than any unit has outputs for; the posted plan has a load on each output.
"""

import subprocess
import sys
from argparse import ArgumentParser
from collections.abc import Iterator
from pathlib import Path
from tempfile import TemporaryDirectory
from time import perf_counter

UNIT = "twenty-four-way"
OUTPUTS = 24
LOADS = (300, 4000)
GROUP = 6
WITHIN, BESIDE = 1.2, 0.5
"""An answer is wanted within so many times the limit, or so many seconds after it."""
LATE = 120
"""Seconds after which a call is ended."""


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


def calls(folder: Path, loads: int) -> Iterator[tuple[str, tuple[str, ...]]]:
    """Write the files of a bike, and return each command with its arguments."""
    bike, post = folder / f"{loads}.yaml", folder / f"{loads}.txt"
    bike.write_text(bike_of(loads), "utf-8")
    post.write_text(post_of(loads), "utf-8")
    on = (str(bike), "--unit", UNIT)
    yield "plan", ("plan", *on)
    yield "why", ("why", *on)
    yield "check", ("check", str(post), *on)
    yield "check --best --repair", ("check", str(post), *on, "--best", "--repair")


def timed(arguments: tuple[str, ...], limit: float) -> tuple[float, str]:
    """Return the seconds that a call takes with a limit, and how it ended."""
    call = [sys.executable, "-m", "portloom.cli", *arguments, "--time-limit", str(limit)]
    began = perf_counter()
    try:
        done = subprocess.run(call, check=False, capture_output=True, text=True, timeout=LATE)
    except subprocess.TimeoutExpired:
        return perf_counter() - began, "was ended"
    told = (done.stderr + done.stdout).strip().splitlines()
    return perf_counter() - began, f"exit {done.returncode}, {told[0][:60] if told else 'nothing'}"


def main(limits: list[float]) -> None:
    """Print a line for each call: how long it took beside its limit, and whether that is as wanted."""
    with TemporaryDirectory() as folder:
        for loads in LOADS:
            for name, arguments in calls(Path(folder), loads):
                for limit in limits:
                    took, ended = timed(arguments, limit)
                    held = "" if took <= max(WITHIN * limit, limit + BESIDE) else " LATE"
                    print(
                        f"{loads} loads, {name}: {took:.2f} s for {limit:g} s, {took / limit:.2f} of it{held}; {ended}"
                    )


if __name__ == "__main__":
    parser = ArgumentParser()
    parser.add_argument("--seconds", action="append", type=float)
    main(parser.parse_args().seconds or [2, 5])

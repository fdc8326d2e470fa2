"""Fixes as the command tells them, against every set of changes to the bike's file up to an effort."""

from collections.abc import Iterator
from functools import partial
from itertools import count
from typing import Any

from file_edit_bikes import held_bench, random_bench
from file_edit_sets import Bench, bigger_than, has_plan
from file_edit_told import KNOWN, NotUnderstood, faults, told, too_few
from oracle.starved import FAMILIES, starved_case

from .command import Command, Unfinished
from .record import HELD, REFUTED, Finding, Trial

MOST = 17
"""The most effort that is tried, as far as so many plannings go."""
MOST_PLANS = 150


def trials(command: Command, seed: int) -> Iterator[Trial]:
    """Throw small random bikes, some with what is decided of ports, and the other program's starved ones, in turn.

    None of them fits.
    """
    for number in count(seed):
        yield Trial(f"fixes, held {number}", partial(_of_held, command, number))
        yield Trial(f"fixes, random {number}", partial(_of_random, command, number))
        family = FAMILIES[number % len(FAMILIES)]
        yield Trial(f"fixes, {family} {number}", partial(_of_starved, command, family, number))


def _of_random(command: Command, number: int) -> Iterator[Finding]:
    yield _finding(command, random_bench(number))


def _of_held(command: Command, number: int) -> Iterator[Finding]:
    yield _finding(command, held_bench(number))


def _of_starved(command: Command, family: str, number: int) -> Iterator[Finding]:
    bike, unit = starved_case(number, family)
    if not has_plan(bike, unit):
        yield _finding(command, Bench(bike, unit, bigger_than(unit, KNOWN), most_plans=MOST_PLANS))


def _finding(command: Command, bench: Bench) -> Finding:
    document: dict[str, Any] = {}
    try:
        document = command.why(bench.bike_text, bench.unit_text)
        wrong = list(_wrong(bench, document))
    except (NotUnderstood, Unfinished) as fault:
        wrong = [f"{type(fault).__name__}: {fault}"]
    note = "told with proof that there are no others" if document.get("fixes_complete") else "the work ended first"
    return Finding(REFUTED, tuple(wrong), note) if wrong else Finding(HELD, (), note)


def _wrong(bench: Bench, document: dict[str, Any]) -> Iterator[str]:
    if document["status"] != "no plan":
        yield f"told as '{document['status']}', and has no plan"
        return
    fixes, complete = told(bench, document), document["fixes_complete"]
    yield from faults(bench, fixes, MOST, complete=complete)
    if complete:
        yield from too_few(bench, fixes, MOST)

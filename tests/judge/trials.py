"""Random bikes of every family, each planned by the command, every figure of its plan judged."""

import json
from collections.abc import Iterator, Sequence
from decimal import Decimal
from functools import partial
from itertools import count

from built_bikes import FAMILIES as WITH_NAMES
from built_bikes import changed
from oracle.pair_bikes import pair_case
from oracle.random_bikes import EVERY_FAMILY, random_case
from portloom.inputs.problems import BadFile
from referee.command import Command, Unfinished
from referee.record import HELD, REFUTED, Finding, Trial
from sheet.bench import bench_steps
from sheet.built import OF_ANY, OF_BUILT, BuiltSheet
from sheet.compared import left_out, worked, wrong
from sheet.decisions import DECISIONS, Check, none_too_thick
from sheet.figures import Sheet
from sheet.lists import LISTS, Lists
from sheet.things import Bike, Unit
from sheet.wires import Plan

from .keys import with_more_keys
from .ruled import ruled

TWO_UNITS = "two units"
BUILT = (*WITH_NAMES, "multiplexed", "fed", "shown", "alike", "held")
"""The families of which looms are built, and planned again once something is changed."""
FAMILIES = (*EVERY_FAMILY, TWO_UNITS)
SIZES: tuple[Check, ...] = (none_too_thick,)
"""Left to the oracle: it knows of shorts, and of feeds and returns that lose more than they are judged with."""


def trials(command: Command, seed: int) -> Iterator[Trial]:
    """Throw bikes of every family in turn."""
    for number in count(seed):
        for family in FAMILIES:
            yield Trial(f"{family} {number}", partial(findings, command, family, number))
            if family != TWO_UNITS:
                more = partial(findings, command, family, number, more_keys=True)
                yield Trial(f"{family} {number}, more keys", more)
            if family in BUILT:
                yield Trial(f"{family} {number}, built", partial(built_findings, command, family, number))


def findings(command: Command, family: str, number: int, *, more_keys: bool = False) -> Iterator[Finding]:
    """Plan a bike and judge what is printed of it; nothing where there is no plan, or the file is refused."""
    bike, *units = pair_case(number) if family == TWO_UNITS else random_case(number, family)
    if more_keys:
        bike, *units = with_more_keys(f"{family} {number}", bike, *units)
    try:
        printed = json.loads(command.printed(bike, *units), parse_float=Decimal)
    except BadFile:
        return  # thrown with something that no file may say
    except Unfinished as fault:
        yield Finding(REFUTED, (str(fault),), "not finished")
        return
    if printed["status"] != "planned":
        return
    yield Finding(HELD, (), f"planned: {family}{', more keys' if more_keys else ''}")
    sheet = Sheet(Plan(Bike(bike), [Unit(unit) for unit in units], printed))
    yield from judged(sheet)
    yield _finding("rules, cost and sizes", ruled(bike, units, printed))
    if len(units) == 1:  # there are no sheets of two
        written = command.sheets(bike, *units)
        yield _finding("bench test: one circuit at a time", bench_steps(sheet, written["bench-test.html"]))
        lists = Lists(sheet, written)
        yield from (_finding(f"lists: {check.__name__}", check(lists)) for check in LISTS)


def built_findings(command: Command, family: str, number: int) -> Iterator[Finding]:
    """Build a bike, change one to three things of it, and judge what is printed when it is planned again."""
    bike, unit = random_case(number, family)
    try:
        before = command.printed(bike, unit)
        made = json.loads(before, parse_float=Decimal)
        if made["status"] != "planned":
            return
        now = changed(bike, made, number)
        printed = json.loads(command.printed(now, unit, built=before), parse_float=Decimal)
    except BadFile:
        return  # thrown with something that no file may say
    except Unfinished as fault:
        yield Finding(REFUTED, (str(fault),), "not finished")
        return
    if printed["status"] == "planned":
        yield Finding(HELD, (), f"planned: {family}, built")
        sheet = BuiltSheet(Plan(Bike(now), [Unit(unit)], printed), made)
        yield from judged(sheet, OF_ANY)
        yield from (_finding(f"as built: {check.__name__}", check(sheet)) for check in OF_BUILT)


def judged(sheet: Sheet, checks: Sequence[Check] = DECISIONS) -> Iterator[Finding]:
    """Judge a printed plan, a finding for each thing that is asked of it, of its decisions by some checks."""
    done: set[str] = set()
    for table in sheet.tables:
        figures = worked(sheet, table)
        done |= set(figures)
        if figures:
            yield _finding(f"figures: {table}", wrong(sheet, table))
    yield _finding("no figure is left out", iter(left_out(sheet.printed, done)))
    yield from (_finding(f"decisions: {check.__name__}", check(sheet)) for check in checks if check not in SIZES)


def _finding(name: str, faults: Iterator[str]) -> Finding:
    said = tuple(f"{name}: {one}" for one in faults)
    return Finding(REFUTED if said else HELD, said, name)

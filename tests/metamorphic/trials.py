"""Random bikes of every family, each planned as it is and after each change."""

import random
from collections.abc import Iterator
from functools import partial
from itertools import count
from typing import Any

import yaml

from oracle.random_bikes import EVERY_FAMILY, random_case
from portloom.inputs.problems import BadFile
from referee.command import Command, Unfinished
from referee.record import HELD, REFUTED, Finding, Trial

from .change import Change, NotSaid, Plan, copies, without
from .frames import leg_in_two, leg_to_nowhere, output_for_nothing, twice_as_long
from .naming import renamed
from .order import ORDERS
from .words import other_units, watts_for_amperes

CHANGES: dict[str, Change] = {
    "other names": renamed,
    **ORDERS,
    "a leg in two": leg_in_two,
    "a leg to nowhere": leg_to_nowhere,
    "an output for nothing": output_for_nothing,
    "twice as long": twice_as_long,
    "other units": other_units,
    "watts for amperes": watts_for_amperes,
}


def trials(command: Command, seed: int) -> Iterator[Trial]:
    """Throw bikes of every family in turn."""
    for number in count(seed):
        for family in EVERY_FAMILY:
            yield Trial(f"{family} {number}", partial(findings, command, family, number))


def findings(command: Command, family: str, number: int) -> Iterator[Finding]:
    """Plan a bike as it is and after each change; a finding for each change that it has something for."""
    texts = random_case(number, family)
    bike, unit = (yaml.safe_load(text) for text in texts)
    try:
        before = _planned(command, *texts)
    except BadFile:
        return  # thrown with something that no file may say
    for name, change in CHANGES.items():
        try:
            changed = change(random.Random(f"{name} {family} {number}"), *copies(bike, unit))
        except NotSaid:
            continue
        try:
            wrong = [*changed.wrong(before, _planned(command, _text(changed.bike), _text(changed.unit)))]
        except (BadFile, Unfinished) as fault:
            wrong = [f"{type(fault).__name__}: {fault}"]
        yield Finding(REFUTED if wrong else HELD, tuple(f"{name}: {one}" for one in wrong), name)


def _planned(command: Command, bike: str, unit: str) -> Plan:
    """Return a plan without the lines of the files, which a change may move."""
    return {key: without(value, "where") for key, value in command.plan(bike, unit).items()}


def _text(entry: Any) -> str:
    return str(yaml.safe_dump(entry, sort_keys=False, allow_unicode=True))

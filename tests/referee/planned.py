"""Random bikes of every family that fit, each judged with its best plan as the command prints it."""

import random
from collections.abc import Callable, Iterator
from functools import partial
from itertools import count
from typing import Any

from oracle.random_bikes import EVERY_FAMILY, random_case
from portloom.inputs.problems import BadFile

from .command import Command, Unfinished
from .record import REFUTED, Finding, Trial

Json = dict[str, Any]
Judge = Callable[[Command, random.Random, tuple[str, str], Json], Iterator[Finding]]
"""Judges what is told of a bike and its unit, with dice of their own and the best plan."""


def trials(what: str, command: Command, seed: int, judge: Judge) -> Iterator[Trial]:
    """Throw bikes of every family in turn; ``what`` is judged of them."""
    for number in count(seed):
        for family in EVERY_FAMILY:
            yield Trial(f"{what}, {family} {number}", partial(_findings, command, family, number, judge))


def _findings(command: Command, family: str, number: int, judge: Judge) -> Iterator[Finding]:
    texts = random_case(number, family)
    try:
        best = command.plan(*texts)
        if best["status"] == "planned":
            yield from judge(command, random.Random(f"{family} {number}"), texts, best)
    except BadFile:
        return  # thrown with something that no file may say
    except Unfinished as fault:
        yield Finding(REFUTED, (str(fault),))

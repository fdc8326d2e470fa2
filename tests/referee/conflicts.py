"""Conflicts as the command tells them, each refuted or not by edited files that the command plans.

Its facts alone must have no plan, and one without any of them, or with what is told to lift it; each sentence must be
true of the files.
"""

from collections.abc import Iterator
from functools import partial
from itertools import count
from typing import Any

from conflict_bikes import EVERY_FAMILY, conflict_case
from conflict_facts import Case, NoSuchFact, keys_of
from conflict_judged import judged
from conflict_lifts import NotUnderstood, lifted
from conflict_sentences import untrue
from portloom.inputs.problems import BadFile

from .command import Command, Unfinished
from .record import HELD, IN_PART, REFUTED, Finding, Trial


def trials(command: Command, seed: int, *, first: bool) -> Iterator[Trial]:
    """Throw bikes of every family in turn; ``first``: what 'plan' tells, which is the first conflict of each."""
    for number in count(seed):
        for family in EVERY_FAMILY:
            name = f"conflicts, {family} {number}{', the first' if first else ''}"
            yield Trial(name, partial(_findings, command, family, number, first=first))


def _findings(command: Command, family: str, number: int, *, first: bool) -> Iterator[Finding]:
    case = Case(*conflict_case(number, family))
    ask = command.plan if first else command.why
    try:
        told = ask(case.bike_text, case.unit_text)
    except Unfinished as unfinished:
        yield Finding(REFUTED, (str(unfinished),))
        return
    except BadFile:
        return  # thrown with something missing that it names
    for conflict in told.get("conflicts", ()):
        yield finding_of(command, case, conflict)


def finding_of(command: Command, case: Case, conflict: dict[str, Any]) -> Finding:
    """Judge one conflict that is told of a bike."""
    size = f"of {len(conflict['facts'])} facts"
    try:
        keys = keys_of(case, conflict)
        judgement = judged(case, conflict, command.fits)
        lifts = list(lifted(case, conflict, command.fits))
    except (NoSuchFact, NotUnderstood, Unfinished) as fault:
        return Finding(REFUTED, (f"{fault}: {conflict['sentence']}",), size)
    said = [(key, fact["sentence"]) for key, fact in zip(keys, conflict["facts"], strict=True)]
    wrong = [verdict.claim for verdict in (*judgement.wrong, *lifts) if verdict.holds is False]
    wrong += [one for pair in said if (one := untrue(case, *pair))]
    if wrong:
        return Finding(REFUTED, (*wrong, conflict["sentence"]), size)
    unsaid = [verdict for verdict in (*judgement.open, *lifts) if verdict.holds is None]
    said_so = tuple(f"{verdict.claim}: {verdict.why}" for verdict in unsaid)
    return Finding(IN_PART if unsaid else HELD, said_so, size)

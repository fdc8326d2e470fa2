"""Answers to 'why not', each held or refuted by the bike's file in which the wish is decided.

A wish for an output is written as ``on``, one for a place leaves no other in the file. What is possible must cost as
much more as is told; what is impossible must have no plan, and the conflict that is told must be one.
"""

import random
from collections.abc import Iterator
from copy import deepcopy
from dataclasses import dataclass
from decimal import Decimal

import yaml

from conflict_facts import Case, NoSuchFact
from conflict_judged import judged
from file_edits import name_of
from oracle.profiles import each

from . import planned
from .command import Command
from .planned import Json
from .record import HELD, IN_PART, REFUTED, Finding, Trial

SEATS = 4
"""Wishes for an output, of each bike."""
ALONE, WITH_THE_REST, POSSIBLE = "alone", "with the rest", "possible"
"""The answers."""


@dataclass(frozen=True)
class Wish:
    """What is asked of a bike, as the command line has it, and the bike's text in which it is decided."""

    words: tuple[str, str]
    decided: str
    load: str = ""
    """The load that is wished onto an output; none where a place is wished for."""


def trials(command: Command, seed: int) -> Iterator[Trial]:
    """Throw bikes of every family in turn."""
    return planned.trials("wishes", command, seed, _findings)


def _findings(command: Command, dice: random.Random, texts: tuple[str, str], best: Json) -> Iterator[Finding]:
    cost = Decimal(str(best["cost_mm"]))
    return (finding(command, texts, cost, wish) for wish in wishes(dice, *texts, best))


def wishes(dice: random.Random, bike: str, unit: str, best: Json) -> list[Wish]:
    """Throw wishes for loads on outputs of which nothing is decided, and for a place where there are several."""
    tree = yaml.safe_load(bike)
    free = {name_of(load) for load in tree["loads"] if not {"on", "not_on"} & load.keys()}
    seated = [name for line in best["outputs"] for name in line["loads"] if name in free]
    ports = [port["name"] for port in each(yaml.safe_load(unit)["outputs"])]
    pairs = [(name, port) for name in seated for port in ports]
    found = [_on_output(tree, *pair) for pair in dice.sample(pairs, min(SEATS, len(pairs)))]
    places = [place["name"] for place in tree["places"]]
    return [*found, _at_place(tree, dice.choice(places))] if len(places) > 1 else found


def _on_output(tree: Json, name: str, port: str) -> Wish:
    decided = deepcopy(tree)
    next(load for load in decided["loads"] if name_of(load) == name)["on"] = port
    return Wish(("--not", f"{name}={port}"), yaml.safe_dump(decided, sort_keys=False), name)


def _at_place(tree: Json, name: str) -> Wish:
    only = [place for place in tree["places"] if place["name"] == name]
    return Wish(("--not-place", name), yaml.safe_dump({**tree, "places": only}, sort_keys=False))


def finding(command: Command, texts: tuple[str, str], cost: Decimal, wish: Wish) -> Finding:
    """Ask for a wish and judge the answer by the file in which it is decided; ``cost`` (mm) is the best plan's."""
    bike, unit = texts
    told = command.why(bike, unit, *wish.words)["why_not"]
    decided = command.plan(wish.decided, unit)
    fits = decided["status"] == "planned"
    if fits is not (told["answer"] == POSSIBLE) or told["answer"] not in (ALONE, WITH_THE_REST, POSSIBLE):
        return Finding(REFUTED, (f"{told['question']} told '{told['answer']}', its file: {decided['status']}",))
    if fits:
        more, dearer = Decimal(str(told["price"]["cost_mm"])), Decimal(str(decided["cost_mm"])) - cost
        wrong = (f"{told['question']} told {more} mm more, its file: {dearer} mm",) if more != dearer else ()
        return Finding(REFUTED if wrong else HELD, wrong, POSSIBLE)
    if told["answer"] == ALONE or not wish.load:
        return Finding(HELD, (), told["answer"])
    return _conflict(command, Case(wish.decided, unit), told["conflict"], wish)


def _conflict(command: Command, case: Case, conflict: Json, wish: Wish) -> Finding:
    """Judge a conflict with a wish as one with what the file decides.

    A port that is named so is a kind of its own; where the conflict counts ports of a kind, the file may have no such
    fact.
    """
    if any("shows" in load for load in case.tree["loads"]):
        return Finding(IN_PART, ("a dash that shows something",), WITH_THE_REST)
    decided = {"fact": "pin", "subject": wish.load}
    facts = [fact | (decided if fact["fact"] == "wish" else {}) for fact in conflict["facts"]]
    try:
        judgement = judged(case, {**conflict, "facts": facts}, command.fits)
    except NoSuchFact as other:
        return Finding(IN_PART, (str(other),), WITH_THE_REST)
    wrong = tuple(verdict.claim for verdict in judgement.wrong)
    unsaid = tuple(f"{verdict.claim}: {verdict.why}" for verdict in judgement.open)
    outcome = REFUTED if wrong else IN_PART if unsaid else HELD
    return Finding(outcome, (*wrong, conflict["sentence"]) if wrong else unsaid, WITH_THE_REST)

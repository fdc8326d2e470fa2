"""A conflict as ``portloom why --json --proof`` tells it, read back: which facts of the files it keeps.

Subjects are read as a person would: 'bank A' is the bank of that name, 'out 1 to out 3' begins with the first port.
"""

import re
from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from functools import cached_property, partial
from typing import Any

from oracle.facts import Key, facts_of
from oracle.filling import filled
from oracle.job import Job
from oracle.kinds import Kinds, kinds_of
from oracle.matched import sets_on_outputs
from oracle.profiles import each
from oracle.reading import read_bike, tree_of
from oracle.things import Bike

Tree = dict[str, Any]


@dataclass(frozen=True)
class Case:
    """A bike and a unit as they are written."""

    bike_text: str
    unit_text: str

    @cached_property
    def bike(self) -> Bike:
        return read_bike(self.bike_text)

    @cached_property
    def kinds(self) -> Kinds:
        return kinds_of(self.unit_text, self.bike.named_ports)

    @cached_property
    def job(self) -> Job:
        """The whole bike's, by the second program: how its returns are dealt."""
        return Job(self.bike, self.kinds.unit)

    @cached_property
    def facts(self) -> frozenset[Key]:
        """Every fact of the files."""
        return frozenset(facts_of(self.bike, self.kinds))

    @cached_property
    def tree(self) -> Tree:
        """The bike's file with what its parts bring written in."""
        return filled(tree_of(self.bike_text))

    @cached_property
    def unit(self) -> Tree:
        """The unit's file, one entry a port."""
        tree = tree_of(self.unit_text)
        ports = {
            which: [{k: v for k, v in port.items() if k != "names"} for port in each(tree.get(which, []))]
            for which in ("outputs", "inputs")
        }
        return {**tree, **ports}


class NoSuchFact(Exception):
    """What is told is nothing that the files say."""


def keys_of(case: Case, conflict: Mapping[str, Any]) -> tuple[Key, ...]:
    """Return the facts that a conflict tells, in its order. Raises NoSuchFact."""
    return tuple(_key(case, fact) for fact in conflict["facts"])


def _key(case: Case, fact: Mapping[str, str]) -> Key:
    kind, subject, rule = fact["fact"], fact["subject"], fact["rule"]
    about = (
        partial(_names_set, case.bike, subject=subject)
        if kind == "alike"
        else partial(_is_about, subject=subject, rule=rule)
    )
    found = [key for key in case.facts if key[0] == kind and about(key)]
    if len(found) != 1:
        raise NoSuchFact(f"{kind} of {subject} ({rule}): {found}")
    return found[0]


def _is_about(key: Key, subject: str, rule: str) -> bool:
    match key:
        case ("told", "follow", _):
            return rule == "follow" and subject == key[2]
        case ("told", _, _):
            return key[1:] == (rule, subject) or (key[1] == rule and set(key[2].split(" or ")) <= set(_words(subject)))
        case ("ban" | "switch ban", one, other):
            return subject == f"{one}, {other}"
        case ("bank", name):
            return subject == f"bank {name}"
        case ("terminal", port):
            return subject.startswith(port) and subject[len(port) : len(port) + 1] in ("", ",", " ")
        case _:
            return subject == key[1]


def _names_set(bike: Bike, key: Key, subject: str) -> bool:
    there = next(loads for names, loads in sets_on_outputs(bike) if names == key[1:])
    return {load.name for load in there} == set(re.split(r", | and ", subject))


def _words(subject: str) -> Sequence[str]:
    if subject in ("the brake", "a brake"):
        return ("front brake", "rear brake")
    return [word.removeprefix("the ") for word in subject.split(" or ")]

"""The fewest moves that make a posted plan sound, each held or refuted by posts that the command checks.

As the plan is posted after them it must be sound, and cost what is told, by the file in which every port is decided;
with fewer moves none may be.
"""

import random
from collections.abc import Iterator, Mapping, Sequence
from copy import deepcopy
from decimal import Decimal
from itertools import combinations, product
from math import comb

import yaml

from file_edits import name_of
from oracle.profiles import each

from . import planned
from .command import Command
from .planned import Json
from .record import HELD, IN_PART, REFUTED, Finding, Trial

MOST_POSTS = 400
"""So many posts with fewer moves are checked at most; where there are more, that part is not judged."""
SOUND = ("sound", "nothing wrong")
"""How ``check`` tells a post that breaks nothing; it says 'nothing wrong' where the post leaves something open."""

Ports = Mapping[str, str]
"""The port that each load or switch is on."""


def trials(command: Command, seed: int) -> Iterator[Trial]:
    """Throw bikes of every family in turn."""
    return planned.trials("repairs", command, seed, _findings)


def _findings(command: Command, dice: random.Random, texts: tuple[str, str], best: Json) -> Iterator[Finding]:
    post = Post(*texts, best)
    yield _as_planned(command, post)
    yield finding(command, post, post.disturbed(dice))


class Post:
    """A bike and a unit, who is where in their best plan, and posts that are near it."""

    def __init__(self, bike: str, unit: str, best: Json) -> None:
        """Take the texts and the plan as it is printed."""
        self.bike, self.unit = bike, unit
        fed = {name_of(load) for load in yaml.safe_load(bike)["loads"] if "from" in load}
        seated = ((name, line["port"]) for line in best["outputs"] for name in line["loads"])
        self.outputs: Ports = {name: port for name, port in seated if name not in fed}
        self.inputs: Ports = {name: line["port"] for line in best["inputs"] for name in line["inputs"]}
        tree = yaml.safe_load(unit)
        self._ports = {which: [port["name"] for port in each(tree.get(which, []))] for which in ("outputs", "inputs")}

    def disturbed(self, dice: random.Random) -> Ports:
        """Return who is on which output where one to three loads are moved to others."""
        moved = dice.sample(sorted(self.outputs), min(dice.randint(1, 3), len(self.outputs)))
        return {**self.outputs, **{name: dice.choice(self._ports["outputs"]) for name in moved}}

    def with_moves(self, outputs: Ports, moves: int) -> Iterator[tuple[Ports, Ports]]:
        """Return every post that so many moves make of one, of loads and of switches."""
        things = [(name, "outputs") for name in outputs] + [(name, "inputs") for name in self.inputs]
        at = {**outputs, **self.inputs}
        for some in combinations(things, moves):
            others = [[port for port in self._ports[which] if port != at[name]] for name, which in some]
            for ports in product(*others):
                to = {(name, which): port for (name, which), port in zip(some, ports, strict=True)}
                yield (
                    {name: to.get((name, "outputs"), port) for name, port in outputs.items()},
                    {name: to.get((name, "inputs"), port) for name, port in self.inputs.items()},
                )

    def count_with(self, moves: int) -> int:
        """Return about how many posts so many moves make."""
        ports: int = max(map(len, self._ports.values()))
        most: int = ports**moves
        return comb(len(self.outputs) + len(self.inputs), moves) * most

    def decided(self, outputs: Ports, inputs: Ports, place: str) -> str:
        """Return the bike's text in which every port that is named, and the place, are decided."""
        tree = deepcopy(yaml.safe_load(self.bike))
        for which, ports in (("loads", outputs), ("inputs", inputs)):
            for entry in tree[which]:
                if name_of(entry) in ports:
                    entry.pop("not_on", None)
                    entry["on"] = ports[name_of(entry)]
        tree["places"] = [one for one in tree["places"] if place in (one["name"], f"{one['name']}, turned around")]
        return yaml.safe_dump(tree, sort_keys=False)

    def agrees(self, ports: tuple[Ports, Ports], cost: Decimal, told: Decimal) -> bool:
        """Tell whether a file in which these ports are decided costs what is told.

        A relay's coil has no entry in which its output could be decided: with one the file may cost less.
        """
        tree = yaml.safe_load(self.bike)
        entries = {name_of(entry) for which in ("loads", "inputs") for entry in tree[which]}
        whole = all(name in entries for some in ports for name in some)
        return cost == told if whole else cost <= told


def posted(outputs: Ports, inputs: Ports) -> str:
    """Return a post as people write it: a line a port, and what is on it."""
    held: dict[str, list[str]] = {}
    for name, port in (*outputs.items(), *inputs.items()):
        held.setdefault(port, []).append(name)
    return "".join(f"{port}: {', '.join(names)}\n" for port, names in held.items())


def _as_planned(command: Command, post: Post) -> Finding:
    """The best plan, posted, is sound."""
    told = command.check(posted(post.outputs, post.inputs), post.bike, post.unit)
    return _held(
        () if told["status"] in SOUND else (f"the best plan, posted, is told '{told['status']}'",), "as planned"
    )


def finding(command: Command, post: Post, outputs: Ports) -> Finding:
    """Ask for the fewest moves of a post, and judge them."""
    told = command.check(posted(outputs, post.inputs), post.bike, post.unit, "--repair")["repair"]
    if told["answer"] != "found" or not told["proven"]:
        return _held((f"told '{told['answer']}', though the best plan is near",), "no repair")
    after = _ports_of(told["outputs"], "loads"), _ports_of(told["inputs"], "inputs")
    moves, note = told["moves"], f"{told['moves']} moves"
    wrong = [*_miscounted(told, (outputs, post.inputs), after), *_unsound(command, post, told, after)]
    if moves > 1 and post.count_with(moves - 1) > MOST_POSTS:
        return _held(tuple(wrong), note) if wrong else Finding(IN_PART, ("too many posts have fewer moves",), note)
    nearer = post.with_moves(outputs, moves - 1) if moves else ()
    sound = (one for one in nearer if command.check(posted(*one), post.bike, post.unit)["status"] in SOUND)
    wrong += [f"told {moves} moves, sound with fewer: {one}" for one in sound]
    return _held(tuple(wrong), note)


def _miscounted(told: Json, before: tuple[Ports, Ports], after: tuple[Ports, Ports]) -> Iterator[str]:
    moved = sum(new.get(name) != port for old, new in zip(before, after, strict=True) for name, port in old.items())
    if moved != told["moves"]:
        yield f"told {told['moves']} moves, {moved} things are elsewhere"


def _unsound(command: Command, post: Post, told: Json, after: tuple[Ports, Ports]) -> Iterator[str]:
    status = command.check(posted(*after), post.bike, post.unit)["status"]
    if status not in SOUND:
        yield f"after the moves it is told '{status}'"
    decided = command.plan(post.decided(*after, told["place"]), post.unit)
    if decided["status"] != "planned":
        yield f"with its ports decided: {decided['status']}"
    elif not post.agrees(after, Decimal(str(decided["cost_mm"])), Decimal(str(told["cost_mm"]))):
        yield f"told to cost {told['cost_mm']} mm, its file {decided['cost_mm']} mm"


def _ports_of(lines: Sequence[Json], held: str) -> Ports:
    return {name: line["port"] for line in lines for name in line[held]}


def _held(wrong: tuple[str, ...], note: str) -> Finding:
    return Finding(REFUTED if wrong else HELD, wrong, note)

"""Frames that are no other to any wire: a leg in two, a leg to nowhere; an output for nothing; all twice as long."""

import random
from collections.abc import Iterator
from typing import Any

from .change import COSTS, Changed, Entry, NotSaid, Plan, millimetres, same_but, same_in, without

MIDWAY, NOWHERE, UNUSED = "midway", "nowhere", "unused"


def leg_in_two(rng: random.Random, bike: Entry, unit: Entry) -> Changed:
    """Put a point on a leg where nothing is: every wire is as long, as thick and as hot as before."""
    legs: list[Entry] = bike["frame"]["legs"]
    still = [number for number, leg in enumerate(legs) if "moves" not in leg]  # each that moves takes some slack
    if not still:
        raise NotSaid
    number = rng.choice(still)
    leg = legs[number]
    start, end = leg["between"]
    name = leg.get("name", f"{start} - {end}")
    half = f"{millimetres(leg['length']) / 2} mm"
    halves = [
        leg | {"between": [start, MIDWAY], "length": half, "name": f"{name}, first half"},
        leg | {"between": [MIDWAY, end], "length": half, "name": f"{name}, second half"},
    ]
    legs[number : number + 1] = halves
    for load in (*bike["loads"], *bike.get("later", ())):
        if name in load.get("avoid", ()):
            load["avoid"] = [one for other in load["avoid"] for one in _both(other, name, halves)]

    def wrong(before: Plan, after: Plan) -> Iterator[str]:
        parts = (*COSTS, "status", "place", "turned", "copper_g")
        yield from same_in(parts, before, after)
        for part in ("outputs", "inputs", "returns", "feed", "fed", "other_wires"):
            yield from same_in((part,), _laid(before, part), _laid(after, part))

    return Changed(bike, unit, wrong)


def _both(leg: str, split: str, halves: list[Entry]) -> list[str]:
    return [half["name"] for half in halves] if leg == split else [leg]


def _laid(plan: Plan, part: str) -> dict[str, Any]:
    return {part: without(plan.get(part), "legs")}


def leg_to_nowhere(rng: random.Random, bike: Entry, unit: Entry) -> Changed:
    """Add a leg at the end of which nothing is: nothing changes."""
    point = rng.choice(rng.choice(bike["frame"]["legs"])["between"])
    bike["frame"]["legs"].append({"between": [point, NOWHERE], "length": f"{rng.randint(1, 900)} mm"})

    def wrong(before: Plan, after: Plan) -> Iterator[str]:
        kept = [leg for leg in after.get("legs", ()) if NOWHERE not in leg["leg"]]
        yield from same_but()(before, after | ({"legs": kept} if "legs" in after else {}))

    return Changed(bike, unit, wrong)


def output_for_nothing(_: random.Random, bike: Entry, unit: Entry) -> Changed:
    """Add an output in a mode that no load has: it stays free, and a plan is no other; a conflict may name it."""
    unit["own_modes"] = [*unit.get("own_modes", ()), UNUSED]
    unit["outputs"].append({"name": UNUSED, "limit": "5 A", "switch_modes": [UNUSED], "face": "front"})
    return Changed(bike, unit, same_but("free_outputs", "conflicts"))


USUAL = (("weights", "ampere", "50 mm"), ("weights", "ability", "100 mm"), ("weights", "later", "2 m"),
         ("assume", "shortest feed", "300 mm"))  # fmt: skip
"""Lengths beside those of the legs that a plan costs, and what they are where a file does not say."""


def twice_as_long(_: random.Random, bike: Entry, unit: Entry) -> Changed:
    """Make every leg, the shortest feed, and what ports are worth twice as much: so is what a plan costs, if it is one.

    What fits twice as long fits: it has more wire to lose voltage in, and nothing that a shorter one lacks.
    """
    for leg in bike["frame"]["legs"]:
        leg["length"] = f"{2 * millimetres(leg['length'])} mm"
    for key, name, usual in USUAL:
        lengths = bike.setdefault(key, {})
        lengths[name] = f"{2 * millimetres(lengths.get(name, usual))} mm"
    for load in bike.get("later", ()):
        if "worth" in load:
            load["worth"] = f"{2 * millimetres(load['worth'])} mm"
    return Changed(bike, unit, _no_less)


def _no_less(before: Plan, after: Plan) -> Iterator[str]:
    if after["status"] != "planned":
        return
    if before["status"] != "planned":
        yield f"fits twice as long, and is '{before['status']}' as it is"
    elif after["cost_mm"] < 2 * before["cost_mm"]:
        yield f"costs {before['cost_mm']} mm, and twice as long {after['cost_mm']} mm"

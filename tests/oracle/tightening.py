"""Openings that just hold, or just do not hold, what the cheapest plan would put through."""

import math
from dataclasses import dataclass

from .drafts import Draft, Item, written
from .highs import best_plan
from .job import Job, Laid
from .judge import Plan, cost_um
from .profiles import read_unit
from .reading import read_bike
from .site import Site


def tighten(made: Draft) -> None:
    """Give some legs of a bike without openings an opening near what would pass them.

    Most times throw again, a few times at most, until a plan is left but not the old one.
    """
    found = _cheapest(made)
    if found is None:
        return
    for _ in range(12 if made.chance(0.9) else 1):
        _clear(made)
        _throw(made, found)
        left = _cheapest(made)
        if left is not None and left.cost_um > found.cost_um:
            return


def _clear(made: Draft) -> None:
    for leg in made.bike["frame"]["legs"]:
        leg.pop("opening", None)
        leg.pop("sleeve", None)


def _throw(made: Draft, found: "Found") -> None:
    for leg, least_um, need_um in _needs(made, found):
        sleeve = made.rng.choice(["1 mm", "0.5 mm", "2 mm"])
        if sleeve != "1 mm":
            leg["sleeve"] = sleeve
        room = need_um * made.rng.choice([0.9, 0.96, 0.99, 0.99, 1.0, 1.1])
        room = max(room, least_um if made.chance(0.93) else 0) / 1000 + float(sleeve.removesuffix(" mm"))
        leg["opening"] = f"{math.ceil(room * 100) / 100:g} mm"


def _needs(made: Draft, found: "Found") -> list[tuple[Item, float, float]]:
    """Choose up to three legs that wires of the plan pass; give them with the room (um) needed.

    First what the wires of every plan need, then what all need.
    """
    passed = sorted({number for wire in found.all for number in wire.run})
    chosen = made.rng.sample(passed, min(len(passed), made.rng.randint(1, 3)))
    legs = made.bike["frame"]["legs"]
    return [(legs[n], _room_um(found.every, n), _room_um(found.all, n)) for n in chosen]


def _room_um(wires: list[Laid], number: int) -> float:
    diameters = [wire.diameter_um for wire in wires if number in wire.run]
    return max(1.25 * math.sqrt(sum(d * d for d in diameters)), sum(sorted(diameters)[-2:]))


@dataclass(frozen=True)
class Found:
    """The cheapest plan: its cost (um), the wires that every plan has at their thinnest, and all that it has."""

    cost_um: int
    every: list[Laid]
    all: list[Laid]


def _cheapest(made: Draft) -> Found | None:
    job = Job(read_bike(written(made.bike)), read_unit(written(made.unit)))
    sites = [
        Site(job, place, turned=turned)
        for place in job.bike.places
        for turned in ((False, True) if place.either else (False,))
    ]
    plans = [(site, best_plan(site)) for site in sites if site.sound]
    found = [Found(cost_um(site, plan) or 0, site.fixed, _all(site, plan)) for site, plan in plans if plan]
    return min(found, key=lambda one: one.cost_um, default=None)


def _all(site: Site, plan: Plan) -> list[Laid]:
    columns = [site.output_column(held, output) for held, output in plan.outputs]
    columns += [site.input_column(switches, port) for switches, port in plan.inputs]
    return site.laid([column for column in columns if column is not None]) or []

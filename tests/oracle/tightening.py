"""Openings that just hold, or just do not hold, what the cheapest plan would put through."""

import math

from .cheapest import Cheapest, cheapest
from .drafts import Draft, Item
from .job import Laid


def tighten(made: Draft) -> None:
    """Return some legs of a bike without openings an opening near what would pass them.

    Most times throw again, a few times at most, until a plan is left but not the old one.
    """
    found = cheapest(made)
    if found is not None:
        _tighten(made, found, sorted({number for wire in found.all for number in wire.run}))


def tighten_thickened(made: Draft) -> None:
    """Do the same with legs in which wires that every plan has are thicker than they must be, if there are any."""
    found = cheapest(made)
    if found is None:
        return
    pairs = zip(found.every, found.all, strict=False)
    legs = {number for thin, thick in pairs if thin.diameter_um < thick.diameter_um for number in thick.run}
    if legs:
        _tighten(made, found, sorted(legs))


def _tighten(made: Draft, found: Cheapest, passed: list[int]) -> None:
    for _ in range(12 if made.chance(0.9) else 1):
        _clear(made)
        _throw(made, found, passed)
        left = cheapest(made)
        if left is not None and left.cost_um > found.cost_um:
            return


def _clear(made: Draft) -> None:
    for leg in made.bike["frame"]["legs"]:
        leg.pop("opening", None)
        leg.pop("sleeve", None)


def _throw(made: Draft, found: Cheapest, passed: list[int]) -> None:
    for leg, least_um, need_um in _needs(made, found, passed):
        sleeve = made.rng.choice(["1 mm", "0.5 mm", "2 mm"])
        if sleeve != "1 mm":
            leg["sleeve"] = sleeve
        room = need_um * made.rng.choice([0.9, 0.96, 0.99, 0.99, 1.0, 1.1])
        room = max(room, least_um if made.chance(0.93) else 0) / 1000 + float(sleeve.removesuffix(" mm"))
        leg["opening"] = f"{math.ceil(room * 100) / 100:g} mm"


def _needs(made: Draft, found: Cheapest, passed: list[int]) -> list[tuple[Item, float, float]]:
    """Choose up to three of the legs that wires of the plan pass; give them with the room (um) needed.

    First what the wires of every plan need, then what all need.
    """
    chosen = made.rng.sample(passed, min(len(passed), made.rng.randint(1, 3)))
    legs = made.bike["frame"]["legs"]
    return [(legs[n], needed_um(found.every, n), needed_um(found.all, n)) for n in chosen]


def needed_um(wires: list[Laid], number: int) -> float:
    """Return the room (um) that wires need in a leg."""
    diameters = [wire.diameter_um for wire in wires if number in wire.run]
    return max(1.25 * math.sqrt(sum(d * d for d in diameters)), sum(sorted(diameters)[-2:]))

"""Random small bikes on units that mostly can't take them, in families by what is missing."""

import random
from collections.abc import Callable
from functools import cache

from . import fittings, shortages, tight_spots, untold
from .drafts import Draft, draft, written

BUILD: dict[str, tuple[Callable[[Draft], None], ...]] = {
    "dimming": (shortages.modes,),
    "ports": (shortages.ports,),
    "sums": (shortages.sums,),
    "lonely": (shortages.lonely,),
    "coils": (shortages.coils,),
    "bans": (shortages.bans,),
    "untold": (untold.untold,),
    "pairs": (untold.pairs,),
    "following": (untold.following,),
    "openings": (tight_spots.openings,),
    "drops": (tight_spots.drops,),
    "terminals": (tight_spots.terminals,),
    "cranking": (tight_spots.cranking,),
    "main fuse": (tight_spots.main_fuse,),
}
ADDING = ("pairs", "untold")
"""These put loads and switches on."""
SEVERAL = "several"
FAMILIES = (*BUILD, SEVERAL)


@cache
def starved_case(seed: int, family: str) -> tuple[str, str]:
    """Take a seed and one of FAMILIES; give the YAML texts of a bike and a unit."""
    made = draft(random.Random(f"starved {family} {seed}"))
    steps = BUILD.get(family) or _several(made)
    shortages.ample(made, most=5 if family in (SEVERAL, *ADDING) else 7)
    for step in steps:
        step(made)
    fittings.wire_back(made)
    if made.chance(0.3):
        made.unit["feed"].pop("fuse_max")
    return written(made.bike), written(made.unit)


def _several(made: Draft) -> tuple[Callable[[Draft], None], ...]:
    """Choose two or three shortages at once, one of them at most that puts loads on."""
    pool = sorted(BUILD.keys() - {made.rng.choice(ADDING)})
    return tuple(step for family in made.rng.sample(pool, made.rng.randint(2, 3)) for step in BUILD[family])

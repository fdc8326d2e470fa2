"""Small random bikes and units, in families in which one thing often decides."""

import random
from collections.abc import Callable
from functools import cache

from . import (
    alike,
    complete,
    crowded,
    displays,
    fittings,
    fused,
    held,
    multiplexed,
    particular,
    riding,
    sparking,
    stressed,
    thirsty,
)
from .drafts import Draft, draft, written
from .fusing import choose_main_fuse

BUILD: dict[str, Callable[[Draft], None]] = {
    "plain": crowded.plain,
    "banks": crowded.banks,
    "openings": crowded.openings,
    "cases": crowded.cases,
    "follow": crowded.follow,
    "wires": particular.wires,
    "sharing": particular.sharing,
    "later": particular.later,
    "fed": particular.fed,
    "bundles": stressed.bundles,
    "faults": stressed.faults,
    "safety": riding.safety,
    "keyoff": riding.keyoff,
    "cranking": stressed.cranking,
    "coils": sparking.coils,
    "returns": thirsty.returns,
    "feeds": thirsty.feeds,
    "switched": thirsty.switched,
    "spurs": thirsty.spurs,
    "main fuses": fused.main_fuses,
    "multiplexed": multiplexed.multiplexed,
    "shown": displays.shown,
    "catalogue": complete.catalogue,
    "held": held.held,
    "alike": alike.alike,
}
EVERY_FAMILY = tuple(BUILD)
FAMILIES = tuple(family for family in BUILD if family not in ("multiplexed", "shown", "catalogue", "held", "alike"))
"""Those without multiplexers, without dashes that show anything, in the long form, with nothing decided of ports."""


@cache
def random_case(seed: int, family: str) -> tuple[str, str]:
    """Take a seed and one of EVERY_FAMILY; give the YAML texts of a bike and a unit."""
    made = draft(random.Random(f"{family} {seed}"))
    BUILD[family](made)
    fittings.wire_back(made)
    if BUILD[family] is not fused.main_fuses:
        choose_main_fuse(made)
    return written(made.bike), written(made.unit)

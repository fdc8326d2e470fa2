"""One change to a bike or its unit: what it takes, how it is made, and what it may bear on.

A change is an edit of the bike, or another unit. What it helps is asked of the rules on the changed bike; what is said
here is only what it can't have a bearing on, so that what fails for reasons of their own is not tried again.
"""

from collections.abc import Callable
from typing import Literal, NamedTuple

from portloom.base.bike import Bike
from portloom.base.built import BuiltLoom
from portloom.base.unit import Unit
from portloom.base.values import dataclass
from portloom.explaining.fixes.reach import NOTHING, Blame, Reach


class Target(NamedTuple):
    """What is changed: a bike, its unit, and the loom that is built, if one is."""

    bike: Bike
    unit: Unit
    built: BuiltLoom | None = None

    def of_bike(self, bike: Bike) -> "Target | None":
        """Return the same with another bike; None where it is no other."""
        return None if bike == self.bike else self._replace(bike=bike)


Slot = tuple[str, ...]
Acts = Literal["unit", "things", "figures", "wires"]
"""On which unit it is; on what there is and who shares; on what loads draw and are; on ways and openings only."""


@dataclass(frozen=True)
class Change:
    """A change: its kind, its effort, the sentence, what must be bought, and how it is made."""

    kind: str
    effort: int
    sentence: str
    make: Callable[[Target], Target | None]
    """Makes it; None where there is nothing left to change."""
    acts: Acts
    slot: Slot
    """What it settles: of the changes in one slot only one can be made. A load's way to be fed is ('feed', load)."""
    reach: Reach = NOTHING
    """What it may bear on; another unit and another place bear on all."""
    parts: tuple[str, ...] = ()
    everywhere: bool = False
    """True where any fact may be lifted by it: another unit, another place."""
    only_helps: bool = False
    """True where nothing gets worse by it, so that what fails with it fails without it too."""
    needs: tuple[Slot, ...] = ()
    """The slots of which each must be settled for this one to be made."""
    room: int = 10**6
    """Of the loads and switches that it bears on so many are helped at most."""
    brings_coil: bool = False
    """Whether a relay's coil comes to the outputs of the unit by it, which shares with nothing."""
    joins: tuple[tuple[str, ...], tuple[str, ...]] = ((), ())
    """The loads of two share groups that it makes one, the earlier group first."""

    def touches(self, blame: Blame) -> bool:
        """Tell whether it may lift a conflict; what is done to wires and places lifts none that holds without them."""
        if self.acts == "wires" and not blame.on_wires:
            return False
        return self.everywhere or self.reach.touches(blame)


def with_load(target: Target, name: str, **figures: object) -> Target | None:
    """Return the bike with a load's entry changed; None where it has none, or nothing is another."""
    loads = tuple(load.model_copy(update=figures) if load.name == name else load for load in target.bike.loads)
    return target.of_bike(target.bike.model_copy(update={"loads": loads}))

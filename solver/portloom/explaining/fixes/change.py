"""One change that may help, and what it may help against."""

from collections.abc import Callable
from dataclasses import dataclass
from typing import Literal

from portloom.base.bike import Bike
from portloom.base.unit import Unit
from portloom.rules.fact_kinds import is_thing
from portloom.rules.facts import FactKey

Target = tuple[Bike, Unit]
Acts = Literal["unit", "things", "figures", "wires"]
"""On which unit it is; on what there is and who shares; on what loads draw and are; on ways and openings only."""


@dataclass(frozen=True)
class Known:
    """A conflict: its facts, and whether counting ports alone proves it, wherever the unit sits."""

    keys: tuple[FactKey, ...]
    counted: bool


@dataclass(frozen=True)
class Change:
    """A change: its kind, its effort, the sentence, what must be bought, and how it is made."""

    kind: str
    effort: int
    sentence: str
    make: Callable[[Target], Target]
    acts: Acts
    slot: tuple[str, ...]
    """What it settles: of the changes in one slot only one can be made. A load's way to be fed is ('feed', load)."""
    facts: frozenset[FactKey] = frozenset()
    """The facts that it alters; another unit and another place alter any."""
    parts: tuple[str, ...] = ()
    everywhere: bool = False
    """True where any fact may be lifted by it: another unit, another place."""
    only_helps: bool = False
    """True where nothing gets worse by it, so that what fails with it fails without it too."""
    after: tuple[str, ...] = ()
    """The slot of the change without which this one is not made: the second of two that are alike."""
    room: int = 10**6
    """Of the loads and switches that it changes so many are helped at most."""
    sharing: tuple[str, ...] = ()
    """The loads that it lets share an output; while they do, they stay on it."""

    @property
    def things(self) -> frozenset[str]:
        """The loads and switches that it changes."""
        return frozenset(key[1] for key in self.facts if is_thing(key))

    def excludes(self, other: "Change") -> bool:
        """Tell whether it can't be made together with another one."""
        apart = any(("feed", name) == two.slot for one, two in ((self, other), (other, self)) for name in one.sharing)
        return apart or self.slot == other.slot

    def touches(self, conflict: Known) -> bool:
        """Tell whether it may lift a conflict; what leads wires another way changes no count of ports."""
        if conflict.counted and self.acts == "wires":
            return False
        return self.everywhere or not self.facts.isdisjoint(conflict.keys)


def with_load(target: Target, name: str, **figures: object) -> Target:
    """Return the bike with a load's entry changed."""
    bike, unit = target
    loads = tuple(load.model_copy(update=figures) if load.name == name else load for load in bike.loads)
    return bike.model_copy(update={"loads": loads}), unit

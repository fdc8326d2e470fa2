"""A fix: changes that together make a plan possible, and the plan."""

from dataclasses import dataclass

from solver.explaining.fixes.change import Change
from solver.plans.document import Plan
from solver.words.bike import Bike
from solver.words.figures import capital, listed
from solver.words.unit import Unit


@dataclass(frozen=True)
class Fix:
    """Changes, their effort together, and the proven best plan of the changed bike."""

    changes: tuple[Change, ...]
    bike: Bike
    unit: Unit
    plan: Plan
    least: bool
    """Proved: nothing of less effort makes it fit, but for fixes told before it and others of their kinds."""

    @property
    def effort(self) -> int:
        """The efforts of its changes, summed."""
        return sum(change.effort for change in self.changes)

    @property
    def sentence(self) -> str:
        """All its changes in one sentence."""
        return f"{capital(listed([change.sentence for change in self.changes]))}."

    @property
    def parts(self) -> tuple[str, ...]:
        """What must be bought."""
        return tuple(part for change in self.changes for part in change.parts)

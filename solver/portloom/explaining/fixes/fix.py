"""A fix: changes that together make a plan possible, and the plan."""

from dataclasses import dataclass

from portloom.base.bike import Bike
from portloom.base.figures import capital, listed
from portloom.base.unit import Unit
from portloom.documents.document import Plan
from portloom.explaining.fixes.change import Change


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
        return tuple(relaxed for change in self.changes for relaxed in change.parts)

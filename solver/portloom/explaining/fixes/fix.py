"""A fix: changes that together make a plan possible, and the plan."""

from collections.abc import Iterator, Sequence

from portloom.base.bike import Bike
from portloom.base.figures import capital, listed
from portloom.base.unit import Unit
from portloom.base.values import dataclass
from portloom.documents.document import Plan
from portloom.explaining.fixes.change import Change, Target
from portloom.explaining.fixes.loads import gone_with
from portloom.explaining.fixes.sharing import SHARING, who_shares
from portloom.job.assignment import Assignment


@dataclass(frozen=True)
class Fix:
    """Changes, their effort together, and the proven best plan of the changed bike."""

    changes: tuple[Change, ...]
    sentences: tuple[str, ...]
    """What is to be done, as this plan has it."""
    bike: Bike
    unit: Unit
    plan: Plan
    least: bool
    """Proved: nothing of less effort makes it fit, but for what has as many changes of each kind as a fix before it."""
    taken_out: tuple[str, ...] = ()
    """The circuits of a built loom whose wires are taken out of it."""

    @property
    def effort(self) -> int:
        """The efforts of its changes, summed."""
        return sum(change.effort for change in self.changes)

    @property
    def sentence(self) -> str:
        """All that is to be done in one sentence."""
        return f"{capital(listed(self.sentences))}."

    @property
    def parts(self) -> tuple[str, ...]:
        """What must be bought."""
        return tuple(part for change in self.changes for part in change.parts)


def made(target: Target, changes: Sequence[Change]) -> Target | None:
    """Return a bike and its unit with changes made, one after the other; None where one has nothing to change."""
    now: Target | None = target
    for change in changes:
        now = None if now is None else change.make(now)
    return now


def sentences(target: Target, changes: Sequence[Change], assignment: Assignment) -> Iterator[str]:
    """Return what is to be done: who shares as the plan has it, and what goes with a load that is left off."""
    yield from who_shares(changes, [line.loads for line in assignment.outputs])
    for change in changes:
        after = change.make(target)
        if after is None:
            return
        if change.kind != SHARING:
            with_it = [name for name in gone_with(target.bike, after.bike) if ("feed", name) != change.slot]
            yield f"{change.sentence}, with {listed(with_it)}" if with_it else change.sentence
        target = after

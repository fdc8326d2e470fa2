"""What two plans with a built loom change otherwise: what only one of them touches, legs that only one opens."""

from portloom.base.values import dataclass
from portloom.job.assignment import Assignment


@dataclass(frozen=True)
class LoomChange:
    """What a plan touches and opens that another one does not, and the other way round, each by its name."""

    touched: tuple[str, ...]
    spared: tuple[str, ...]
    opened: tuple[str, ...]
    left_closed: tuple[str, ...]

    @property
    def any(self) -> bool:
        """Whether there is a difference."""
        return bool(self.touched or self.spared or self.opened or self.left_closed)


def loom_change(before: Assignment, after: Assignment) -> LoomChange | None:
    """Return what ``after`` changes of a built loom that ``before`` does not; None where no loom is built."""
    if before.change is None or after.change is None:
        return None
    touched = [(*plan.change.mattering, *plan.change.others) for plan in (before, after) if plan.change]
    opened = [plan.change.opened for plan in (before, after) if plan.change]
    return LoomChange(
        touched=tuple(name for name in touched[1] if name not in touched[0]),
        spared=tuple(name for name in touched[0] if name not in touched[1]),
        opened=tuple(leg for leg in opened[1] if leg not in opened[0]),
        left_closed=tuple(leg for leg in opened[0] if leg not in opened[1]),
    )

"""What the solver itself holds responsible when nothing fits at a site: a hint to a conflict, never a proof."""

from collections.abc import Sequence

from portloom.rules.facts import FactKey
from portloom.rules.shapes import Rule
from portloom.search.model import GuardedModel
from portloom.search.places import Clock
from portloom.search.solving import Solve, Status
from portloom.search.strengthen import strengthened
from portloom.search.tableau import Tableau


def core(rules: Sequence[Rule], choice: Tableau, clock: Clock) -> frozenset[FactKey] | None:
    """Return facts whose rows, the solver says, leave no plan together; None where there is one, or at the limit.

    The true sizes of wires count, as far as plans on the way broke them. Rows that go by no fact always hold.
    """
    stricter: Tableau | None = choice
    while stricter is not None:
        model, run = GuardedModel(stricter), Solve(clock.left())
        end = model.solve(run)
        if end.status is Status.IMPOSSIBLE:
            return model.core(run)
        if end.status is Status.UNKNOWN:
            return None
        stricter = strengthened(rules, stricter, end.chosen)
    return None

"""Whether any plan exists at all, at one site after the other: the same sizing loop, without a goal."""

from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass, replace
from functools import partial

from portloom.job.laid import Laid
from portloom.job.site import Site
from portloom.job.sizing import size_wires
from portloom.rules.facts import FactKey
from portloom.rules.shapes import Budget, Key, Rule
from portloom.search.columns import Column, given
from portloom.search.model import Model
from portloom.search.places import Clock, Contender, Disagreement
from portloom.search.solving import Solve, Status
from portloom.search.strengthen import laid_by, strengthened
from portloom.search.tableau import Tableau


@dataclass(frozen=True)
class Possible:
    """A plan that passed: the choice at its site, and how often each column is used."""

    choice: Tableau
    chosen: tuple[int, ...]

    @property
    def laid(self) -> Laid:
        """The plan as it would lie, every wire in its true size."""
        return size_wires(laid_by(self.choice, self.chosen)).laid


@dataclass(frozen=True)
class Impossible:
    """Proved: no site has a plan."""


@dataclass(frozen=True)
class NotKnown:
    """The limit was reached first."""


Verdict = Possible | Impossible | NotKnown


def any_plan(rules: Sequence[Rule], choices: Iterable[Tableau], clock: Clock, *, twice: bool = False) -> Verdict:
    """Look for a plan at one site after the other; ``twice`` proves once more, with presolve on, that there is none.

    Raises Disagreement where the two proofs differ.
    """
    unknown = False
    for choice in choices:
        contender = Contender(choice, partial(strengthened, rules))
        end = contender.solve("any", lambda: None, lambda: Solve(clock.left()))
        if end.value is not None:
            return Possible(contender.choice, end.chosen)
        unknown = unknown or end.status is Status.UNKNOWN
        if twice and end.status is Status.IMPOSSIBLE:
            again = contender.again(clock)
            if again.status not in (Status.IMPOSSIBLE, Status.UNKNOWN):
                raise Disagreement(f"two proofs disagree on whether anything fits at {contender.label}")
    return NotKnown() if unknown else Impossible()


def unsized_plan(choices: Iterable[Tableau], clock: Clock) -> Possible | None:
    """Return a plan whose wires may be too thin for their company: nothing but sizes was not judged."""
    for choice in choices:
        end = Model(choice).solve(Solve(clock.left()))
        if end.value is not None:
            return Possible(choice, end.chosen)
    return None


def leanest(rules: Sequence[Rule], plan: Possible, fact: FactKey, clock: Clock) -> Possible:
    """Return a plan at the same site that adds least to the sums that ``fact`` would limit.

    Where no sum is limited by it, or at the limit, the plan itself.
    """
    limited = tuple(_limited(rules, plan.choice.site, fact))
    taken = [_adds(limited, column) for column in plan.choice.columns]
    if not any(taken):
        return plan
    columns = tuple(replace(column, cost=amount) for column, amount in zip(plan.choice.columns, taken, strict=True))
    contender = Contender(replace(plan.choice, columns=columns, fixed_cost=0), partial(strengthened, rules))
    end = contender.solve("cost", lambda: None, lambda: Solve(clock.left()))
    return Possible(contender.choice, end.chosen) if end.status is Status.BEST else plan


def _limited(rules: Sequence[Rule], site: Site, fact: FactKey) -> Iterator[tuple[Budget, set[Key]]]:
    """Return the budgets that a fact limits, each with its rows."""
    for rule in rules:
        for budget in rule.budgets(site) if rule.budgets else ():
            rows = {key for key, row in budget.rows.items() if row.fact == fact}
            if rows:
                yield budget, rows


def _adds(limited: Iterable[tuple[Budget, set[Key]]], column: Column) -> int:
    return sum(amount for budget, rows in limited for key, amount in given(budget, column) if key in rows)

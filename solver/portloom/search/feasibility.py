"""Whether any plan exists at all, at one site after the other: the same sizing loop, without a goal.

And what the solver itself holds responsible where none does: a hint to a conflict, never a proof.
"""

from collections.abc import Iterable, Iterator, Sequence
from dataclasses import replace
from functools import partial

from portloom.base.clock import Clock, TimeIsUp
from portloom.base.values import dataclass
from portloom.job.assignment import Assignment
from portloom.job.job import Job
from portloom.job.laid import Laid
from portloom.job.site import Site
from portloom.job.sizing import size_wires
from portloom.rules.facts import FactKey
from portloom.rules.shapes import Budget, Key, Rule
from portloom.search.assign import assignment_of
from portloom.search.best import each_tableau
from portloom.search.columns import Column, OutputColumn, SumRow, contributions
from portloom.search.dual import contradictory
from portloom.search.enumeration import Runs
from portloom.search.model import GuardedModel, Model
from portloom.search.places import Contender, Found
from portloom.search.sizing_cuts import in_true_sizes, laid_by
from portloom.search.solving import Disagreement, Solve, Status
from portloom.search.tableau import Tableau, counted_out


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

    certain: bool = False
    """Whether no second proof is wanted: there are two, or counting alone shows it (X5)."""


@dataclass(frozen=True)
class NotKnown:
    """The limit was reached first."""


Verdict = Possible | Impossible | NotKnown


def any_plan(rules: Sequence[Rule], choices: Iterable[Tableau], clock: Clock, *, twice: bool = False) -> Verdict:
    """Look for a plan at one site after the other; ``twice`` proves once more, in another way, that there is none.

    Raises Disagreement where the two proofs differ.
    """
    try:
        with clock.held():
            return _any_plan(rules, choices, clock, twice=twice)
    except TimeIsUp:
        return NotKnown()


def _any_plan(rules: Sequence[Rule], choices: Iterable[Tableau], clock: Clock, *, twice: bool) -> Verdict:
    unknown, certain = False, True
    for choice in choices:
        if counted_out(choice):
            continue
        certain = twice
        contender = Contender(choice, partial(in_true_sizes, rules))
        end = contender.solve("any", lambda: None, lambda: Solve(clock.left()))
        if end.value is not None:
            return Possible(contender.choice, end.chosen)
        unknown = unknown or end.status is Status.UNKNOWN
        if twice and end.status is Status.IMPOSSIBLE:
            again = contender.prove_again(None, lambda: Solve(clock.left(), again=True))
            if again not in (Status.IMPOSSIBLE, Status.UNKNOWN):
                raise Disagreement(f"two proofs disagree on whether anything fits at {contender.label}")
            unknown = unknown or again is Status.UNKNOWN
    return NotKnown() if unknown else Impossible(certain)


def any_outline(choice: Tableau, clock: Clock, *, twice: bool = False) -> Verdict:
    """Look for a plan of a choice in which no wire is judged; ``twice`` proves once more that there is none.

    Raises Disagreement where the two proofs differ.
    """
    if counted_out(choice):
        return Impossible(certain=True)
    m = Model(choice)
    m.minimise_cost()
    end = m.solve(Solve(clock.left()))
    if end.value is not None:
        return Possible(choice, end.chosen)
    if twice and end.status is Status.IMPOSSIBLE and not contradictory(choice):
        again = Model(choice).solve(Solve(clock.left(), again=True))
        if again.value is not None:
            raise Disagreement("two proofs disagree on whether anything fits before a wire is laid")
        end = again
    return Impossible(certain=twice) if end.status is Status.IMPOSSIBLE else NotKnown()


def unsized_plan(choices: Iterable[Tableau], clock: Clock) -> Possible | None:
    """Return a plan whose wires may be too thin for their company: nothing but sizes was not judged."""
    for choice in choices:
        end = Model(choice).solve(Solve(clock.left()))
        if end.value is not None:
            return Possible(choice, end.chosen)
    return None


def leanest(rules: Sequence[Rule], plan: Possible, fact: FactKey, clock: Clock) -> Possible:
    """Return a plan at the same site that adds least to the sums that ``fact`` would limit.

    Where no sum is limited by it, or at the limit, the plan itself. That none adds less is proved twice; raises
    Disagreement where the two proofs differ.
    """
    limited = tuple(_limited(rules, plan.choice.site, fact))
    taken = [_adds(limited, column) for column in plan.choice.columns]
    if not any(taken):
        return plan
    columns = tuple(replace(column, cost=amount) for column, amount in zip(plan.choice.columns, taken, strict=True))
    contender = Contender(replace(plan.choice, columns=columns, fixed_cost=0), partial(in_true_sizes, rules))
    end = contender.solve("cost", lambda: None, lambda: Solve(clock.left()))
    if end.status is not Status.BEST or end.value is None:
        return plan
    again = contender.prove_again(end.value - 1, lambda: Solve(clock.left(), again=True))
    if again not in (Status.IMPOSSIBLE, Status.UNKNOWN):
        raise Disagreement(f"two proofs disagree on the least at {contender.label}")
    return Possible(contender.choice, end.chosen) if again is Status.IMPOSSIBLE else plan


def _limited(rules: Sequence[Rule], site: Site, fact: FactKey) -> Iterator[tuple[Budget, set[Key]]]:
    """Return the budgets that a fact limits, each with its rows."""
    for rule in rules:
        for budget in rule.budgets(site) if rule.budgets else ():
            rows = {key for key, row in budget.rows.items() if row.fact == fact}
            if rows:
                yield budget, rows


def _adds(limited: Iterable[tuple[Budget, set[Key]]], column: Column) -> int:
    return sum(amount for budget, rows in limited for key, amount in contributions(budget, column) if key in rows)


def any_assignment(
    job: Job, rules: Sequence[Rule], sites: Sequence[Site], clock: Clock, runs: Runs, room_for: Sequence[str] = ()
) -> Assignment | Impossible | NotKnown:
    """Return any plan with an output for each later load of ``room_for``, or the proof, made twice, that there is none.

    Raises Disagreement where the two proofs differ.
    """
    choices = (_with_room(choice, room_for) for choice in each_tableau(job, rules, sites, runs))
    verdict = any_plan(rules, choices, clock, twice=True)
    return _as_found(verdict) if isinstance(verdict, Possible) else verdict


def _with_room(choice: Tableau, names: Iterable[str]) -> Tableau:
    """Each of the later loads takes an output."""
    rows = tuple(SumRow(tuple(_takers(choice, name)), 1, 1) for name in names)
    return replace(choice, rows=(*choice.rows, *rows)) if rows else choice


def _takers(choice: Tableau, name: str) -> Iterable[tuple[int, int]]:
    for number, column in enumerate(choice.columns):
        if isinstance(column, OutputColumn) and column.later and column.later.consumer.name == name:
            yield number, 1


def _as_found(plan: Possible) -> Assignment:
    used = zip(plan.choice.columns, plan.chosen, strict=True)
    cost = plan.choice.fixed_cost + sum(column.cost * times for column, times in used)
    return assignment_of(Found(plan.choice, plan.chosen, cost, cost, proven=False))


def core(rules: Sequence[Rule], choice: Tableau, clock: Clock) -> frozenset[FactKey] | None:
    """Return facts whose rows, the solver says, leave no plan together; None where there is one, or at the limit.

    The true sizes of wires count, as far as plans on the way broke them. Rows that go by no fact always hold. A row
    that was left out for one that implies it may go by another fact, so one can be missing: a hint is no proof.
    """
    while True:
        model, run = GuardedModel(choice), Solve(clock.left())
        end = model.solve(run)
        if end.status is Status.IMPOSSIBLE:
            return model.core(run)
        if end.status is Status.UNKNOWN:
            return None
        stricter = in_true_sizes(rules, choice, end.chosen)
        if stricter is None:
            return None
        choice = stricter()

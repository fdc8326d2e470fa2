"""What stands in the way where a plan that was begun can't be finished: parts of rules, and the plan that breaks least.

Parts of rules are taken up one after another, and each is left out with which, beside those taken up, nothing is
possible any more. So every way to finish the plan breaks one of those left out, and one way breaks no other.
"""

from collections.abc import Callable, Iterable, Iterator, Sequence
from dataclasses import replace
from functools import partial

from portloom.base.clock import Clock
from portloom.base.values import dataclass
from portloom.job.site import Site
from portloom.job.sizing import Sized, size_wires
from portloom.rules.book import budgets_of
from portloom.rules.shapes import Budget, BudgetRow, Key, Rule
from portloom.search.feasibility import NotKnown, Possible, any_plan, leanest
from portloom.search.finishing import Begun, open_choice
from portloom.search.sizing_cuts import laid_by

Sums = Callable[[Site], Iterable[Budget]]
UNLIMITED = 10**12
"""More than any sum comes to."""


@dataclass(frozen=True)
class Blocked:
    """The parts of rules that can't be kept beside all others, and how a plan lies that breaks nothing else."""

    parts: tuple[Rule, ...]
    sized: Sized


def blocked(rules: Sequence[Rule], begun: Begun, clock: Clock) -> Blocked | None:
    """Return what stands in the way at one site where there is no plan; None where the limit comes first."""
    kept, broken = list[Rule](), list[Rule]()
    for part in _apart(rules, begun, kept, clock):
        verdict = any_plan([*kept, part], [open_choice([*kept, part], begun)], clock)
        if isinstance(verdict, NotKnown):
            return None
        (kept if isinstance(verdict, Possible) else broken).append(part)
    plan = any_plan(kept, [open_choice(kept, begun)], clock)
    if not isinstance(plan, Possible):
        return None
    return Blocked(tuple(broken), _leanest(kept, broken, begun, plan, clock))


def _apart(rules: Sequence[Rule], begun: Begun, kept: Sequence[Rule], clock: Clock) -> Iterator[Rule]:
    """Return each rule as it is where it can be kept beside those ``kept``; else its parts."""
    # What must be there is taken up first, so that it is told what keeps it off, not that it is missing.
    for rule in sorted(rules, key=lambda rule: not _asks_for_things(rule, begun.laid.site)):
        verdict = any_plan([*kept, rule], [open_choice([*kept, rule], begun)], clock)
        yield from [rule] if isinstance(verdict, Possible) else _parts(rule, begun.laid.site)


def _asks_for_things(rule: Rule, site: Site) -> bool:
    """Tell whether a rule has a sum that must reach something."""
    return any(row.at_least for budget in budgets_of(rule, site) for row in budget.rows.values())


def _parts(rule: Rule, site: Site) -> Iterator[Rule]:
    """Return what a rule says of each thing by itself, then each of its limits alone."""
    yield replace(rule, budgets=None)
    limits = replace(
        rule,
        link=None,
        input_fit=None,
        input_pair=None,
        switch_fit=None,
        multiplexer_fit=None,
        place_fit=None,
        whole=None,
    )
    if rule.budgets is None:
        return
    for number, budget in enumerate(rule.budgets(site)):
        yield from (replace(limits, budgets=partial(_one_row, rule.budgets, number, key)) for key in budget.rows)


def _one_row(sums: Sums, number: int, key: Key, site: Site) -> list[Budget]:
    """Return the sums of a rule with one limit alone."""
    return [
        replace(one, rows={key: one.rows[key]} if at == number and key in one.rows else {})
        for at, one in enumerate(sums(site))
    ]


def _leanest(kept: Sequence[Rule], broken: Iterable[Rule], begun: Begun, plan: Possible, clock: Clock) -> Sized:
    """Return a plan that goes beyond the limits that are left out by as little as can be, one limit after another."""
    for part in broken:
        for budget in budgets_of(part, begun.laid.site):
            for fact in (row.fact for row in budget.rows.values() if row.fact is not None and not row.at_least):
                plan = leanest([*kept, _unlimited(part)], plan, fact, clock)
    return size_wires(laid_by(plan.choice, plan.chosen))


def _unlimited(part: Rule) -> Rule:
    sums = part.budgets

    def lifted(site: Site) -> Iterator[Budget]:
        for one in sums(site) if sums else ():
            yield replace(one, rows={key: _lifted(row) for key, row in one.rows.items()})

    return replace(part, budgets=lifted)


def _lifted(row: BudgetRow) -> BudgetRow:
    return replace(row, at_most=UNLIMITED)

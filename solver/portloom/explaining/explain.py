"""Explaining from end to end: why nothing fits and what would make it fit, or how near a plan is to its limits."""

from collections.abc import Sequence

from portloom.base.bike import Bike
from portloom.base.built import BuiltLoom
from portloom.base.clock import Clock, TimeIsUp
from portloom.base.saying import Say, silent
from portloom.base.unit import Unit
from portloom.base.values import dataclass
from portloom.documents.document import Plan
from portloom.documents.draw_up import draw_up
from portloom.documents.fail_safe import stands_first
from portloom.documents.legs import EXPLAINED
from portloom.explaining.conflicts.find import every_conflict
from portloom.explaining.conflicts.kept import Instance
from portloom.explaining.conflicts.question import OutOfTime, Questions, Work
from portloom.explaining.conflicts.wish import Wish
from portloom.explaining.decisions import DecisionPrices, prices_of_decisions
from portloom.explaining.fixes.hunt import Fixes, fixes_of
from portloom.explaining.solved import Solved, solve
from portloom.explaining.telling.conflict import Conflict
from portloom.explaining.telling.told import Why, told, why_nothing_fits
from portloom.explaining.why_not import Elsewhere, WhyNot, elsewhere, why_not
from portloom.job.job import Job
from portloom.margins.misses import NearMisses, near_misses
from portloom.rules.book import rules_of
from portloom.rules.facts import Where, by_default
from portloom.search.places import LimitReached, NoPlan

USUAL_WORK = 30_000
"""Columns for fixes, and for further conflicts, without a limit of time: so a slow machine tells the same."""
WORK_EACH = 5
"""Of a large bike, columns for each load, output and place together, where that is more."""
MOST_CONFLICTS = 20
"""Further conflicts that are told at most."""


@dataclass(frozen=True)
class Every:
    """Every minimal conflict, or those found before the bound or the limit."""

    conflicts: tuple[Conflict, ...]
    complete: bool


@dataclass(frozen=True)
class Fits:
    """There is a plan, and how near it is to its limits."""

    plan: Plan
    near: NearMisses


@dataclass(frozen=True)
class DoesNotFit:
    """Proved: there is no plan. Why, and what would make it fit."""

    why: Why
    fixes: Fixes
    every: Every | None


@dataclass(frozen=True)
class Undecided:
    """A limit was reached before a plan was found or proved impossible."""


@dataclass(frozen=True)
class Explained:
    """What is to be told of a bike on a unit."""

    bike: str
    unit: str
    first: tuple[str, ...]
    """The warnings that stand first on every sheet."""
    set_aside: tuple[tuple[str, str], ...]
    answer: Fits | DoesNotFit | Undecided
    why_not: WhyNot | None = None
    elsewhere: tuple[Elsewhere, ...] = ()
    not_covered: str = ""
    """What it does not cover where a leg in use is worth something."""
    decisions: DecisionPrices | None = None
    """What all that is decided of ports costs, where that is asked."""
    built: BuiltLoom | None = None
    """The loom that is built, in which all of this holds."""


def explain(
    bike: Bike,
    unit: Unit,
    *,
    wish: Wish | None = None,
    about: str | None = None,
    pins: bool = False,
    every: bool = False,
    known: Sequence[Unit] = (),
    time_limit: float | None = None,
    where: Where = by_default,
    say: Say = silent,
    built: BuiltLoom | None = None,
) -> Explained:
    """Explain a bike on a unit, in the loom that is built where one is.

    ``wish`` asks why a load is not on a port, or the unit not at a place; ``about`` what the port of a load gives
    that others do not; ``pins`` what each thing costs that is decided of ports; ``every`` for all minimal conflicts;
    ``known`` are units that may be proposed; ``say`` is told what is being looked for. ``time_limit`` is in seconds;
    without one, fixes and further conflicts are looked for with a work that is counted, the same on every machine.
    Raises FailedCheck if a plan breaks a rule, and Disagreement if two proofs differ.
    """
    clock = Clock(time_limit)
    try:
        with clock.held(unless=bike.is_small):
            job = Job(bike, unit, built=built)
            instance = Instance(job, rules_of(job))
    except TimeIsUp:
        aside = tuple(bike.set_aside.items())
        return Explained(bike.bike, unit.unit, stands_first(bike), aside, Undecided(), built=built)
    say("looking whether it fits")
    found = solve(job, instance.rules, instance.sites, clock)
    say(_next(found, wish))
    best = found if isinstance(found, Solved) else None
    return Explained(
        bike=bike.bike,
        unit=unit.unit,
        first=stands_first(bike),
        set_aside=tuple(bike.set_aside.items()),
        not_covered=EXPLAINED if bike.weights.leg else "",
        answer=_answer(instance, found, clock, time_limit, where, known, say, every=every and wish is None),
        why_not=None if wish is None else why_not(instance, wish, found, where, clock),
        elsewhere=() if about is None or best is None else tuple(elsewhere(instance, about, best, where, clock)),
        decisions=prices_of_decisions(instance, found, where, clock) if pins else None,
        built=built,
    )


def _next(found: Solved | NoPlan | LimitReached, wish: Wish | None) -> str:
    """Say what is looked for next."""
    if isinstance(found, NoPlan):
        return "it does not fit: looking for what is in the way"
    return "it fits: looking how near to its limits" if wish is None else "it fits: looking why not like that"


def _answer(
    instance: Instance,
    found: Solved | NoPlan | LimitReached,
    clock: Clock,
    time_limit: float | None,
    where: Where,
    known: Sequence[Unit],
    say: Say,
    *,
    every: bool,
) -> Fits | DoesNotFit | Undecided:
    match found:
        case Solved(assignment, laid):
            return Fits(draw_up(laid, assignment), near_misses(laid))
        case NoPlan():
            why = why_nothing_fits(Questions(instance, clock), where, say=say)
            usual = usual_work(instance) if time_limit is None else None
            more = _every(Questions(instance, clock, Work(usual)), where) if every else None
            questions = Questions(instance, clock, Work(usual))
            keys = [tuple(fact.key for fact in conflict.facts) for conflict in why.conflicts]
            return DoesNotFit(why, fixes_of(questions, keys, known, say), more)
        case LimitReached():
            return Undecided()


def usual_work(instance: Instance) -> int:
    """Return how many columns may be set up for fixes, or for further conflicts, where no limit of time is given."""
    choices = len(instance.job.loads.on_unit) * len(instance.job.unit.outputs) * len(instance.sites)
    return max(USUAL_WORK, WORK_EACH * choices)


def _every(questions: Questions, where: Where) -> Every:
    found: list[Conflict] = []
    try:
        for conflict in every_conflict(questions):
            if len(found) == MOST_CONFLICTS:
                return Every(tuple(found), complete=False)
            found.append(told(questions, conflict, where))
    except OutOfTime:
        return Every(tuple(found), complete=False)
    return Every(tuple(found), complete=True)

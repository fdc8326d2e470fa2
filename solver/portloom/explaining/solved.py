"""A job solved to the end: the best plan as it lies, checked; or the proof that there is none."""

from collections.abc import Callable, Sequence

from portloom.base.bike import Bike
from portloom.base.clock import Clock, TimeIsUp
from portloom.base.unit import Unit
from portloom.base.values import dataclass
from portloom.job.assignment import Assignment
from portloom.job.job import Job
from portloom.job.laid import Laid
from portloom.job.site import Site
from portloom.rules.book import rules_of
from portloom.rules.clash import Clash
from portloom.rules.shapes import Rule
from portloom.rules.two_units import OnePlace, without_multiplexers
from portloom.search.assign import assignment_of
from portloom.search.best import Choices, as_is
from portloom.search.enumeration import Runs
from portloom.search.least_change import least_change
from portloom.search.legs.best import best_over
from portloom.search.pairs.search import best_pair
from portloom.search.places import Found, LimitReached, NoPlan
from portloom.search.tableau import Tableau
from portloom.verify.judge import check


@dataclass(frozen=True)
class Solved:
    """The best plan, or at a limit the best found, and how it lies; it passed its check."""

    assignment: Assignment
    laid: Laid


class FailedCheck(RuntimeError):
    """A plan broke a rule in its own check: an error of the program, never of the bike."""

    def __init__(self, clashes: tuple[Clash, ...]) -> None:
        """Take the clashes; each names its rule."""
        super().__init__("; ".join(f"rule {clash.rule}: {clash.sentence}" for clash in clashes))
        self.clashes = clashes


def solve(
    job: Job, rules: tuple[Rule, ...], sites: Sequence[Site], clock: Clock, runs: Runs | None = None
) -> Solved | NoPlan | LimitReached:
    """Find the best plan and check it; ``runs`` are shortest wires that are known already.

    Where legs in use are worth something, they are chosen, too; with a built loom it is the plan that changes least.
    Raises FailedCheck if it breaks a rule, and Disagreement if two proofs that there is none differ.
    """
    found = best_of_job(job, rules, sites, clock, runs=runs)
    return passed((job,), rules, found) if isinstance(found, Assignment) else found


def best_of_job(
    job: Job,
    rules: tuple[Rule, ...],
    sites: Sequence[Site],
    clock: Clock,
    narrowed: Callable[[Tableau], Tableau] = as_is,
    runs: Runs | None = None,
) -> Assignment | NoPlan | LimitReached:
    """Find the same, not checked; ``narrowed`` may give each site's choice more rows."""
    if job.built is None:
        return best_over(job, rules, sites, clock, narrowed, runs)
    try:
        with clock.held(unless=job.bike.is_small):
            choices = Choices(job, rules, sites, runs)
    except TimeIsUp:
        return LimitReached(0)
    found = least_change(rules, choices, clock, narrowed, is_small=job.bike.is_small)
    return assignment_of(found) if isinstance(found, Found) else found


def solve_two(bike: Bike, unit: Unit, other: Unit, clock: Clock) -> Solved | NoPlan | LimitReached:
    """Find the best plan of a bike on two units, at two different places, and check it; no multiplexer is used.

    Raises OnePlace where the bike has no two places, ValueError where legs are to be chosen, else as solve does.
    """
    if bike.weights.leg:
        raise ValueError("weights.leg is for one unit, here are two")
    if len(bike.places) < 2:
        raise OnePlace(bike)
    try:
        with clock.held(unless=bike.is_small):
            first = Job(without_multiplexers(bike), unit)
            second = Job(first.bike, other, first.loads, first.network)
            rules = rules_of(first)
    except TimeIsUp:
        return LimitReached(0)
    found = best_pair(first, second, rules, clock)
    return passed((first, second), rules, found) if isinstance(found, Assignment) else found


def passed(jobs: Sequence[Job], rules: tuple[Rule, ...], found: Assignment) -> Solved:
    """Return a plan as it lies, once it has passed its check; raise FailedCheck if it breaks a rule."""
    verdict = check(jobs, rules, found)
    if verdict.clashes or verdict.laid is None:
        raise FailedCheck(verdict.clashes)
    return Solved(found, verdict.laid)

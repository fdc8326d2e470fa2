"""The job from end to end: a bike and a unit go in, a proven best plan that passed its check comes out."""

from collections.abc import Callable
from dataclasses import dataclass

from solver.checking.judge import check
from solver.explaining.conflicts import Conflict
from solver.explaining.why import why_nothing_fits
from solver.job.assignment import Assignment
from solver.job.job import Job
from solver.plans.document import Plan, TradeOff, TradeOffs
from solver.plans.draw_up import draw_up
from solver.rules.book import rules_of
from solver.rules.shapes import Clash, Rule
from solver.rules.sites import sites_of
from solver.search.best import best_assignment
from solver.search.places import Clock, NoPlan
from solver.search.trade_offs import hull, shown
from solver.words.bike import Bike
from solver.words.quantities import Micrometres
from solver.words.unit import Unit


@dataclass(frozen=True)
class Planned:
    """The best plan, or at a time limit the best found with its proven bound."""

    plan: Plan


@dataclass(frozen=True)
class NothingFits:
    """Proved: no plan exists; and what is left without a port, by which rules."""

    bike: str
    unit: str
    conflicts: tuple[Conflict, ...]


@dataclass(frozen=True)
class Unknown:
    """A limit was reached before a plan was found or proved impossible; no plan costs less than the bound."""

    bike: str
    unit: str
    bound: Micrometres


Planning = Planned | NothingFits | Unknown


class FailedCheck(RuntimeError):
    """A plan broke a rule in its own check: an error of the program, never of the bike."""

    def __init__(self, clashes: tuple[Clash, ...]) -> None:
        """Take the clashes; each names its rule."""
        super().__init__("; ".join(f"rule {clash.rule}: {clash.sentence}" for clash in clashes))
        self.clashes = clashes


def _default(_: str, __: str) -> str:
    return "default"


def plan(
    bike: Bike,
    unit: Unit,
    *,
    place: str | None = None,
    time_limit: float | None = None,
    where: Callable[[str, str], str] = _default,
) -> Planning:
    """Plan a bike on a unit.

    ``place`` allows only the place of that name, ``time_limit`` is in seconds, and ``where`` tells
    where a load ('loads') or switch ('inputs') is written, for explanations.
    Raises FailedCheck if the plan found breaks a rule, and Disagreement if two proofs differ.
    """
    clock = Clock(time_limit)
    job = Job(bike, unit)
    rules = rules_of(job)
    sites = sites_of(job, rules, place)
    found = best_assignment(job, rules, sites, clock)
    if isinstance(found, Assignment):
        return Planned(_checked(job, rules, found))
    if isinstance(found, NoPlan):
        return NothingFits(bike.bike, unit.unit, why_nothing_fits(job, rules, sites, where, clock))
    return Unknown(bike.bike, unit.unit, Micrometres(found.bound))


def _checked(job: Job, rules: tuple[Rule, ...], found: Assignment) -> Plan:
    """Draw up a plan only once it has passed its check."""
    verdict = check(job, rules, found)
    if verdict.clashes or verdict.laid is None:
        raise FailedCheck(verdict.clashes)
    return draw_up(verdict.laid, found)


def trade(bike: Bike, unit: Unit, *, place: str | None = None, time_limit: float | None = None) -> TradeOffs:
    """Give the extreme plans between wire run and spare-port loss; none where nothing fits."""
    job = Job(bike, unit)
    rules = rules_of(job)
    found = hull(job, rules, sites_of(job, rules, place), Clock(time_limit))
    points = shown(found.points)
    return TradeOffs(
        tuple(TradeOff(p.place, p.turned, Micrometres(p.run), Micrometres(p.loss)) for p in points),
        len(found.points) - len(points),
        found.complete,
    )

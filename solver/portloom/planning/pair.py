"""Two units in place of one, from end to end: a bike and two units go in, a proven best plan that passed its check."""

from dataclasses import dataclass, field

from portloom.base.bike import Bike
from portloom.base.quantities import Micrometres
from portloom.base.unit import Unit
from portloom.documents.pair import PairPlan, draw_up_pair
from portloom.explaining.solved import FailedCheck
from portloom.job.assignment import PairAssignment
from portloom.job.job import Job
from portloom.job.laid import Laid
from portloom.rules.book import rules_of
from portloom.rules.two_units import without_multiplexers
from portloom.search.pairs.best import best_pair
from portloom.search.places import Clock, NoPlan
from portloom.verify.pairs import check_pair


class OnePlace(ValueError):
    """A bike that has no second place for a second unit."""

    def __init__(self, bike: Bike) -> None:
        """Take the bike; ``what`` is wrong with it and ``right`` would be right."""
        places = f"one place, '{bike.places[0].name}'" if bike.places else "no place"
        self.what = f"two units sit at two different places, the bike has {places}"
        self.right = "list a second one under 'places'"
        super().__init__(f"{self.what}; {self.right}")


@dataclass(frozen=True)
class PairPlanned:
    """The best plan of two units, or at a time limit the best found with its proven bound; and how it lies."""

    plan: PairPlan
    laid: Laid = field(repr=False, compare=False)


@dataclass(frozen=True)
class NoPairFits:
    """Proved: no plan of these two units exists."""

    bike: str
    units: tuple[str, str]


@dataclass(frozen=True)
class PairUnknown:
    """A limit was reached before a plan was found or proved impossible; no plan costs less than the bound."""

    bike: str
    units: tuple[str, str]
    bound: Micrometres


PairPlanning = PairPlanned | NoPairFits | PairUnknown


def plan_pair(bike: Bike, unit: Unit, other: Unit, *, time_limit: float | None = None) -> PairPlanning:
    """Plan a bike with two units in place of one, at two different places; they may be twice the same.

    ``time_limit`` is in seconds. Multiplexers that the bike lists are not used.
    Raises OnePlace where the bike has no two places, FailedCheck if the plan found breaks a rule, and Disagreement
    if two proofs differ.
    """
    if len(bike.places) < 2:
        raise OnePlace(bike)
    clock = Clock(time_limit)
    first = Job(without_multiplexers(bike), unit)
    jobs = first, Job(first.bike, other, first.loads, first.network)
    rules = rules_of(first)
    found = best_pair(*jobs, rules, clock)
    if isinstance(found, PairAssignment):
        verdict = check_pair(jobs, rules, found)
        if verdict.clashes or verdict.laid is None:
            raise FailedCheck(verdict.clashes)
        unused = tuple(box.name for box in bike.multiplexers)
        return PairPlanned(draw_up_pair(verdict.laid, found, unused), verdict.laid)
    names = unit.unit, other.unit
    if isinstance(found, NoPlan):
        return NoPairFits(bike.bike, names)
    return PairUnknown(bike.bike, names, Micrometres(found.bound))

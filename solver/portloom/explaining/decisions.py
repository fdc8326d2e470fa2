"""What each thing that the builder has decided of ports costs: the best plan against the best one without it."""

from collections.abc import Iterable

from portloom.base.clock import Clock
from portloom.base.values import dataclass
from portloom.explaining.conflicts.kept import Instance
from portloom.explaining.fixes.pins import without_decisions
from portloom.explaining.solved import Solved, solve
from portloom.job.assignment import Assignment
from portloom.job.goal import Cost
from portloom.job.job import Job
from portloom.rules.book import decisions_of
from portloom.rules.fact_kinds import kind_of
from portloom.rules.facts import FactKey, Where
from portloom.rules.sites import sites_of


@dataclass(frozen=True)
class DecisionPrice:
    """What something costs that is decided of a port."""

    sentence: str
    where: str
    price: Cost | None
    """What the best plan costs more than the best one without it; None where the limit came before both were proved."""
    without: str
    """The port on which the load or switch is without it; nothing of a port out of use, or of several loads."""


@dataclass(frozen=True)
class DecisionPrices:
    """The price of each, in the order of the file, and of all together."""

    each: tuple[DecisionPrice, ...]
    together: Cost | None


def prices_of_decisions(instance: Instance, best: Solved, where: Where, clock: Clock) -> DecisionPrices:
    """Return what all that is decided costs.

    Raises FailedCheck if a plan breaks a rule, and Disagreement if two proofs differ.
    """
    facts = decisions_of(instance.job)
    each: list[DecisionPrice] = []
    for fact in facts:
        found = _without(instance, [fact.key], clock)
        on = "" if found is None or kind_of(fact.key).of is None else _port_of(found.assignment, fact.key[1])
        each.append(DecisionPrice(fact.sentence, where(fact.at), _price(best, found), on))
    return DecisionPrices(tuple(each), _price(best, _without(instance, [fact.key for fact in facts], clock)))


def _without(instance: Instance, keys: Iterable[FactKey], clock: Clock) -> Solved | None:
    """Return the best plan without some of it; None where the limit came first."""
    job = Job(without_decisions(instance.job.bike, frozenset(keys)), instance.job.unit, network=instance.job.network)
    found = solve(job, instance.rules, sites_of(job, instance.place), clock)
    return found if isinstance(found, Solved) else None


def _port_of(plan: Assignment, name: str) -> str:
    lines = [*((line.port, line.loads) for line in plan.outputs), *((line.port, line.switches) for line in plan.inputs)]
    return next((port for port, names in lines if name in names), "")


def _price(best: Solved, found: Solved | None) -> Cost | None:
    if found is None or not (found.assignment.proven and best.assignment.proven):
        return None
    return best.assignment.costs - found.assignment.costs

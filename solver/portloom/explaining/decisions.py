"""What each thing that is decided of ports costs, and what to lift first, by best plans without some of it."""

from dataclasses import replace

from portloom.base.clock import Clock
from portloom.base.values import dataclass
from portloom.explaining.conflicts.kept import Instance
from portloom.explaining.fixes.pins import without_decisions
from portloom.explaining.lift_first import Lifting, Lifts, Worth, nothing_less
from portloom.explaining.loom_change import LoomChange, loom_change
from portloom.explaining.solved import Solved, solve
from portloom.job.assignment import Assignment
from portloom.job.goal import Cost
from portloom.rules.book import broken_decisions, decisions_of
from portloom.rules.fact_kinds import kind_of
from portloom.rules.facts import Fact, FactKey, Where
from portloom.rules.sites import sites_of
from portloom.search.places import LimitReached, NoPlan

Found = Solved | NoPlan | LimitReached


@dataclass(frozen=True)
class DecisionPrice:
    """What something costs that is decided of a port."""

    sentence: str
    where: str
    price: Cost | None
    """What the best plan costs more than the best one without it; None where the limit came before both were proved.

    So it is also where there is no plan with it, or none without it.
    """
    without: str
    """The port on which the load or switch is without it; nothing of a port out of use, or of several loads."""
    fits_without: bool | None = None
    """Where nothing fits with all that is decided: whether something does without it alone. None where it fits."""
    loom: LoomChange | None = None
    """What the best plan without it changes otherwise of a built loom."""


@dataclass(frozen=True)
class LiftedTogether:
    """So many decided things of which no others, and no fewer, save as much when they are lifted together."""

    sentences: tuple[str, ...]
    saved: Cost | None
    """What is saved by it; None where there is no plan with all that is decided."""
    cost: Cost
    """What the best plan without them costs."""
    all_of_it: bool
    """Whether to lift more saves no more."""
    loom: LoomChange | None = None


@dataclass(frozen=True)
class DecisionPrices:
    """The price of each, in the order of the file, and of all together; and what to lift first."""

    each: tuple[DecisionPrice, ...]
    together: Cost | None
    lifted: tuple[LiftedTogether, ...] = ()
    """For one thing, two, and so on, the set of that many that saves most, where it saves more than fewer do."""
    complete: bool = True
    """Whether that is proved of each, and all that can be saved is saved at last."""
    fits: bool = True
    """Whether there is a plan with all that is decided."""
    fits_without: bool = True
    """Whether there is one without any of it."""


def prices_of_decisions(instance: Instance, best: Found, where: Where, clock: Clock) -> DecisionPrices:
    """Return what all that is decided costs, and what to lift first; ``best`` is the best plan with all of it, if any.

    Raises FailedCheck if a plan breaks a rule, and Disagreement if two proofs differ.
    """
    facts = decisions_of(instance.job)
    asked = _Without(instance, facts, best, clock)
    each = tuple(_of_one(fact, where, best, asked.of(frozenset((fact.key,)))) for fact in facts)
    free = asked.of(frozenset(asked.keys))
    lifts = Lifting(asked.keys, asked.worth).go() if facts else Lifts((), complete=True)
    return DecisionPrices(
        each=each,
        together=_price(best, free),
        lifted=tuple(_told(asked, best, keys, free) for keys in lifts.sets),
        complete=lifts.complete,
        fits=not isinstance(best, NoPlan),
        fits_without=not isinstance(free, NoPlan),
    )


class _Without:
    """Asks for the best plan without some decided things, each set once."""

    def __init__(self, instance: Instance, facts: tuple[Fact, ...], best: Found, clock: Clock) -> None:
        self._instance, self._clock = instance, clock
        self.facts = {fact.key: fact for fact in facts}
        self.keys = tuple(self.facts)
        self._known: dict[frozenset[FactKey], Found] = {frozenset(): best}

    def of(self, keys: frozenset[FactKey]) -> Found:
        """Return the best plan without some of it."""
        if keys not in self._known:
            job = self._instance.job.of_bike(without_decisions(self._instance.job.bike, keys))
            self._known[keys] = solve(job, self._instance.rules, sites_of(job, self._instance.place), self._clock)
        return self._known[keys]

    def worth(self, keys: frozenset[FactKey]) -> Worth | None:
        """Return what the best plan without some of it is worth, and which of it that breaks; None where not proved."""
        found = self.of(keys)
        if isinstance(found, NoPlan):
            return nothing_less()
        if not isinstance(found, Solved) or not found.assignment.proven:
            return None
        plan, job = found.assignment, self._instance.job
        return Worth(_measure(plan), frozenset(broken_decisions(job, _on_ports(plan))) & keys)


def _measure(plan: Assignment) -> tuple[int, ...]:
    """Return what is made least, in its order: of a built loom what is touched and opened first."""
    change = plan.change
    if change is None:
        return (plan.cost,)
    return len(change.mattering), len(change.others), len(change.opened), plan.cost


def _on_ports(plan: Assignment) -> dict[str, tuple[str, ...]]:
    """Return what is on each port: loads, switches, a multiplexer, or a later load for which it is the room.

    What is on the ways of a multiplexer is on none of the unit's own.
    """
    outputs = {line.port: line.loads for line in plan.outputs}
    outputs |= {room.port: (room.load,) for room in plan.room_for}
    inputs = {line.port: line.switches for line in plan.inputs}
    boxes = {box.port: (box.name,) for box in plan.multiplexers}
    ways = {f"ways of {box.name}": tuple(way.switch for way in box.ways) for box in plan.multiplexers}
    return {**outputs, **inputs, **boxes, **ways}


# --- what is told


def _of_one(fact: Fact, where: Where, best: Found, found: Found) -> DecisionPrice:
    price = _price(best, found)
    told = DecisionPrice(fact.sentence, where(fact.at), price, "")
    if isinstance(best, NoPlan) and not isinstance(found, LimitReached):
        told = replace(told, fits_without=isinstance(found, Solved))
    if not isinstance(found, Solved):
        return told
    on = "" if kind_of(fact.key).of is None else _port_of(found.assignment, fact.key[1])
    return replace(told, without=on, loom=_beside(best, found))


def _told(asked: _Without, best: Found, keys: frozenset[FactKey], free: Found) -> LiftedTogether:
    found = asked.of(keys)
    if not isinstance(found, Solved):
        raise TypeError("a set that is lifted has a plan")
    said = tuple(asked.facts[key].sentence for key in asked.keys if key in keys)
    whole = isinstance(free, Solved) and _measure(free.assignment) == _measure(found.assignment)
    return LiftedTogether(said, _price(best, found), found.assignment.costs, whole, _beside(best, found))


def _beside(best: Found, found: Solved) -> LoomChange | None:
    return loom_change(best.assignment, found.assignment) if isinstance(best, Solved) else None


def _port_of(plan: Assignment, name: str) -> str:
    lines = [*((line.port, line.loads) for line in plan.outputs), *((line.port, line.switches) for line in plan.inputs)]
    return next((port for port, names in lines if name in names), "")


def _price(best: Found, found: Found) -> Cost | None:
    if not (isinstance(best, Solved) and isinstance(found, Solved)):
        return None
    if not (found.assignment.proven and best.assignment.proven):
        return None
    return best.assignment.costs - found.assignment.costs

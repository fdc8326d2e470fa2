"""What a change can have a bearing on, and what a conflict hangs on: where the two do not meet, it holds all the same.

What is asked of a load or a switch follows from its own entry and from those next to it: what it feeds or is fed from,
what works it or is worked by it, what shows it or is shown by it, and its relay. How returns are dealt at a point
follows from all that returns there. What feed and returns are judged with is the same in every plan, unless the
thickest wire that is allowed loses more.
"""

from collections.abc import Iterable, Iterator

from portloom.base.bike import Bike
from portloom.base.values import dataclass
from portloom.explaining.conflicts.kept import Instance
from portloom.explaining.conflicts.question import Questions
from portloom.job.losses import feed_loses_more
from portloom.rules.fact_kinds import BAN, SWITCH_BAN, THINGS, is_thing, kind_of
from portloom.rules.facts import FactKey, Keys


@dataclass(frozen=True)
class Blame:
    """A conflict, and what it hangs on."""

    keys: Keys
    counted: bool
    """Whether counting ports alone proves it, wherever the unit sits."""
    returns: frozenset[str] = frozenset()
    """The points at which its loads and switches have their returns."""
    on_feed: bool = False
    """Whether it hangs on what all loads together lose on the feed."""
    on_wires: bool = True
    """Whether it hangs on wires, openings, places or the main fuse; else it holds whatever these are."""


@dataclass(frozen=True)
class Reach:
    """The facts that a change may alter, and where it may deal returns anew."""

    facts: frozenset[FactKey] = frozenset()
    things: frozenset[str] = frozenset()
    """The loads and switches of which other ports may be asked."""
    returns: frozenset[str] = frozenset()
    draws: bool = False
    """Whether other currents flow."""

    def touches(self, blame: Blame) -> bool:
        """Tell whether a conflict may hang on anything that is altered."""
        if not self.facts.isdisjoint(blame.keys):
            return True
        if not blame.on_wires:
            return False
        return not self.returns.isdisjoint(blame.returns) or (self.draws and blame.on_feed)


NOTHING = Reach()


# --- conflicts


def blame_of(questions: Questions, keys: Keys, *, counted: bool) -> Blame:
    """Return what a conflict hangs on; raise OutOfTime at a limit."""
    if counted:
        return Blame(keys, counted=True, on_wires=False)
    instance = questions.instance
    names = {key[1] for key in keys if is_thing(key)}
    limited = any(kind_of(key).of_the_path for key in keys)
    on_feed = limited and any(map(feed_loses_more, instance.sites)) and questions.hangs_on_others(keys)
    on_wires = questions.hangs_on_wires(keys)
    return Blame(keys, counted=False, returns=frozenset(_returns(instance, names)), on_feed=on_feed, on_wires=on_wires)


def _returns(instance: Instance, names: Iterable[str]) -> Iterator[str]:
    """Return the points where loads and switches of these names have returns; at its own switch a relay's coil has."""
    known = set(names)
    for load in instance.job.loads.wired:
        if load.name in known and load.returns_at is not None:
            yield load.returns_at
    yield from (load.own_switch for load in instance.job.bike.loads if load.name in known and load.own_switch)
    for switch in instance.job.bike.inputs:
        if switch.name in known:
            yield from switch.at


# --- changes


def figures_of(instance: Instance, name: str, facts: Iterable[FactKey], *, draws: bool) -> Reach:
    """Return the reach of other figures of a load, by the facts that they are."""
    entry = next(load for load in instance.job.bike.loads if load.name == name)
    return Reach(
        facts=frozenset((*facts, *_bans(instance, {name}))),
        things=frozenset((name, *entry.from_)),
        returns=frozenset(_returns(instance, [name])) if draws else frozenset(),
        draws=draws,
    )


def whole_of(instance: Instance, name: str) -> Reach:
    """Return the reach of feeding a load in another way, or leaving it off with all that goes with it."""
    bike = instance.job.bike
    gone = {name, *(load.name for load in bike.loads if name in load.from_)}
    near = frozenset(other for one in gone for other in _near(bike, one))
    return things_of(instance, near, draws=True)


def things_of(instance: Instance, names: Iterable[str], *, draws: bool) -> Reach:
    """Return the reach of anything that is done to loads and switches."""
    things = frozenset(names)
    return Reach(
        facts=frozenset((*(kind.key(name) for kind in THINGS for name in things), *_bans(instance, things))),
        things=things,
        returns=frozenset(_returns(instance, things)) if draws else frozenset(),
        draws=draws,
    )


def _bans(instance: Instance, names: Iterable[str]) -> Iterator[FactKey]:
    known = set(names)
    bans = (key for key in instance.keys if kind_of(key) in (BAN, SWITCH_BAN))
    return (key for key in bans if not known.isdisjoint(key[1:]))


def _near(bike: Bike, name: str) -> Iterator[str]:
    """Return a load, and what stands next to it."""
    yield from (name, f"{name} relay")
    for load in bike.loads:
        shown = {other for lamp in load.shows for other in lamp}
        if name in shown or name in load.from_:
            yield load.name
        if load.name == name:
            yield from (*shown, *load.from_)
    yield from (switch.name for switch in bike.inputs if name in switch.operates)

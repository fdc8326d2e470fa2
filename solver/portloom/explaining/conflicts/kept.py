"""A bike of which only some facts are kept: all others count as harmless.

What is left out never thins a wire that others need: that is the whole bike's. All else is worked out from
what is kept, and the main fuse is chosen with the plan.
"""

from collections.abc import Hashable, Iterable, Iterator, Mapping, Sequence
from dataclasses import replace
from types import MappingProxyType
from typing import Any

from portloom.base.bike import Multiplexer, Switch
from portloom.base.unit import Output, Port, Unit
from portloom.base.values import dataclass
from portloom.explaining.conflicts.wish import Wish
from portloom.job.circuits import InputCircuit, OutputCircuit
from portloom.job.consumers import Consumer, Consumers
from portloom.job.job import Job
from portloom.job.kinds import input_kinds, output_kinds
from portloom.job.site import Site
from portloom.rules.book import facts_of, told_key
from portloom.rules.fact_kinds import (
    ALIKE,
    BAN,
    BUILT,
    INPUTS,
    LOAD,
    OUT_OF_USE,
    OUTPUTS,
    SWITCH,
    SWITCH_BAN,
    SWITCH_PIN,
    UNHELD,
    freed,
    harmless_feed,
    harmless_load,
    harmless_output,
    kind_of,
)
from portloom.rules.facts import Fact, FactKey
from portloom.rules.shapes import Budget, Need, Rule, Said
from portloom.rules.sites import Sites
from portloom.search.candidates import Ways

Bans = Sequence[tuple[str, str]]


class Left:
    """Loads without some of their figures, each made once: what is worked out of one serves every part of the bike."""

    def __init__(self) -> None:
        """Know none yet."""
        self._known: dict[tuple[str, frozenset[str], frozenset[str] | None], Consumer] = {}

    def of(self, load: Consumer, dropped: frozenset[FactKey], apart: frozenset[str] | None = None) -> Consumer:
        """Return a load without those of its figures that are dropped, kept apart from some others."""
        change: dict[str, Any] = {**({"apart_from": apart} if apart else {}), **harmless_load(load, dropped)}
        if not change:
            return load
        key = (load.name, frozenset(change), apart)
        if key not in self._known:
            self._known[key] = replace(load, **change)
        return self._known[key]


class Instance:
    """A bike on a unit with all its facts."""

    def __init__(
        self,
        job: Job,
        rules: tuple[Rule, ...],
        place: str | None = None,
        wish: Wish | None = None,
        ways: Ways = MappingProxyType({}),
        known: Mapping[FactKey, Fact] | None = None,
    ) -> None:
        """Take the job and its rules; ``place`` allows only the place of that name, a wish is one more fact.

        Of the loads that ``ways`` has, a plan may choose around which legs their wires lie. ``known`` are its facts,
        which are asked of the rules unless they are given.
        """
        self.job = job
        self.rules = rules
        self.place = place
        self.sites = Sites(job, place)
        self.wish = wish
        self.ways = ways
        wished = [wish.fact(job)] if wish else []
        asked = known if known is not None else {fact.key: fact for fact in (*wished, *facts_of(job, rules))}
        self.facts: Mapping[FactKey, Fact] = asked
        self.keys = tuple(self.facts)
        self.everything = frozenset(self.keys)
        self.left = Left()
        self.bans = tuple((key[1], key[2]) for key in self.keys if kind_of(key) is BAN)

    def altered(self, job: Job) -> "Instance":
        """Return the same of a job that is about the same facts, with other figures in some."""
        return Instance(job, self.rules, self.place, self.wish, self.ways, self.facts)


@dataclass(frozen=True)
class RelaxedInstance:
    """What is kept of a bike on a unit, ready to be planned."""

    job: Job
    rules: tuple[Rule, ...]
    sites: Sequence[Site]
    kept: frozenset[FactKey]


def relaxed_to(instance: Instance, kept: Iterable[FactKey]) -> RelaxedInstance:
    """Return the job of which only the ``kept`` facts are left, with the rules and sites that go with it."""
    job, facts = instance.job, frozenset(kept)
    dropped = instance.everything - facts
    loads = _loads(instance, dropped)
    there = (switch for switch in job.bike.inputs if SWITCH.key(switch.name) not in dropped)
    switches = tuple(one.model_copy(update=UNHELD) if SWITCH_PIN.key(one.name) in dropped else one for one in there)
    dead = {port: why for port, why in job.bike.out_of_use.items() if OUT_OF_USE.key(port) not in dropped}
    alike = tuple(names for names in job.bike.alike if ALIKE.key(*names) not in dropped)
    bike = job.bike.model_copy(update={"inputs": switches, "out_of_use": dead, "alike": alike})
    wired_in = len(switches) + len(bike.multiplexers)
    left = None if job.built is None else job.built.loom.without({key[1] for key in dropped if kind_of(key) is BUILT})
    relaxed = Job(bike, _unit(job.unit, dropped, len(loads.on_unit), wired_in), loads, job.network, built=left)
    gone = tuple(switch for switch in job.bike.inputs if SWITCH.key(switch.name) in dropped)
    rules = tuple(_RelaxedRule(rule, dropped, gone).rule() for rule in instance.rules)
    return RelaxedInstance(relaxed, rules, Sites(relaxed, instance.place, instance.sites), facts)


# --- loads


def _loads(instance: Instance, dropped: frozenset[FactKey]) -> Consumers:
    job, left_of = instance.job, instance.left.of

    def there(load: Consumer) -> bool:
        return LOAD.key(load.name) not in dropped

    apart = _kept_apart(instance.bans, dropped)
    on_unit = tuple(left_of(load, dropped, apart.get(load.name)) for load in job.loads.on_unit if there(load))
    feeding = {load.name for load in on_unit}
    guests = (
        replace(left_of(guest, dropped), feeders=tuple(name for name in guest.feeders if name in feeding))
        for guest in job.loads.guests
        if there(guest)
    )
    left = Consumers(
        on_unit=on_unit,
        guests=tuple(guest for guest in guests if guest.feeders),
        fed=tuple(replace(f, consumer=left_of(f.consumer, dropped)) for f in job.loads.fed if there(f.consumer)),
        later=(),
        left_out=tuple(load for load in job.loads.on_unit if not there(load)),
    )
    return _shown_by(left, frozenset(load.name for load in left.wired))


def _shown_by(loads: Consumers, there: frozenset[str]) -> Consumers:
    """Return the loads without the points of dashes that are not there any more."""
    return replace(
        loads,
        on_unit=tuple(_seen(load, there) for load in loads.on_unit),
        guests=tuple(_seen(load, there) for load in loads.guests),
        fed=tuple(replace(fed, consumer=_seen(fed.consumer, there)) for fed in loads.fed),
    )


def _seen(load: Consumer, there: frozenset[str]) -> Consumer:
    left = tuple(point for point in load.shown_by if point.dash in there)
    return load if left == load.shown_by else replace(load, shown_by=left)


def _kept_apart(bans: Bans, dropped: frozenset[FactKey]) -> dict[str, frozenset[str]]:
    """Return for each load those of its share group that a fact that is kept keeps it apart from."""
    apart: dict[str, set[str]] = {}
    for one, other in bans:
        if BAN.key(one, other) not in dropped:
            apart.setdefault(one, set()).add(other)
            apart.setdefault(other, set()).add(one)
    return {name: frozenset(others) for name, others in apart.items()}


# --- the unit


def _unit(unit: Unit, dropped: frozenset[FactKey], loads: int, wired_in: int) -> Unit:
    largest = {"fuse_max": unit.feed.largest_fuse}  # a limit that is dropped leaves it as it is
    feed = unit.feed.model_copy(update=largest | harmless_feed(dropped))
    return unit.model_copy(
        update={
            "feed": feed,
            "outputs": tuple(_outputs(unit, dropped, loads)),
            "inputs": tuple(_inputs(unit, dropped, wired_in)),
        }
    )


def _outputs(unit: Unit, dropped: frozenset[FactKey], wanted: int) -> Iterator[Output]:
    for kind in output_kinds(unit):
        first = kind.ports[0].name
        change = harmless_output(first, dropped)
        ports = [port.model_copy(update=change) if change else port for port in kind.ports]
        yield from ports
        more = wanted - len(ports) if OUTPUTS.key(first) in dropped else 0
        yield from (ports[0].model_copy(update={"name": _added(first, n)}) for n in range(1, more + 1))


def _inputs(unit: Unit, dropped: frozenset[FactKey], wanted: int) -> Iterator[Port]:
    for kind in input_kinds(unit):
        first = kind.ports[0].name
        yield from kind.ports
        more = wanted - len(kind.ports) if INPUTS.key(first) in dropped else 0
        yield from (kind.ports[0].model_copy(update={"name": _added(first, n)}) for n in range(1, more + 1))


MARK = " (like it, +"


def _added(first: str, number: int) -> str:
    return f"{first}{MARK}{number})"


def named(port: str) -> str:
    """Return the name of a port; of one that was added, that of the port that it is like."""
    return port.partition(MARK)[0]


# --- the rules


class _RelaxedRule:
    """A rule that judges nothing by facts that are dropped."""

    def __init__(self, rule: Rule, dropped: frozenset[FactKey], gone: Sequence[Switch]) -> None:
        self._rule = rule
        self._dropped = dropped
        self._gone = gone
        self._met: dict[Hashable, bool] = {}

    def rule(self) -> Rule:
        rule = self._rule
        if not (rule.pair or rule.input_pair or rule.input_fit or rule.switch_fit or rule.budgets or rule.link):
            return rule
        return replace(
            rule,
            pair=rule.pair and self._pair,
            input_pair=rule.input_pair and self._input_pair,
            input_fit=rule.input_fit and self._input_fit,
            switch_fit=rule.switch_fit and self._switch_fit,
            budgets=rule.budgets and self._budgets,
            link=rule.link and self._link,
        )

    def _pair(self, one: Consumer, other: Consumer) -> Said:
        """Who is kept apart is a fact of the whole bike: a mode or current that is dropped changes nothing of it."""
        if one.share is not None and one.share == other.share:
            return "they are kept apart" if other.name in one.apart_from else None
        return self._rule.pair(one, other) if self._rule.pair else None

    def _input_pair(self, one: Switch, other: Switch) -> Said:
        lifted = SWITCH_BAN.key(one.name, other.name) in self._dropped
        return None if lifted or not self._rule.input_pair else self._rule.input_pair(one, other)

    def _input_fit(self, circuit: InputCircuit, port: Port) -> Said:
        by_signal = self._rule.by_signal
        judged = tuple(one for one in circuit.switches if not (by_signal and freed(one.name, self._dropped)))
        return self._rule.input_fit(InputCircuit(judged), port) if judged and self._rule.input_fit else None

    def _switch_fit(self, job: Job, switch: Switch, multiplexer: Multiplexer) -> Said:
        """A switch without a signal of its own goes through any multiplexer, unless it must go straight."""
        if freed(switch.name, self._dropped):
            switch = switch.model_copy(update={"signal": multiplexer.takes[0]})
        return self._rule.switch_fit(job, switch, multiplexer) if self._rule.switch_fit else None

    def _budgets(self, site: Site) -> Iterator[Budget]:
        for budget in self._rule.budgets(site) if self._rule.budgets else ():
            yield replace(budget, rows={k: row for k, row in budget.rows.items() if not self._is_lifted(row.fact)})

    def _is_lifted(self, fact: FactKey | None) -> bool:
        """How many ports there are is never lifted: the unit has as many more, and none of these is followed."""
        return fact in self._dropped and not kind_of(fact).counts_ports

    def _link(self, job: Job, circuit: OutputCircuit, output: Output) -> Iterator[Need]:
        for need in self._rule.link(job, circuit, output) if self._rule.link else ():
            if told_key(self._rule, need) not in self._dropped and not self._met_by_what_is_gone(job, need):
                yield need

    def _met_by_what_is_gone(self, job: Job, need: Need) -> bool:
        """A switch that is left out counts as there, on whichever port is wanted."""
        if need.alike is None:
            return self._meets(job, need)
        if need.alike not in self._met:
            self._met[need.alike] = self._meets(job, need)
        return self._met[need.alike]

    def _meets(self, job: Job, need: Need) -> bool:
        return any(need.met_by(InputCircuit((switch,)), port) for switch in self._gone for port in job.unit.inputs)

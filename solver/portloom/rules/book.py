"""The rule book: every rule, in the order in which their clashes are told."""

from collections.abc import Iterable, Iterator, Sequence
from itertools import combinations, islice

from portloom.base.bike import Multiplexer, Switch
from portloom.base.unit import Output, Port
from portloom.base.values import dataclass
from portloom.job.circuits import InputCircuit, OutputCircuit
from portloom.job.job import Job
from portloom.job.kinds import PortDirection, output_kinds
from portloom.job.laid import Laid
from portloom.job.site import Site
from portloom.job.sizing import Sized
from portloom.job.wired import WiredOutput
from portloom.rules import (
    alike,
    bank,
    brake_lamp,
    cover,
    cranking,
    decided,
    engine_run,
    engine_stop,
    follow,
    indicator_pair,
    inductive,
    inputs,
    key_off,
    main_fuse,
    mode,
    multiplexer,
    opening,
    outputs,
    run,
    share,
    signal,
    start,
    trip,
    unit_total,
    wire,
)
from portloom.rules.clash import Clash
from portloom.rules.fact_kinds import BAN, SWITCH_BAN, TOLD, WISH, kind_of
from portloom.rules.facts import At, Fact, FactKey, OnPorts, at_load, at_switch
from portloom.rules.shapes import Budget, BudgetRow, CommonNeed, Key, Need, Rule

RULES: tuple[Rule, ...] = (
    decided.RULE,
    alike.RULE,
    wire.RULE,
    main_fuse.RULE,
    trip.RULE,
    bank.RULE,
    unit_total.RULE,
    opening.RULE,
    brake_lamp.RULE,
    share.RULE,
    indicator_pair.RULE,
    engine_stop.RULE,
    run.RULE,
    start.RULE,
    cranking.RULE,
    inductive.RULE,
    key_off.RULE,
    mode.RULE,
    engine_run.RULE,
    follow.RULE,
    signal.RULE,
    multiplexer.RULE,
    cover.RULE,
    outputs.RULE,
    inputs.RULE,
)


def rules_of(job: Job) -> tuple[Rule, ...]:
    """Return the rules that hold for a bike: all but those that its file sets aside."""
    return tuple(rule for rule in RULES if rule.slug not in job.bike.set_aside)


def pair_clashes(rules: Sequence[Rule], circuit: OutputCircuit) -> Iterator[Clash]:
    """Return what keeps two members of a circuit from sharing an output."""
    for one, other in combinations(circuit.members, 2):
        for rule in rules:
            if rule.pair and (said := rule.pair(one, other)):
                yield Clash(rule.slug, circuit.label, said)


def input_pair_clashes(rules: Sequence[Rule], circuit: InputCircuit) -> Iterator[Clash]:
    """Return what keeps two switches from sharing an input."""
    for one, other in combinations(circuit.switches, 2):
        for rule in rules:
            if rule.input_pair and (said := rule.input_pair(one, other)):
                yield Clash(rule.slug, circuit.label, said)


def output_clashes(rules: Sequence[Rule], job: Job, circuit: OutputCircuit, output: Output) -> Iterator[Clash]:
    """Return what keeps a circuit from an output wherever the unit sits."""
    for rule in rules:
        if rule.output_fit and (said := rule.output_fit(job, circuit, output)):
            yield Clash(rule.slug, circuit.label, said)


def unlaid_clashes(rules: Sequence[Rule], job: Job, circuit: OutputCircuit, output: Output) -> Iterator[Clash]:
    """Return what keeps a circuit from an output wherever its wire may run: ``wired_clashes`` tells it in full."""
    for rule in rules:
        if rule.unlaid_fit and (said := rule.unlaid_fit(job, circuit, output)):
            yield Clash(rule.slug, circuit.label, said)


def wired_clashes(rules: Sequence[Rule], wired: WiredOutput) -> Iterator[Clash]:
    """Return what keeps a circuit from an output with the wire that it has there."""
    for rule in rules:
        if rule.wired_fit and (said := rule.wired_fit(wired)):
            yield Clash(rule.slug, wired.circuit.label, said)


def input_clashes(rules: Sequence[Rule], circuit: InputCircuit, port: Port) -> Iterator[Clash]:
    """Return what keeps switches from an input."""
    for rule in rules:
        if rule.input_fit and (said := rule.input_fit(circuit, port)):
            yield Clash(rule.slug, circuit.label, said)


def switch_clashes(rules: Sequence[Rule], job: Job, switch: Switch, multiplexer: Multiplexer) -> Iterator[Clash]:
    """Return what keeps a switch from the ways of a multiplexer."""
    for rule in rules:
        if rule.switch_fit and (said := rule.switch_fit(job, switch, multiplexer)):
            yield Clash(rule.slug, switch.name, said)


def multiplexer_clashes(rules: Sequence[Rule], multiplexer: Multiplexer, port: Port) -> Iterator[Clash]:
    """Return what keeps a multiplexer from an input."""
    for rule in rules:
        if rule.multiplexer_fit and (said := rule.multiplexer_fit(multiplexer, port)):
            yield Clash(rule.slug, multiplexer.name, said)


def way_clashes(rules: Sequence[Rule], job: Job, switch: Switch, multiplexer: Multiplexer) -> Iterator[Clash]:
    """What keeps a switch from a multiplexer, wherever that stands: a rule, or that no input takes the latter."""
    yield from switch_clashes(rules, job, switch, multiplexer)
    refused = [next(multiplexer_clashes(rules, multiplexer, port), None) for port in job.unit.inputs]
    yield from islice((clash for clash in refused if clash and all(refused)), 1)


def place_clashes(rules: Sequence[Rule], site: Site) -> Iterator[Clash]:
    """Return what keeps the unit from a place."""
    for rule in rules:
        if rule.place_fit and (said := rule.place_fit(site)):
            yield Clash(rule.slug, site.label, said)


def whole_clashes(rules: Iterable[Rule], sized: Sized) -> Iterator[Clash]:
    """Return what is wrong with a whole plan once every wire has its true size."""
    for rule in rules:
        for subject, sentence in rule.whole(sized) if rule.whole else ():
            yield Clash(rule.slug, subject, sentence)


@dataclass(frozen=True)
class BrokenRow:
    """A sum that leaves its bounds: the rule, which of its budgets, the row and the sum."""

    rule: Rule
    number: int
    key: Key
    budget: Budget
    found: int

    @property
    def row(self) -> BudgetRow:
        """The row that is broken."""
        return self.budget.rows[self.key]


def budgets_of(rule: Rule, site: Site) -> Iterator[Budget]:
    """Return a rule's sums at a site: those of the whole bike once, the others of each unit."""
    if rule.budgets is None:
        return
    if rule.of_whole_bike or len(site.units) == 1:
        yield from rule.budgets(site)
        return
    for unit in site.units:
        yield from (budget.of(unit) for budget in rule.budgets(unit))


def broken_rows(rules: Iterable[Rule], laid: Laid) -> Iterator[BrokenRow]:
    """Return every row of a plan's budgets that leaves its bounds."""
    for rule in rules:
        for number, budget in enumerate(budgets_of(rule, laid.site)):
            sums = budget.sums(laid)
            for key, row in budget.rows.items():
                if not row.at_least <= sums[key] <= row.at_most:
                    yield BrokenRow(rule, number, key, budget, sums[key])


def needs(rules: Iterable[Rule], job: Job, circuit: OutputCircuit, output: Output) -> Iterator[tuple[Rule, Need]]:
    """Return what a circuit on an output needs of the inputs, with the rules that ask for it."""
    for rule in rules:
        for need in rule.link(job, circuit, output) if rule.link else ():
            yield rule, need


def in_short(rules: Iterable[Rule], site: Site, clash: Clash) -> str:
    """Say in few words what keeps the unit from a place."""
    rule = next(rule for rule in rules if rule.slug == clash.rule)
    return rule.place_in_short(site, clash.sentence) if rule.place_in_short else clash.sentence


def eased(job: Job, rules: Iterable[str], name: str) -> Iterator[str]:
    """Return what the bike's file may say of a load or switch that these rules keep off every port."""
    for rule in RULES:
        said = rule.eased(job, name) if rule.eased and rule.slug in rules else ""
        if said:
            yield said


def common_needs(job: Job, ports: PortDirection, names: Sequence[str]) -> Iterator[tuple[Rule, CommonNeed]]:
    """Return what things of which all go on these ports need of them alike, with the rules that ask for it."""
    for rule in RULES:
        need = rule.common_need(job, ports, names) if rule.common_need else None
        if need is not None:
            yield rule, need


# --- facts


def wished(subject: str, names: Sequence[str], sentence: str, at: At) -> Fact:
    """Return what somebody wishes as a fact: it stands beside what every plan must have."""
    return Fact(WISH.key(*names), cover.RULE.slug, subject, sentence, at)


def told_key(rule: Rule, need: Need) -> FactKey:
    """Return the fact that a rule asks the unit to be told something."""
    return TOLD.key(rule.slug, need.what)


def facts_of(job: Job, rules: Sequence[Rule]) -> tuple[Fact, ...]:
    """Return every fact of a bike on a unit: figures and limits, who is kept apart, what the unit must be told.

    A rule that is set aside still brings its figures, as others judge by them too.
    """
    figures = (fact for rule in RULES for fact in (rule.facts(job) if rule.facts else ()))
    return (*figures, *_bans(job, rules), *_switch_bans(job, rules), *_told(job, rules))


def decisions_of(job: Job) -> tuple[Fact, ...]:
    """Return the facts that the builder has decided of ports: loads, inputs, ports, what must be on outputs alike."""
    if not (job.bike.decided_ports or job.bike.alike):
        return ()
    every = (fact for rule in RULES for fact in (rule.facts(job) if rule.facts else ()))
    return tuple(fact for fact in every if kind_of(fact.key).decided)


def broken_decisions(job: Job, on: OnPorts) -> Iterator[FactKey]:
    """Return which of the facts that the builder has decided a plan breaks, by what is on which port."""
    for rule in RULES:
        yield from rule.breaks(job, on) if rule.breaks else ()


def _bans(job: Job, rules: Sequence[Rule]) -> Iterator[Fact]:
    """Return who is kept apart within a declared share group."""
    for one, other in combinations(job.loads.on_unit, 2):
        if one.share is not None and one.share == other.share:
            for clash in islice(pair_clashes(rules, OutputCircuit((one, other), ())), 1):
                at = at_load(job, other.name, "share")
                yield Fact(BAN.key(one.name, other.name), clash.rule, clash.subject, clash.sentence, at)


def _switch_bans(job: Job, rules: Sequence[Rule]) -> Iterator[Fact]:
    for one, other in combinations(job.inputs, 2):
        if one.share is not None and one.share == other.share:
            for clash in islice(input_pair_clashes(rules, InputCircuit((one, other))), 1):
                at = at_switch(job, other.name, "share")
                yield Fact(SWITCH_BAN.key(one.name, other.name), clash.rule, clash.subject, clash.sentence, at)


def _told(job: Job, rules: Sequence[Rule]) -> Iterator[Fact]:
    """Return each thing that the unit must be told, with the first load for which."""
    seen: set[FactKey] = set()
    asking, kinds = [rule for rule in rules if rule.link], output_kinds(job.unit)
    for load in job.loads.on_unit:
        circuit = job.circuit((load,))
        for kind in kinds:
            for rule, need in needs(asking, job, circuit, kind.ports[0]):
                key = told_key(rule, need)
                if key not in seen:
                    seen.add(key)
                    at = need.at or _where_told(job, load.name, need)
                    yield Fact(key, rule.slug, need.what, need.fact, at, hint=need.hint)


def _where_told(job: Job, load: str, need: Need) -> At:
    """An input that tells it if there is one, else the load that asks for it."""
    number = next((n for n, switch in enumerate(job.bike.inputs) if need.what in switch.tells), None)
    return at_load(job, load) if number is None else At("bike", ("inputs", number, "tells"))

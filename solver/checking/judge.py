"""Judge a plan: every rule, every sum, and every claim that the plan makes."""

from collections import Counter
from collections.abc import Iterator, Sequence

from solver.checking.relaid import Broken, Laid, lay
from solver.job.assignment import Assignment
from solver.job.goal import counted_run, port_loss
from solver.job.job import Job
from solver.rules.book import (
    input_clashes,
    input_pair_clashes,
    needs,
    output_clashes,
    pair_clashes,
    place_clashes,
    wired_clashes,
)
from solver.rules.shapes import Budget, Clash, Key, Rule
from solver.words.quantities import Micrometres


def judged(job: Job, rules: tuple[Rule, ...], plan: Assignment) -> tuple[Clash, ...]:
    """Give every rule that a plan breaks, and every claim of it that is not so."""
    try:
        laid = lay(job, rules, plan)
    except Broken as broken:
        return (broken.clash,)
    return (
        *place_clashes(rules, laid.site),
        *_ports_once(plan),
        *_circuits(rules, laid),
        *budget_clashes(rules, laid),
        *link_clashes(rules, laid),
        *_claims(laid, plan),
    )


def _ports_once(plan: Assignment) -> Iterator[Clash]:
    ports = [line.port for line in plan.outputs] + [room.port for room in plan.room_for]
    inputs = [line.port for line in plan.inputs]
    for slug, names in (("outputs", ports), ("inputs", inputs)):
        for name, times in Counter(names).items():
            if times > 1:
                yield Clash(slug, name, f"{name} is used {times} times")
    for load, times in Counter(room.load for room in plan.room_for).items():
        if times > 1:
            yield Clash("outputs", load, f"{load} is given room {times} times")


def _circuits(rules: Sequence[Rule], laid: Laid) -> Iterator[Clash]:
    job = laid.site.job
    for wired in (*laid.outputs, *laid.later):
        yield from pair_clashes(rules, wired.circuit)
        yield from output_clashes(rules, job, wired.circuit, wired.output)
        yield from wired_clashes(rules, wired)
    for switches in laid.inputs:
        yield from input_pair_clashes(rules, switches.circuit)
        yield from input_clashes(rules, switches.circuit, switches.port)


def budget_clashes(rules: Sequence[Rule], laid: Laid) -> Iterator[Clash]:
    """Give every sum over a plan that leaves its bounds."""
    for rule in rules:
        for budget in rule.budgets(laid.site) if rule.budgets else ():
            sums = _sums(budget, laid)
            for key, row in budget.rows.items():
                if not row.at_least <= sums[key] <= row.at_most:
                    yield Clash(rule.slug, row.subject, budget.sentence(row, sums[key]))


def _sums(budget: Budget, laid: Laid) -> dict[Key, int]:
    sums = {key: row.fixed for key, row in budget.rows.items()}
    for wired in (*laid.outputs, *laid.later):
        for key, amount in budget.output(wired):
            sums[key] += amount
    for switches in laid.inputs:
        for key, amount in budget.input(switches):
            sums[key] += amount
    return sums


def link_clashes(rules: Sequence[Rule], laid: Laid) -> Iterator[Clash]:
    """Give every circuit that lacks an input which its rule asks for."""
    for wired in laid.outputs:
        for rule, need in needs(rules, laid.site.job, wired.circuit, wired.output):
            if not any(need.met_by(switches.circuit, switches.port) for switches in laid.inputs):
                yield Clash(rule.slug, wired.circuit.label, need.sentence)


def _claims(laid: Laid, plan: Assignment) -> Iterator[Clash]:
    """Trips, sizes and cost are what the plan says."""
    for line, wired in zip(plan.outputs, laid.outputs, strict=True):
        size = wired.conductor.size if wired.conductor else None
        if (line.trip, line.size) != (wired.trip, size):
            yield Clash("wire", line.port, f"{line.port}: its trip or size is not what was worked out again")
    run, loss = wire_run(laid), spare_port_loss(laid)
    if run + loss != plan.cost:
        yield Clash("goal", "cost", f"the plan says {plan.cost} um, worked out again it is {run + loss} um")


def wire_run(laid: Laid) -> Micrometres:
    """Give the length of all wires that count, without margin."""
    outputs = sum(wired.run.length for wired in laid.outputs)
    inputs = sum(wired.run.length for wired in laid.inputs)
    return Micrometres(counted_run(laid.site.ways) + outputs + inputs)


def spare_port_loss(laid: Laid) -> Micrometres:
    """Give what the ports in use, and the later loads that have no room, are worth."""
    room = {wired.circuit.label for wired in laid.later}
    lost = sum(later.worth for later in laid.site.job.loads.later if later.consumer.name not in room)
    return Micrometres(lost + sum(port_loss(wired) for wired in laid.outputs))

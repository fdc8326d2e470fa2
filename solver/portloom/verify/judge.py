"""Judge a plan: every rule, every sum, and every claim that the plan makes."""

from collections import Counter
from collections.abc import Iterator, Sequence

from portloom.base.figures import listed
from portloom.base.values import dataclass
from portloom.job.assignment import Assignment, Seat
from portloom.job.fixed import conductor_of
from portloom.job.job import Job
from portloom.job.kinds import PortDirection
from portloom.job.laid import Laid
from portloom.job.site import Site
from portloom.job.sizing import Sized, size_wires
from portloom.rules.book import (
    broken_rows,
    input_clashes,
    input_pair_clashes,
    multiplexer_clashes,
    needs,
    output_clashes,
    pair_clashes,
    place_clashes,
    switch_clashes,
    whole_clashes,
    wired_clashes,
)
from portloom.rules.clash import Clash
from portloom.rules.faults import not_wired, wrong_port, wrong_wire
from portloom.rules.shapes import Rule
from portloom.rules.two_units import together, wants
from portloom.verify.as_built import change_clashes
from portloom.verify.count import legs_in_use, spare_port_loss, wire_run
from portloom.verify.drops import drop_clashes
from portloom.verify.legs import leg_clashes
from portloom.verify.relaid import CannotBeLaid, lay


@dataclass(frozen=True)
class PlanVerdict:
    """What the check says of a plan: the clashes, and the plan as it lies; None where it can't be laid."""

    clashes: tuple[Clash, ...]
    laid: Laid | None


def check(jobs: Sequence[Job], rules: tuple[Rule, ...], plan: Assignment) -> PlanVerdict:
    """Judge a plan, and give it as it lies with the size of every wire; each job is the bike on one of its units.

    Where the plan chose its legs, all others are closed to its wires.
    """
    try:
        sized = size_wires(lay(_open_to(jobs, plan), plan))
    except CannotBeLaid as broken:
        return PlanVerdict((broken.clash,), None)
    return PlanVerdict(tuple(_all(rules, sized, plan)), sized.laid)


def _open_to(jobs: Sequence[Job], plan: Assignment) -> Sequence[Job]:
    """Return the jobs with the legs open that a plan chose; raise CannotBeLaid where a return has no way then."""
    if plan.legs is None:
        return jobs
    try:
        return [job.within(plan.legs) for job in jobs]
    except ValueError as error:
        raise CannotBeLaid(not_wired("frame", "a return has no way to earth within the legs in use")) from error


def judged(jobs: Sequence[Job], rules: tuple[Rule, ...], plan: Assignment) -> tuple[Clash, ...]:
    """Return every rule that a plan breaks, and every claim of it that is not so."""
    return check(jobs, rules, plan).clashes


def _all(rules: tuple[Rule, ...], sized: Sized, plan: Assignment) -> Iterator[Clash]:
    laid = sized.laid
    for unit in laid.site.units:
        yield from place_clashes(rules, unit)
    for seat in plan.seats:
        yield from _ports_once(seat)
    yield from _room_once(plan)
    yield from circuit_clashes(rules, laid)
    yield from whole_clashes(rules, sized)
    yield from budget_clashes(rules, laid)
    yield from link_clashes(rules, laid)
    if len(plan.seats) > 1:
        yield from _wired_where_wanted(rules, laid)
        yield from _groups_apart(laid)
    yield from claims(laid, plan)
    yield from leg_clashes(laid, plan)
    yield from drop_clashes(laid)
    yield from change_clashes(laid, plan)


# --- circuits and ports


def _ports_once(plan: Seat) -> Iterator[Clash]:
    """Return each port that is used more than once on a unit."""
    ports = [line.port for line in plan.outputs] + [room.port for room in plan.room_for]
    inputs = [line.port for line in plan.inputs] + [box.port for box in plan.multiplexers]
    both: tuple[tuple[PortDirection, list[str]], ...] = (("outputs", ports), ("inputs", inputs))
    for what, names in both:
        for name, times in Counter(names).items():
            if times > 1:
                yield wrong_port(what, name, f"{name} is used {times} times")


def _room_once(plan: Assignment) -> Iterator[Clash]:
    for load, times in Counter(room.load for room in plan.room_for).items():
        if times > 1:
            yield wrong_port("outputs", load, f"{load} is given room {times} times")


def circuit_clashes(rules: Sequence[Rule], laid: Laid) -> Iterator[Clash]:
    """Return what is wrong with each circuit by itself, and on its port."""
    for wired in (*laid.outputs, *laid.later):
        yield from pair_clashes(rules, wired.circuit)
        yield from output_clashes(rules, wired.site.job, wired.circuit, wired.output)
        yield from wired_clashes(rules, wired)
    for switches in laid.inputs:
        yield from input_pair_clashes(rules, switches.circuit)
        yield from input_clashes(rules, switches.circuit, switches.port)
    for switch in laid.switches:
        yield from switch_clashes(rules, switch.site.job, switch.switch, switch.stand.multiplexer)
    for box in laid.multiplexers:
        yield from multiplexer_clashes(rules, box.stand.multiplexer, box.port)


def budget_clashes(rules: Sequence[Rule], laid: Laid) -> Iterator[Clash]:
    """Return every sum over a plan that leaves its bounds."""
    for broken in broken_rows(rules, laid):
        yield Clash(broken.rule.slug, broken.row.subject, broken.budget.sentence(broken.row, broken.found))


def link_clashes(rules: Sequence[Rule], laid: Laid) -> Iterator[Clash]:
    """Return every circuit that lacks an input which its rule asks for."""
    for wired in laid.outputs:
        for rule, need in needs(rules, wired.site.job, wired.circuit, wired.output):
            if not any(need.met_by(circuit, port) for circuit, port in laid.told(wired.site)):
                yield Clash(rule.slug, wired.circuit.label, need.sentence)


# --- two units on one bike


def _wired_where_wanted(rules: Sequence[Rule], laid: Laid) -> Iterator[Clash]:
    """A switch is on one input of each unit that wants it and of no other; one that neither wants is on one."""
    units = laid.site.units
    for switch in laid.site.job.inputs:
        on = [_times_on(laid, unit, switch.name) for unit in units]
        wanting = [
            any(
                wants(rules, unit.job, wired.circuit, wired.output, switch)
                for wired in laid.outputs
                if wired.site.shares(unit)
            )
            for unit in units
        ]
        if any(wanting):
            for unit, times, wanted in zip(units, on, wanting, strict=True):
                if times != wanted:
                    asked = "wants it" if wanted else "does not want it"
                    what = f"{switch.name} is on {times} inputs of the unit at {unit.seat}, which {asked}"
                    yield not_wired(switch.name, what)
        elif sum(on) != 1:
            yield not_wired(switch.name, f"{switch.name}, which no unit wants, is on {sum(on)} inputs")


def _times_on(laid: Laid, unit: Site, switch: str) -> int:
    here = (wired for wired in laid.inputs if wired.site.shares(unit))
    return sum(switch in [other.name for other in wired.circuit.switches] for wired in here)


def _groups_apart(laid: Laid) -> Iterator[Clash]:
    """Indicators sit on one unit, and so do ignition, engine controller, pump and starter."""
    for group in together(laid.site.job):
        names = [load.name for load in group]
        seats = {
            wired.site.seat: None for wired in laid.outputs if any(load.name in names for load in wired.circuit.members)
        }
        if len(seats) > 1:
            yield not_wired(names[0], f"{listed(names)} go on one unit, and are at {listed(tuple(seats))}")


# --- what the plan claims


def claims(laid: Laid, plan: Assignment) -> Iterator[Clash]:
    """Return what is not as the plan says: trips, sizes, cost."""
    for line, wired in zip(plan.outputs, laid.outputs, strict=True):
        size = wired.conductor.size if wired.conductor else None
        if (line.trip, line.size) != (wired.trip, size):
            yield wrong_wire(line.port, f"{line.port}: its trip or size is not what was worked out again")
    sizes = {wire.key: conductor_of(laid.site, wire).size for wire in laid.site.fixed_wires if wire.kind != "alongside"}
    for key, said in plan.fixed_sizes:
        if sizes.get(key) != said:
            yield wrong_wire(key[1], f"{key[0]} {key[1]}: its size is not what was worked out again")
    run, loss, legs = wire_run(laid), spare_port_loss(laid), legs_in_use(laid)
    for what, claimed, counted in (
        ("", plan.cost, run + loss + legs),
        ("wire run: ", plan.costs.wire_run, run),
        ("spare-port loss: ", plan.costs.spare_port_loss, loss),
        ("legs in use: ", plan.costs.legs_in_use, legs),
    ):
        if claimed != counted:
            yield Clash("goal", "cost", f"{what}the plan says {claimed} um, worked out again it is {counted} um")

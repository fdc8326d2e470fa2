"""Judge a plan of two units: each laid again on its own, then both side by side on one bike."""

from collections import Counter
from collections.abc import Iterator, Sequence
from dataclasses import replace

from portloom.base.figures import listed
from portloom.base.fuses import STEPS
from portloom.base.quantities import MilliAmps
from portloom.job.assignment import PairAssignment, Seat
from portloom.job.job import Job
from portloom.job.laid import Laid
from portloom.job.site import Site
from portloom.job.sizing import Sized, size_wires
from portloom.job.wires import UNIT_OWNED
from portloom.rules.book import place_clashes, whole_clashes
from portloom.rules.clash import Clash
from portloom.rules.faults import not_wired, wrong_main_fuse, wrong_port
from portloom.rules.fuse_size import counted_most, fuse_steps
from portloom.rules.shapes import Rule
from portloom.rules.two_units import together, wants
from portloom.verify.joined import CannotBeLaid
from portloom.verify.judge import PlanVerdict, budget_clashes, circuit_clashes, claims, link_clashes, ports_once
from portloom.verify.relaid import check_fixed_wires, lay_seat, place_named

Jobs = tuple[Job, Job]


def check_pair(jobs: Jobs, rules: tuple[Rule, ...], plan: PairAssignment) -> PlanVerdict:
    """Judge a plan of two units, and give it as it lies with the size of every wire."""
    try:
        sized = size_wires(_lay(jobs, plan))
    except CannotBeLaid as broken:
        return PlanVerdict((broken.clash,), None)
    return PlanVerdict(tuple(_all(rules, sized, plan)), sized.laid)


# --- laid again


def _lay(jobs: Jobs, plan: PairAssignment) -> Laid:
    """Lay both units' circuits on one bike.

    Raises CannotBeLaid where a name is unknown or a wire does not join its ends.
    """
    one, other = plan.seats
    if one.place == other.place:
        raise CannotBeLaid(not_wired(one.place, f"both units sit at {one.place}"))
    sites = [_site(*each, plan) for each in zip(jobs, plan.seats, plan.main_fuses, strict=True)]
    both = sites[0].beside(sites[1])
    _check_all_there(both, plan)
    first, second = (lay_seat(site, seat) for site, seat in zip(sites, plan.seats, strict=True))
    return replace(
        first,
        site=both,
        outputs=(*first.outputs, *second.outputs),
        inputs=(*first.inputs, *second.inputs),
        later=(*first.later, *second.later),
    )


def _site(job: Job, seat: Seat, fuse: MilliAmps, plan: PairAssignment) -> Site:
    """Return a unit's site with its own feed and earth, and the wires that are the bike's."""
    if fuse not in STEPS:
        raise CannotBeLaid(wrong_main_fuse(seat.place, f"{fuse} mA is no step of main fuses"))
    fixed_wires = tuple(wire for wire in plan.fixed_wires if wire.kind not in UNIT_OWNED or wire.name == seat.place)
    return Site(
        job,
        place_named(job, seat.place),
        turned=seat.turned,
        main_fuse=fuse,
        fixed_wires=fixed_wires,
        feed_most=counted_most(fuse),
    )


def _check_all_there(both: Site, plan: PairAssignment) -> None:
    check_fixed_wires(both, ())
    known = {wire.key for wire in both.fixed_wires}
    for wire in plan.fixed_wires:
        if wire.key not in known:
            raise CannotBeLaid(not_wired(wire.name, f"{wire.name}: a {wire.kind} wire that nothing asks for"))
    if len(plan.fixed_wires) > len(both.fixed_wires):
        raise CannotBeLaid(not_wired(both.label, "a wire that no assignment changes is laid twice"))


# --- judged


def _all(rules: tuple[Rule, ...], sized: Sized, plan: PairAssignment) -> Iterator[Clash]:
    laid = sized.laid
    for unit in laid.site.units:
        yield from place_clashes(rules, unit)
        yield from _passes_charging(unit)
    for seat in plan.seats:
        yield from ports_once(seat)
    yield from _room_once(plan)
    yield from circuit_clashes(rules, laid)
    yield from whole_clashes(rules, sized)
    yield from budget_clashes(rules, laid)
    yield from link_clashes(rules, laid)
    yield from _wired_where_wanted(rules, laid)
    yield from _groups_apart(laid)
    yield from claims(laid, plan)


def _passes_charging(unit: Site) -> Iterator[Clash]:
    if unit.main_fuse not in fuse_steps(unit.job):
        yield wrong_main_fuse(unit.seat, f"the main fuse at {unit.seat} does not carry the charging current")


def _room_once(plan: PairAssignment) -> Iterator[Clash]:
    for load, times in Counter(room.load for seat in plan.seats for room in seat.room_for).items():
        if times > 1:
            yield wrong_port("outputs", load, f"{load} is given room {times} times")


def _wired_where_wanted(rules: Sequence[Rule], laid: Laid) -> Iterator[Clash]:
    """A switch is on one input of each unit that wants it and of no other; one that neither wants is on one."""
    units = laid.site.units
    for switch in laid.site.job.bike.inputs:
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

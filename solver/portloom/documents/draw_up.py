"""Draw up a plan: from a checked assignment to every figure that people and programs are told."""

from collections.abc import Iterable, Iterator, Mapping
from dataclasses import replace
from types import MappingProxyType

from portloom.base.current import brightness_share
from portloom.base.drop import NOTHING
from portloom.base.events import STATES
from portloom.base.fuses import fuse_for
from portloom.base.quantities import Micrometres, MilliAmps
from portloom.documents.assumed import CAUTIONS, assumed, not_yet_judged
from portloom.documents.case_lines import case_lines
from portloom.documents.change_order import Figures, change_order, dead_after
from portloom.documents.document import (
    CaseLine,
    CrankingLine,
    DecidedLine,
    DropLine,
    FeedLine,
    FixedLine,
    InputLine,
    LampLine,
    LegLine,
    MultiplexerLine,
    OutputLine,
    Plan,
    PlannedUnit,
    RoomLine,
    SwitchLine,
    WireLine,
)
from portloom.documents.energy import energy_of
from portloom.documents.fail_safe import stands_first
from portloom.documents.legs import LegsChosen
from portloom.documents.looms import looms
from portloom.documents.notes import notes_of_loads, notes_of_switches
from portloom.documents.parts import also_needed
from portloom.documents.protection import other_protection, unit_protection
from portloom.documents.savings import Saves
from portloom.documents.shown import shown_lines
from portloom.documents.warnings import bike_warnings, unit_warnings
from portloom.documents.wiring.cut_lengths import CutLengths
from portloom.documents.wiring.leads import battery_leads, starter_voltage
from portloom.documents.wiring.lines import (
    Line,
    coil_lines,
    fed_lines,
    feed_lines,
    input_line,
    multiplexer_lines,
    output_lines,
    supply_lines,
)
from portloom.documents.wiring.pieces import copper_of, wiring_of
from portloom.documents.wiring.returned import earth_pieces
from portloom.job.as_wired import as_it_is
from portloom.job.assignment import Assignment, Seat
from portloom.job.drops import Drops, Lost
from portloom.job.fixed import conductor_of, fed_load
from portloom.job.fixed_wires import FixedWire
from portloom.job.job import Job
from portloom.job.laid import Laid, WiredInput, WiredMultiplexer
from portloom.job.network import Run
from portloom.job.site import Site
from portloom.job.wired import WiredOutput
from portloom.rules.book import decisions_of
from portloom.rules.facts import Where, by_default


def draw_up(
    laid: Laid,
    plan: Assignment,
    savings: Mapping[str, Saves] = MappingProxyType({}),
    not_used: tuple[str, ...] = (),
    sharing: tuple[str, ...] = (),
    where: Where = by_default,
    legs: LegsChosen | None = None,
) -> Plan:
    """Return the plan in full; ``laid`` is the assignment as the check laid it again.

    ``savings`` tells what each multiplexer saves, by its name, where that was worked out; ``not_used`` are the
    multiplexers that the bike has and two units leave unused; ``sharing`` says what more sharing would free,
    ``where`` where a thing is written, and ``legs`` which it uses, where these were chosen.
    """
    site, job = laid.site, laid.site.job
    room = {line.load for line in plan.room_for}
    energy, drops, wiring = energy_of(laid), Drops(laid), wiring_of(laid)
    cut = CutLengths(laid, wiring)
    after = Figures(_worst(laid), tuple(line.load for line in plan.room_for))
    return Plan(
        bike=job.bike.bike,
        units=tuple(
            _unit(laid, unit, seat, savings, drops, cut) for unit, seat in zip(site.units, plan.seats, strict=True)
        ),
        resting=job.bike.supply.resting,
        proven=plan.proven,
        once=plan.once,
        bound=plan.bound,
        costs=plan.costs,
        copper_mg=copper_of(wiring),
        fed=tuple(_fed_line(laid, wire, drops, cut) for wire in site.fixed_of("fed load")),
        returns=tuple(_return_lines(laid, cut)),
        other_wires=tuple(_other_lines(laid, cut)),
        shown=tuple(shown_lines(laid)),
        legs=tuple(_leg_lines(laid)),
        other_protection=tuple(other_protection(laid)),
        wiring=wiring,
        change=change_order(laid, plan, wiring, after),
        dead=() if job.built is None else dead_after(wiring, job.built.loom),
        leads=battery_leads(job),
        starter_voltage=starter_voltage(job),
        energy=energy,
        also_needed=also_needed(laid),
        no_room_for=tuple(x.consumer.name for x in job.loads.later if x.consumer.name not in room),
        not_used=not_used,
        could_share=sharing,
        first=stands_first(job.bike),
        decided=tuple(DecidedLine(fact.sentence, where(fact.at)) for fact in decisions_of(job)),
        set_aside=tuple(job.bike.set_aside.items()),
        not_yet_judged=not_yet_judged(job.bike, [unit.job.unit for unit in site.units]),
        assumed=assumed(laid),
        bike_warnings=bike_warnings(laid, energy),
        cautions=CAUTIONS,
        chosen_legs=legs,
    )


def _worst(laid: Laid) -> MilliAmps:
    """Return the most through the unit that stands first, in any case that is told."""
    return max((case.current for case in case_lines(laid.of(laid.site))), default=MilliAmps(0))


def _unit(
    whole: Laid, site: Site, seat: Seat, savings: Mapping[str, Saves], drops: Drops, cut: CutLengths
) -> PlannedUnit:
    """Return a unit with what is on it."""
    unit, laid = site.job.unit, whole.of(site)
    used = {line.port for line in seat.outputs} | {room.port for room in seat.room_for}
    read = {line.port for line in seat.inputs} | {box.port for box in seat.multiplexers}
    cases = tuple(case_lines(laid))
    return PlannedUnit(
        unit=unit.unit,
        size=unit.size,
        place=seat.place,
        turned=seat.turned,
        feed=_feed_line(laid, cases, drops, cut),
        outputs=tuple(_output_line(wired, drops, cut) for wired in laid.outputs),
        inputs=tuple(_input_line(laid, switches, cut) for switches in laid.inputs),
        multiplexers=tuple(
            _multiplexer_line(laid, box, savings.get(box.stand.multiplexer.name), cut) for box in laid.multiplexers
        ),
        cases=cases,
        protection=tuple(unit_protection(whole, site)),
        lamps=tuple(_lamps(laid, drops)),
        cranking=tuple(_cranking(laid)),
        free_outputs=tuple(output.name for output in unit.outputs if output.name not in used and output.is_usable),
        free_inputs=tuple(port.name for port in unit.inputs if port.name not in read and port.is_usable),
        room_for=tuple(RoomLine(line.load, line.port) for line in seat.room_for),
        warnings=unit_warnings(laid),
    )


# --- wires


def _output_line(wired: WiredOutput, drops: Drops, cut: CutLengths) -> OutputLine:
    """Return a circuit on its output."""
    conductor = wired.drawn
    loads = wired.circuit.loads
    lost = tuple(_lost_by(load.name, drops.worst_on_output(wired, load)) for load in loads)
    return OutputLine(
        port=wired.output.name,
        loads=tuple(load.name for load in loads),
        mode=tuple(sorted(wired.circuit.modes)),
        current=wired.circuit.current,
        inrush=wired.circuit.inrush.height,
        trip=wired.trip,
        wire=wire_line(wired.site.job, wired.run, cut.of(output_lines(wired))),
        size=conductor.size,
        drops=lost,
        notes=notes_of_loads(wired.site.job.bike, (load.name for load in loads)),
        worked_by=tuple(
            switch.name for switch in wired.site.job.bike.inputs if switch.name in wired.circuit.operated_by
        ),
        on_in=(*(word for word in STATES if word in loads[0].when), *sorted(loads[0].when.difference(STATES))),
    )


def _lost_by(load: str, worst: Lost | None) -> DropLine:
    return DropLine(load, NOTHING, "never on") if worst is None else DropLine(load, worst.drop, worst.case.label)


def _input_line(laid: Laid, switches: WiredInput, cut: CutLengths) -> InputLine:
    """Return switches on their input."""
    return InputLine(
        port=switches.port.name,
        switches=tuple(switch.name for switch in switches.circuit.switches),
        signal=switches.circuit.switches[0].signal,
        action=_action(switches),
        at_rest=tuple(switch.normally for switch in switches.circuit.switches),
        wire=wire_line(laid.site.job, switches.run, cut.of([input_line(laid, switches)])),
        size=switches.site.job.reels[0].size,
        notes=notes_of_switches(laid.site.job.bike, (switch.name for switch in switches.circuit.switches)),
    )


def _action(switches: WiredInput) -> str | None:
    actions = {switch.action for switch in switches.circuit.switches}
    return actions.pop() if len(actions) == 1 else None


def _multiplexer_line(laid: Laid, box: WiredMultiplexer, saves: Saves | None, cut: CutLengths) -> MultiplexerLine:
    """Return a multiplexer with the switches on it; ``saves`` is None where that was not worked out."""
    job, stand = laid.site.job, box.stand
    data, _, *ways = (cut.of([line]) for line in multiplexer_lines(laid, box))
    return MultiplexerLine(
        name=stand.multiplexer.name,
        at=stand.at,
        port=box.port.name,
        ways=stand.multiplexer.ways,
        wire=wire_line(job, box.run, data),
        size=job.reels[0].size,
        switches=tuple(
            SwitchLine(
                wired.switch.name,
                wired.switch.signal,
                wired.switch.normally,
                wire_line(job, wired.run, length),
                way,
                notes_of_switches(job.bike, [wired.switch.name]),
            )
            for (way, wired), length in zip(laid.ways_of(box), ways, strict=True)
        ),
        saves=saves,
    )


def _feed_line(laid: Laid, cases: Iterable[CaseLine], drops: Drops, cut: CutLengths) -> FeedLine:
    """Return a unit's feed, with the worst of its cases."""
    site, job, lost = laid.site, laid.site.job, drops.worst_feed(laid.site)
    worst = max(cases, key=lambda case: case.current)
    return FeedLine(
        wire=wire_line(job, site.feed.run, cut.of(feed_lines(site, site.feed))),
        size=conductor_of(site, site.feed).size,
        main_fuse=site.main_fuse or MilliAmps(0),
        limit=job.unit.feed.limit,
        worst=worst.current,
        worst_case=worst.label,
        drop=lost.drop,
        drop_case=lost.case.label,
    )


def _fixed(laid: Laid, wire: FixedWire, current: MilliAmps, cut: CutLengths, lines: Iterable[Line] = ()) -> FixedLine:
    """Return a wire that no assignment changes; ``lines`` are what is cut for it where it does not lead to earth."""
    job, size = laid.site.job, conductor_of(laid.site, wire).size
    told = wire_line(job, wire.run, cut.of(lines, earth_pieces(laid, wire)))
    return FixedLine(wire.kind, wire.name, wire.ends[0], wire.ends[1:], told, size, current)


def _fed_line(laid: Laid, wire: FixedWire, drops: Drops, cut: CutLengths) -> FixedLine:
    """Return the wire of a load that no unit feeds."""
    fed = fed_load(laid.site, wire)
    line = _fixed(laid, wire, fed.consumer.current, cut, fed_lines(laid, wire))
    lost = _lost_by(fed.consumer.name, drops.worst_fed(wire))
    notes = notes_of_loads(laid.site.job.bike, [fed.consumer.name])
    return replace(line, fuse=fuse_for(fed.consumer.current), by=fed.by, drop=lost, notes=notes)


def _return_lines(laid: Laid, cut: CutLengths) -> Iterator[FixedLine]:
    """Return every return with the most that it carries."""
    site = laid.site
    for wire in site.fixed_of("return"):
        line = _fixed(laid, wire, max(site.job.returned(wire.back, case) for case in site.job.cases), cut)
        loads = tuple(load.name for load in site.job.returning(wire.back))
        yield replace(line, number=wire.number, loads=loads)
    for wire in site.fixed_of("sender return"):
        yield _fixed(laid, wire, MilliAmps(0), cut)


def _other_lines(laid: Laid, cut: CutLengths) -> Iterator[FixedLine]:
    """Return the coils' wires to loads' own switches, the supply to switches and the units' own earths."""
    fuse = MilliAmps(laid.site.job.assume["supply switch fuse"])
    for wire in laid.site.fixed_of("coil lead"):
        current = MilliAmps(laid.site.job.assume["relay coil current"])
        yield replace(_fixed(laid, wire, current, cut, coil_lines(laid, wire)), fuse=fuse)
    for wire in laid.site.fixed_of("supply"):
        yield replace(_fixed(laid, wire, MilliAmps(0), cut, supply_lines(laid, wire)), fuse=fuse)
    for wire in laid.site.fixed_of("unit earth"):
        yield _fixed(laid, wire, MilliAmps(0), cut)


def wire_line(job: Job, run: Run, cut: Micrometres) -> WireLine:
    """Return a wire as it is told."""
    return WireLine(run.length, cut, tuple(job.network.legs[number].label for number in run.legs))


# --- voltages


def _lamps(laid: Laid, drops: Drops) -> Iterator[LampLine]:
    running = laid.site.job.bike.supply.running
    for wired in laid.outputs:
        for load in wired.circuit.loads:
            worst = drops.worst_on_output(wired, load)
            if load.kind == "filament" and worst is not None:
                reaches = 1000 * running - worst.drop
                yield LampLine(load.name, reaches, brightness_share(running, reaches / 1000), worst.case.label)


def _cranking(laid: Laid) -> Iterator[CrankingLine]:
    laid = as_it_is(laid)
    job, cranking = laid.site.job, laid.losses.cranking
    if not cranking.cases:
        return
    yield CrankingLine("the unit", cranking.at_unit(), job.unit.feed.lowest)
    for wired in laid.outputs:
        for load in wired.circuit.loads:
            reached = wired.while_cranking(load, wired.drawn)
            if reached is not None:
                yield CrankingLine(load.name, reached, load.lowest)


# --- looms


def _leg_lines(laid: Laid) -> Iterator[LegLine]:
    """Return every leg with its loom."""
    for leg, loom in zip(laid.site.job.network.legs, looms(laid), strict=True):
        yield LegLine(leg.label, loom.wires, loom.diameter, leg.opening, leg.opens_to, leg.moves)

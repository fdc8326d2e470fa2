"""The record for the next owner: where everything is, and what it means when something goes out."""

from collections.abc import Iterator

from portloom.base.figures import amperes, capital, counted, listed
from portloom.base.values import dataclass
from portloom.documents.document import FixedLine, OutputLine, Plan
from portloom.documents.notes import each_noted, noted
from portloom.documents.wiring.wire import Wiring


@dataclass(frozen=True)
class Chapter:
    """A heading and its sentences."""

    title: str
    sentences: tuple[str, ...]


@dataclass(frozen=True)
class Record:
    """One page in plain language."""

    bike: str
    chapters: tuple[Chapter, ...]


def record_of(plan: Plan, wiring: Wiring) -> Record:
    """Return the record of a plan and its wires."""
    return Record(
        plan.bike,
        (
            Chapter("Read this first", tuple(_first(plan))),
            Chapter("What was done", tuple(_what(plan))),
            Chapter("If something goes out", tuple(_goes_out(plan))),
            Chapter("Where it gets its power", tuple(_power(plan))),
            Chapter("Where it is earthed", tuple(_earths(plan))),
            Chapter("Where the loom comes apart", tuple(_joints(wiring))),
            Chapter("What reads your switches", tuple(_switches(plan))),
            Chapter("What could still be added", tuple(_room(plan))),
            Chapter("Before you work on it", plan.cautions),
        ),
    )


def _first(plan: Plan) -> Iterator[str]:
    yield from (f"{capital(line)}." for line in plan.first)
    yield from (f"The rule {rule} was set aside: {reason}." for rule, reason in plan.set_aside)


def _what(plan: Plan) -> Iterator[str]:
    yield f"One electronic control unit ({plan.only.unit}) replaces the fuse box and the relays."
    yield f"Where it sits: {plan.only.seat}."
    yield "Each of its outputs has an electronic fuse: it switches off by itself and needs no replacing."


def _goes_out(plan: Plan) -> Iterator[str]:
    yield "Switch off, find the cause, switch on again. If it goes out once more, there is a short: do not ride on."
    for line in plan.outputs:
        yield f"{capital(line.port)} feeds {listed(each_noted(line.loads, line.notes))}. {_trip(line)}"
    for fed in plan.fed:
        fuse = f"a fuse of {amperes(fed.fuse)} at the battery" if fed.fuse else "its own fuse at the battery"
        relay = " and a relay" if fed.by == "relay" else ""
        yield f"{capital(noted([fed.name], fed.notes))} has {fuse}{relay}, not the unit."


def _trip(line: OutputLine) -> str:
    if len(line.loads) == 1:
        return f"It switches off above {amperes(line.trip)}: then only this is dead."
    return f"It switches off above {amperes(line.trip)}: then all of these are dead together."


SUPPLIED = "The switches that need a supply have one"


def _power(plan: Plan) -> Iterator[str]:
    feed = plan.only.feed
    main_fuse = f"Main fuse: {amperes(feed.main_fuse)}, at the battery."
    lost = "all that the unit feeds is dead" if plan.fed else "everything is dead"
    yield f"{main_fuse} If it blows, {lost}; fit only the same size."
    yield f"From there one wire of {feed.size.label} leads to the unit."
    for line in plan.other_wires:
        if line.fuse:
            whose = f"The coil of {line.name}'s relay has a" if line.kind == "coil lead" else SUPPLIED
            yield f"{whose} fuse of {amperes(line.fuse)} at the battery."


def _from(line: FixedLine) -> str:
    return line.joint if line.kind == "return" else line.name


def _earths(plan: Plan) -> Iterator[str]:
    points: dict[str, list[str]] = {}
    for line in (*plan.returns, *(wire for wire in plan.other_wires if wire.kind == "unit earth")):
        points.setdefault(line.ends[-1], []).append("the unit" if line.kind == "unit earth" else _from(line))
    for point, names in points.items():
        yield f"At {point}: the returns from {listed(names)}."
    yield "A lamp that glows dimly, or two that light together, mostly means a bad earth (common practice, no source)."


def _joints(wiring: Wiring) -> Iterator[str]:
    places = [f"{one.at} ({counted(len(one.wires), 'way')})" for one in wiring.connectors]
    yield f"Connectors: at {listed(places)}." if places else "No connectors: the loom is in one piece."
    points: dict[str, list[str]] = {}
    for splice in wiring.splices:
        points.setdefault(splice.point, []).append(splice.name)
    if points:
        joined = [f"{point} ({listed(names)})" for point, names in points.items()]
        yield f"Wires are permanently joined at {listed(joined)}."


def _switches(plan: Plan) -> Iterator[str]:
    for line in plan.inputs:
        yield f"{capital(line.port)}: {listed(each_noted(line.switches, line.notes))}."
    for box in plan.multiplexers:
        switches = listed([noted([one.switch], one.notes) for one in box.switches])
        yield f"{capital(box.name)}, a multiplexer at {box.at}, reads {switches} and reports to {box.port}."
    yield from _dashes(plan)


def _dashes(plan: Plan) -> Iterator[str]:
    """Say what each dash shows, and what it reads by itself, past the unit."""
    for dash in dict.fromkeys(line.dash for line in plan.shown):
        lines = [line for line in plan.shown if line.dash == dash]
        shared = listed([f"{noted([line.shown], line.notes)} (from {line.by})" for line in lines if line.by])
        own = listed([noted([line.shown], line.notes) for line in lines if not line.by])
        if any(line.by for line in lines):
            diodes = "; the diodes there keep the circuits apart, never bridge one" * any(line.diode for line in lines)
            yield f"{capital(dash)} shows {shared}{diodes}."
        if any(not line.by for line in lines):
            yield f"{capital(dash)} itself reads {own}: these do not go through the unit."


def _room(plan: Plan) -> Iterator[str]:
    for room in plan.room_for:
        yield f"{capital(room.load)} on {room.port}."
    if plan.no_room_for:
        yield f"No room for {listed(plan.no_room_for)}."
    if plan.only.free_outputs:
        yield f"Free outputs: {listed(plan.only.free_outputs)}."

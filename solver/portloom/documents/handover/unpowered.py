"""Bench steps before the battery goes on: an ohmmeter finds open wires and shorts, and harms nothing.

That a good wire reads under half an ohm is common practice, no source.
"""

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import replace

from portloom.base.bike import Load, Switch
from portloom.base.figures import listed
from portloom.base.parts.loads import ENGINE_CONTROLLER, FAN
from portloom.documents.handover.coming_on import senses
from portloom.documents.handover.steps import Step, TestPart
from portloom.documents.notes import as_sentences
from portloom.documents.wiring.pieces import wiring_of
from portloom.documents.wiring.wire import Wire, WireEnd
from portloom.job.laid import Laid

BEFORE: TestPart = "before the battery goes on"
GOOD = "under 0.5 ohm"
OPEN = "no reading (open)"
NEGATIVE = "the battery's negative lead"
NOT_THROUGH = "an open wire, or a bad joint"
NOT_SWITCHED = "never: open, wrong way; always: a short; reversed: not as its file says"
IN_TURN = ", one after the other"
BACK = ("unit earth", "return", "sender return")
TO_READER = ("input", "multiplexer way", "dash signal")
"""What leads from a switch to what reads it."""


def unplugged(laid: Laid) -> tuple[str, ...]:
    """Return what must be unplugged before anything is measured with an ohmmeter."""
    electronic = [
        load.name
        for load in (*laid.site.job.loads.on_unit, *laid.site.job.loads.guests)
        if load.kind in ("led", "electronics") or load.part == ENGINE_CONTROLLER.name
    ]
    boxes = [box.stand.multiplexer.name for box in laid.multiplexers]
    return ("the control unit", "the regulator/rectifier", *boxes, *dict.fromkeys(electronic))


def steps_without_power(laid: Laid) -> Iterator[Step]:
    """Return each circuit's continuity, each switch at rest and worked, and what must not be joined."""
    every = wiring_of(laid).circuits.items()
    circuits = {name: wires for name, own in every if (wires := tuple(wire for wire in own if wire.used))}
    switches = {switch.name: switch for switch in laid.site.job.wired_inputs}
    for circuit, wires in circuits.items():
        if wires[0].kind in BACK:
            yield _back(wires)
        elif wires[0].kind != "alongside" and not _measured_worked(wires, switches):
            yield _through(circuit, wires)
    for wires in circuits.values():
        if wires[0].kind in TO_READER:
            names = dict.fromkeys(end.name for wire in wires for end in wire.ends if end.kind == "switch")
            yield from (_switch(wires[0].start, switches[name]) for name in names if _has_rest(switches[name]))
    for load in laid.site.job.bike.loads:
        if load.own_switch is not None:
            yield _own_switch(load)
    yield from _shorts(laid)


def _has_rest(switch: Switch) -> bool:
    return switch.signal in ("earth", "supply", "sender")


def _measured_worked(wires: Sequence[Wire], switches: Mapping[str, Switch]) -> bool:
    """Tell whether a switch's own step measures the whole wire: it leads to the other side of the switch.

    What leads on from there to a dash is measured by itself.
    """
    ends = [end for wire in wires for end in wire.ends if end.kind == "switch"]
    further = any(end.kind == "dash" for wire in wires for end in (wire.ends if wire.port else (wire.end,)))
    contacts = all(switches[end.name].is_contact for end in ends)
    return wires[0].kind in TO_READER and contacts and not further


# --- continuity


def _through(circuit: str, wires: Sequence[Wire]) -> Step:
    nets = [_from_to(net) for net in _nets(wires)]
    fuse = "Fuse out. " if any(end.kind == "fuse" for wire in wires for end in wire.ends) else ""
    loads = list(dict.fromkeys(end.name for wire in wires for end in wire.ends if end.kind in ("load", "relay")))
    port = wires[0].port if wires[0].kind == "output" else ""
    title = f"{circuit}: {listed(loads)}" if port else circuit
    return Step(BEFORE, title, f"{fuse}From {'; from '.join(nets)}.", "ohms", GOOD, NOT_THROUGH, port)


def _nets(wires: Sequence[Wire]) -> Iterator[list[WireEnd]]:
    """Return the ends that are joined through splices, net by net; a fuse or a relay is between two nets."""
    nets: list[list[Wire]] = []
    for wire in wires:
        joints = {end.name for end in wire.ends if end.kind == "splice"}
        met = [net for net in nets if any(end.name in joints for one in net for end in one.ends)]
        nets = [net for net in nets if net not in met]
        nets.append([*(one for net in met for one in net), wire])
    for net in nets:
        yield [end for wire in net for end in wire.ends if end.kind != "splice"]


def _from_to(ends: Sequence[WireEnd]) -> str:
    """Say what a net joins, its loads and dashes last."""
    first, *others = ends
    feeds = any(end.kind == "load" for end in others)
    loads = [_up_to(end) for end in others if end.kind in ("load", "dash")]
    rest = [end for end in others if end.kind not in ("load", "dash")]
    tips = [_said(end) + f" at {end.point}" * (len({one.point for one in rest}) > 1) for end in rest]
    if loads:
        tips.append(f"the feed side of {listed(loads)}" if feeds else listed(loads))
    return f"{_said(first)} to {listed(tips)}{IN_TURN * (len(others) > 1)}"


def _said(end: WireEnd) -> str:
    """Say where the meter's lead goes."""
    if end.kind == "unit":
        return _way(end)
    if end.kind in ("dash", "multiplexer"):
        return _at_reader(end)
    if end.kind == "battery":
        return "the battery's positive lead"
    return f"the holder of the {end.name}" if end.kind == "fuse" else end.told


def _way(end: WireEnd) -> str:
    way = f"the unit's {end.name} way" if end.name in ("supply", "earth") else f"the unit's way for {end.name}"
    return f"{way} (from {end.diode} on)" if end.diode else way


def _at_reader(end: WireEnd) -> str:
    """Say a dash's terminal or a multiplexer's way; only from its diode on, for an ohmmeter can't judge one."""
    said = f"{end.name} {end.terminal}"
    return f"{said} (from {end.diode} on)" if end.diode else said


def _up_to(end: WireEnd) -> str:
    """Say a load; only up to its diode, for an ohmmeter can't judge one."""
    return f"{end.name} (up to {end.diode})" if end.diode else end.name


def _back(wires: Sequence[Wire]) -> Step:
    ends = [end for wire in wires for end in wire.ends if end.kind not in ("splice", "earth")]
    earths = list(dict.fromkeys(end.name for wire in wires for end in wire.ends if end.kind == "earth"))
    names = list(dict.fromkeys(_way(end) if end.kind == "unit" else end.told for end in ends))
    first = listed(names) if ends[0].kind == "unit" else f"the earth side of {listed(names)}"
    do = f"From {first} to {listed(earths)}, and from there to {NEGATIVE}{IN_TURN * (len(names) > 1)}."
    return Step(BEFORE, wires[0].circuit, do, "ohms", GOOD, NOT_THROUGH)


# --- switches


def _switch(way: WireEnd, switch: Switch) -> Step:
    """Return the contact of a switch, or what a sender has, measured from where it is read; its note with it."""
    step = _measured(way, switch)
    said = as_sentences(() if switch.note is None else ((switch.name, switch.note),))
    return replace(step, do=f"{step.do}{said}")


def _measured(way: WireEnd, switch: Switch) -> Step:
    at = {"unit": _way(way), "dash": _at_reader(way)}.get(way.kind, f"its way at {way.name}")
    if way.kind == "multiplexer" and way.diode:
        at += f" (from {way.diode} on)"
    if switch.signal == "sender":
        back = f"{way.name} - for {switch.name}" if way.kind == "dash" and switch.returns_to_dash else NEGATIVE
        do = f"From {at} to {back}: the sender by itself."
        wrong = "0: a short; open: a wire, a plug, or the sender"
        return Step(BEFORE, switch.name, do, "ohms", "what its maker says, neither 0 nor open", wrong, way.name)
    to = NEGATIVE if switch.signal == "earth" else "its live side"
    rest, worked = (GOOD, OPEN) if switch.normally == "closed" else (OPEN, GOOD)
    if senses(switch):
        do = f"From {at} to {to}: its plug pulled, then bridged at the plug."
        return Step(BEFORE, switch.name, do, "ohms", f"pulled {OPEN}; bridged {GOOD}", NOT_SWITCHED, way.name)
    do = f"From {at} to {to}: at rest, then operated."
    return Step(BEFORE, switch.name, do, "ohms", f"at rest {rest}; operated {worked}", NOT_SWITCHED, way.name)


def _own_switch(load: Load) -> Step:
    """Return the contact of a load's own switch; a fan's is mostly a thermostat, which is bridged."""
    name = f"own switch of {load.name}"
    if load.part == FAN.name:
        do = f"From one side of {name} to the other: its plug pulled, then bridged at the plug."
        return Step(BEFORE, name, do, "ohms", f"pulled {OPEN}; bridged {GOOD}", NOT_SWITCHED)
    do = f"From one side of {name} to the other: at rest, then operated."
    return Step(BEFORE, name, do, "ohms", f"at rest {OPEN}; operated {GOOD}", NOT_SWITCHED)


# --- shorts


def _shorts(laid: Laid) -> Iterator[Step]:
    live = [switch.name for switch in laid.site.job.wired_inputs if switch.signal == "supply"]
    fed = [one.consumer.name for one in laid.site.job.loads.fed]
    beside = [f"the feed side of {listed(fed)}"] if fed else []
    beside += [f"the live side of {listed(live)}"] if live else []
    closed = [switch.name for switch in laid.site.job.wired_inputs if switch.normally == "closed"]
    opened = f", {listed(closed)} operated" if closed else ""
    outputs, inputs = "each output's way", "each input's way"
    for title, do in (
        ("Shorts to earth", f"From {listed([outputs, *beside])} to {NEGATIVE}, one after the other."),
        ("Shorts to the supply", f"From {outputs} and {inputs} to the unit's supply way, one after the other."),
        ("Shorts between outputs", f"From {outputs} to each of the others."),
        ("Shorts between inputs", f"All switches open{opened}: from {inputs} to each of the others."),
        ("Short of the feed", f"From the unit's supply way to {NEGATIVE}."),
    ):
        yield Step(BEFORE, title, do, "ohms", OPEN, "a chafed wire, a swapped way: no power before it is found")

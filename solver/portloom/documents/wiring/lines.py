"""What is cut for each circuit of a plan, before it is cut: where it starts, what it ends at, its size.

Source: terminals of relays 30 (from the battery), 87 (to the load), 85 and 86 (the coil): DIN 72552, from memory.
"""

from collections.abc import Iterable, Iterator
from dataclasses import replace
from functools import partial
from typing import cast

from portloom.base.bike import Switch
from portloom.base.built import BuiltEnd
from portloom.base.figures import amperes
from portloom.base.fuses import fuse_for
from portloom.base.quantities import MilliAmps
from portloom.base.sizes import WireSize
from portloom.base.unit import Port
from portloom.base.values import dataclass
from portloom.documents.wiring.cutting import RunEnd
from portloom.documents.wiring.dashes import (
    DIODE,
    dash_ends,
    diode_at_unit,
    leaves_unit,
    load_shown,
    switch_shown,
)
from portloom.documents.wiring.wire import CutWireKind, EndKind, WireEnd
from portloom.job.circuits import InputCircuit
from portloom.job.consumers import Consumer
from portloom.job.fixed import conductor_of, fed_load
from portloom.job.fixed_wires import FixedWire
from portloom.job.job import Job
from portloom.job.laid import Laid, WiredInput, WiredMultiplexer
from portloom.job.network import NOWHERE, Run
from portloom.job.site import Site
from portloom.job.standing import Meets, items_of, told_of
from portloom.job.wired import WiredOutput


def battery(point: str) -> WireEnd:
    """Return the battery's positive pole."""
    return WireEnd("battery", "battery", point, "+")


def unit_end(name: str, point: str) -> WireEnd:
    """Return a port of the unit, its supply or its earth, at the frame point that the port's face meets."""
    return WireEnd("unit", name, point)


def load_end(name: str, point: str, terminal: str, diode: str = "") -> WireEnd:
    """Return a load's '+' or '-'."""
    return WireEnd("load", name, point, terminal, diode)


def own_switch_end(load: str, point: str, terminal: str) -> WireEnd:
    """Return 'in', 'out' or 'earth' of a load's own switch, which never touches the unit."""
    return WireEnd("own switch", f"own switch of {load}", point, terminal)


def switch_end(name: str, point: str, terminal: str) -> WireEnd:
    """Return a switch's 'signal', 'earth' or 'live' at one of its points."""
    return WireEnd("switch", name, point, terminal)


def fuse_end(name: str, point: str) -> WireEnd:
    """Return a fuse of its own."""
    return WireEnd("fuse", name, point)


def earth_end(point: str) -> WireEnd:
    """Return an earth point of the frame."""
    return WireEnd("earth", f"earth at {point}", point)


def negative_pole(point: str) -> WireEnd:
    """Return the battery's negative pole, where the unit's own earth ends."""
    return WireEnd("earth", "the battery's negative pole", point)


def coil_fuse(relay: str) -> str:
    """Return what the fuse is called of a relay's coil that no output feeds."""
    return f"fuse of {relay}'s coil"


def relay_name(load: str) -> str:
    """Return what the relay of a load is called."""
    return f"{load} relay"


def own_switched(job: Job) -> frozenset[str]:
    """Return the loads that a switch of their own works, which never touches the unit."""
    return frozenset(load.name for load in job.bike.loads if load.own_switch)


def coils_of(job: Job) -> tuple[Consumer, ...]:
    """Return the loads that have no earth of their own: what switches them takes their other end."""
    loads = (*job.loads.on_unit, *job.loads.guests, *(fed.consumer for fed in job.loads.fed))
    return tuple(load for load in loads if load.switched_by is not None)


def coils(job: Job) -> tuple[str, ...]:
    """Return the relays whose coils are loads of the plan; a relay that a switch of its own works brings none."""
    own = own_switched(job)
    fed = [one.consumer.name for one in job.loads.fed if one.by == "relay"]
    return tuple(relay_name(name) for name in fed if name not in own)


UNIT_INPUT = "none: a few milliamperes into an input"
UNIT_SUPPLY = "none: the unit's own supply for what it reads"
DASH_INPUT = "none: what a dash reads"
DASH_SUPPLY = "none: the dash's own supply for what it reads"
AT_BATTERY = "none: 178 mm at most, made up"
"""From the battery to a fuse nothing protects the wire. Source: 33 CFR 183.455(b)."""


@dataclass(frozen=True)
class Line:
    """A circuit's wire, or a part of it up to a fuse or relay, to be cut where it forks."""

    circuit: str
    kind: CutWireKind
    source: WireEnd
    tips: tuple[RunEnd, ...]
    run: Run
    size: WireSize
    protection: str
    port: str = ""


def lines(laid: Laid) -> Iterator[Line]:
    """Return every circuit that leads from the battery or the unit, in the order of the list."""
    for wire in laid.site.fixed_of("feed"):
        yield from feed_lines(laid.site, wire)
    for wired in laid.outputs:
        yield from output_lines(wired)
    for wire in laid.site.fixed_of("fed load"):
        yield from fed_lines(laid, wire)
    for wire in laid.site.fixed_of("coil lead"):
        yield from coil_lines(laid, wire)
    for told in laid.inputs:
        yield input_line(laid, told)
    for box in laid.multiplexers:
        yield from multiplexer_lines(laid, box)
    for wire in laid.site.fixed_of("supply"):
        yield from supply_lines(laid, wire)
    for switch in laid.site.job.dash_inputs:
        yield from _to_dash(laid, switch, laid.site.job.reels[0].size)


def of_trip(wired: WiredOutput) -> str:
    """Return the trip of an output as what protects its wires."""
    return f"trip {amperes(wired.trip)}"


def of_fuse(rating: MilliAmps | None) -> str:
    """Return a fuse as what protects a wire; none where no step is large enough."""
    if rating is None:
        return "none: no fuse is large enough"
    return f"fuse {amperes(rating)}"


def feed_lines(site: Site, wire: FixedWire) -> Iterator[Line]:
    """Return a unit's feed: the short wire to the main fuse, and the one on from it."""
    unit = site.owner(wire)
    size, worst = conductor_of(site, wire).size, unit.job.worst
    at, face = wire.ends
    fuse = fuse_end("main fuse", at)
    yield Line("feed", "feed", battery(at), (RunEnd(fuse, worst),), NOWHERE, size, AT_BATTERY)
    supply = unit_end("supply", face)
    yield Line("feed", "feed", fuse, (RunEnd(supply, worst),), wire.run, size, of_fuse(unit.main_fuse))


def output_lines(wired: WiredOutput) -> Iterator[Line]:
    """Return the wire of an output to all that is on it, and on from each load's own switch to that load.

    What a dash shows is taken before the switch.
    """
    root, wires = wired.site.face(wired.output.face), wired.tree.wires
    stubs, first = _stubs_of(wired.site.job, "output", wired.output.name, items_of(wired.circuit), wires.first, root)
    line = partial(Line, size=wired.drawn.size, protection=of_trip(wired), port=wired.output.name)
    onward, tips = [], []
    for load in wired.circuit.loads:
        end = RunEnd(_fed_end(wired, load), load.current)
        if load.own_switch is not None:
            before, after = (own_switch_end(load.name, load.own_switch, terminal) for terminal in ("in", "out"))
            onward.append((after, (end,), wires.onward_to(load)))
            end = RunEnd(before, load.current)
        tips += [end, *load_shown(load)]
    tips += stubs if wired.stays else ()
    run = first if wired.stays else wires.first
    yield line(wired.output.name, "output", unit_end(wired.output.name, root), tuple(tips), run)
    for source, ends, beyond in onward:
        yield line(wired.output.name, "output", source, ends, beyond)


def _stubs_of(
    job: Job, kind: CutWireKind, port: str, items: Iterable[Meets], run: Run, root: str
) -> tuple[tuple[RunEnd, ...], Run]:
    """Return where a built circuit ends at what is gone, and its run with what leads there."""
    pieces = () if job.built is None else job.built.pieces(kind, port)
    if job.built is None or not (stubs := job.built.stubs(pieces, items)):
        return (), run
    return tuple(RunEnd(stub_end(end)) for end in stubs), job.built.stub_run(pieces, root, stubs, run)


def stub_end(end: BuiltEnd) -> WireEnd:
    """Return the end of a built wire at what is gone."""
    return WireEnd(cast("EndKind", end.kind), end.name, end.point, end.terminal, stub=True)


def _fed_end(wired: WiredOutput, load: Consumer) -> WireEnd:
    if load.name in coils(wired.site.job):
        return WireEnd("relay", load.name, load.at or "", "86")
    return load_end(load.name, load.at or "", "+", diode=DIODE if len(load.feeders) > 1 else "")


def fed_lines(laid: Laid, wire: FixedWire) -> Iterator[Line]:
    """Return the short wires to fuse and relay at the battery, and the long one to the load, by way of its switch."""
    fed, size = fed_load(laid.site, wire), conductor_of(laid.site, wire).size
    name, current, at = fed.consumer.name, fed.consumer.current, wire.ends[0]
    circuit, protection = f"feed of {name}", of_fuse(fuse_for(current))
    start, end = fuse_end(f"fuse of {name}", at), load_end(name, fed.consumer.at or "", "+")
    yield Line(circuit, "fed load", battery(at), (RunEnd(start, current),), NOWHERE, size, AT_BATTERY)
    if fed.by == "relay":
        contact = WireEnd("relay", relay_name(name), at, "30")
        yield Line(circuit, "fed load", start, (RunEnd(contact, current),), NOWHERE, size, protection)
        start = WireEnd("relay", relay_name(name), at, "87")
    *before, last = wire.stretches
    for stretch in before:
        inward, outward = (own_switch_end(name, stretch.ends[1], terminal) for terminal in ("in", "out"))
        yield Line(circuit, "fed load", start, (RunEnd(inward, current),), stretch.run, size, protection)
        start = outward
    tips = (RunEnd(end, current), *load_shown(fed.consumer))
    yield Line(circuit, "fed load", start, tips, last.run, size, protection)


def coil_lines(laid: Laid, wire: FixedWire) -> Iterator[Line]:
    """Return the wires of a relay's coil that a load's own switch earths: through a small fuse, on to the switch."""
    size, current = conductor_of(laid.site, wire).size, MilliAmps(laid.site.job.assume["relay coil current"])
    (at, switch), relay = wire.ends, relay_name(wire.name)
    line = partial(Line, f"coil of {relay}", "coil lead", size=size)
    protection = of_fuse(MilliAmps(laid.site.job.assume["supply switch fuse"]))
    fuse, plus, minus = (
        fuse_end(coil_fuse(relay), at),
        WireEnd("relay", relay, at, "86"),
        WireEnd("relay", relay, at, "85"),
    )
    tip = own_switch_end(wire.name, switch, "in")
    yield line(source=battery(at), tips=(RunEnd(fuse, current),), run=NOWHERE, protection=AT_BATTERY)
    yield line(source=fuse, tips=(RunEnd(plus, current),), run=NOWHERE, protection=protection)
    yield line(source=minus, tips=(RunEnd(tip, current),), run=wire.run, protection=protection)


def input_line(laid: Laid, told: WiredInput) -> Line:
    """Return the wire of an input, to all its switches and what shows them."""
    source = _read_at(laid, told.circuit, unit_end(told.port.name, told.site.face(told.port.face)), told.port)
    tips = tuple(tip for switch in told.circuit.switches for tip in _signals(laid.site.job, switch))
    thinnest, run = laid.site.job.reels[0].size, told.run
    if told.old is not None:
        stubs, run = _stubs_of(laid.site.job, "input", told.port.name, told_of(told.circuit), run, source.point)
        tips = (*tips, *stubs)
    return Line(told.port.name, "input", source, tips, run, thinnest, UNIT_INPUT, told.port.name)


def _signals(job: Job, switch: Switch) -> Iterator[RunEnd]:
    yield from (RunEnd(switch_end(switch.name, point, "signal")) for point in switch.at)
    yield from switch_shown(job, switch)


def _read_at(laid: Laid, circuit: InputCircuit, end: WireEnd, port: Port | None) -> WireEnd:
    """Return the end at which switches are read, with the diode that it needs where a dash shows one of them."""
    if not diode_at_unit(laid.site.job, circuit, port):
        return end
    return replace(end, diode=DIODE, leaves=leaves_unit(circuit))


def multiplexer_lines(laid: Laid, box: WiredMultiplexer) -> Iterator[Line]:
    """Return a multiplexer's data and supply, then the wire of each of its ways."""
    size = laid.site.job.reels[0].size
    name, at, port = box.stand.multiplexer.name, box.stand.at, box.port.name
    face, supply = laid.site.face(box.port.face), f"supply of {name}"
    data, plus = (RunEnd(WireEnd("multiplexer", name, at, terminal)) for terminal in ("data", "+"))
    yield Line(port, "multiplexer data", unit_end(port, face), (data,), box.run, size, UNIT_INPUT, port)
    yield Line(supply, "multiplexer supply", unit_end(supply, face), (plus,), box.run, size, UNIT_SUPPLY, port)
    for way, wired in laid.ways_of(box):
        source = _read_at(laid, wired.circuit, WireEnd("multiplexer", name, at, f"way {way}"), None)
        circuit, tips = f"{name} way {way}", tuple(_signals(laid.site.job, wired.switch))
        yield Line(circuit, "multiplexer way", source, tips, wired.run, size, UNIT_INPUT)


def supply_lines(laid: Laid, wire: FixedWire) -> Iterator[Line]:
    """Return the live side of the switches that put supply on their wires, through one fuse."""
    size, at = conductor_of(laid.site, wire).size, wire.ends[0]
    rating = MilliAmps(laid.site.job.assume["supply switch fuse"])
    fuse = fuse_end(f"fuse of the {wire.name}", at)
    yield Line(wire.name, "supply", battery(at), (RunEnd(fuse),), NOWHERE, size, AT_BATTERY)
    live = tuple(
        RunEnd(switch_end(switch.name, point, "live"))
        for switch in laid.site.job.wired_inputs
        if switch.signal == "supply"
        for point in switch.at
    )
    yield Line(wire.name, "supply", fuse, live, wire.run, size, of_fuse(rating))


def _to_dash(laid: Laid, switch: Switch, size: WireSize) -> Iterator[Line]:
    """Return the wires of what only dashes read, from the first of them: signal, third wire, way back."""
    job, name = laid.site.job, switch.name
    first, *others = dash_ends(job, switch)
    wires = {wire.kind: wire.run for wire in laid.site.fixed_wires if wire.name == name}
    signal = (RunEnd(switch_end(name, point, "signal")) for point in switch.at)
    tips = (*signal, *(RunEnd(end) for end in others))
    yield Line(f"signal of {name}", "dash signal", first, tips, wires["dash signal"], size, DASH_INPUT)
    plain = replace(first, diode="")
    if switch.fed_by_dash:
        tip = RunEnd(switch_end(name, switch.at[0], "+"))
        source = replace(plain, terminal=f"+ for {name}")
        yield Line(f"supply of {name}", "dash supply", source, (tip,), wires["dash supply"], size, DASH_SUPPLY)
    if switch.returns_to_dash:
        tip = RunEnd(switch_end(name, switch.at[0], "-"))
        source = replace(plain, terminal=f"- for {name}")
        yield Line(f"return of {name}", "dash return", source, (tip,), wires["dash return"], size, DASH_INPUT)

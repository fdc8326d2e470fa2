"""The parts of circuits and wires: fuses, relays, terminals, splices, connectors."""

from collections.abc import Iterable, Iterator, Mapping
from decimal import Decimal
from typing import Literal

from portloom.base.assumptions import PRACTICE
from portloom.base.copper import class_for
from portloom.base.figures import amperes, counted, listed
from portloom.base.fuses import fuse_for
from portloom.base.quantities import MilliAmps
from portloom.base.values import dataclass
from portloom.base.vocabulary import COIL, INDUCTIVE
from portloom.documents.parts import regulator_fuse
from portloom.documents.wiring.cut_list import ReelCuts, letters
from portloom.documents.wiring.lines import coil_fuse, coils, relay_name
from portloom.documents.wiring.wire import Wire, WireEnd, Wiring
from portloom.job.consumers import Consumer, FedLoad
from portloom.job.laid import Laid

PartsGroup = Literal[
    "units", "wire", "terminals", "seals and blanks", "plugs of devices", "connectors", "splices",
    "blocks", "heat-shrink", "sleeve", "ties", "grommets", "fuses", "relays", "diodes", "suppressors",
    "battery leads and straps",
]  # fmt: skip
BASIS: dict[PartsGroup, str] = {
    "wire": "insulation for what the plan reckons with, or more. Classes of road-vehicle wire (ISO 6722, from memory): "
    "A 85 C, B 100 C, C 125 C. A lower class carries less: for class B write 'assume: {insulation: 90 C}' and plan "
    "again, for class A '75 C'. Thin wall: looms are reckoned with its diameters",
    "terminals": "no width is guessed: where no file says what a plug takes, look at the plug. By the wire that they "
    "are crimped on; those of connectors are for both halves",
    "seals and blanks": "by the wire's outside; only for plugs that are sealed wire by wire",
    "plugs of devices": "what each asks for by the wires that it takes; a sound plug of the device's own may stay",
    "connectors": "housings with their ways; several smaller ones that can't be mixed up will also do",
    "splices": "sized by the total area that they join; glued heat-shrink over each",
    "blocks": f"where more is joined than a hand can crimp, all ways joined: {PRACTICE}",
    "heat-shrink": "glued, shrinks to a third, 50 mm each; the width slips over all the wires of the joint side by "
    f"side: {PRACTICE}",
    "sleeve": "as long as the leg, its share of the bike's margin, and the slack of one that moves",
    "ties": f"around looms and to the frame: {PRACTICE}",
    "fuses": "type C up to 40 A, type E above (from memory)",
    "relays": f"a diode or resistor across the coil inside each: {PRACTICE}",
    "diodes": f"current may pass to the load or to the switch, never back from circuit to circuit; 200 V: {PRACTICE}",
    "suppressors": "a diode has its ring towards '+'; across an ignition coil never a plain diode, which costs the "
    f"spark, but what is made for it: {PRACTICE}",
    "battery leads and straps": "by what is lost while cranking at 85 C; 160 C at most after 10 s (IEC 60949); what "
    f"may be lost: {PRACTICE}. Never through the unit or the main fuse",
}
"""What the lines of a group rest on."""


@dataclass(frozen=True)
class PartsLine:
    """Something to have at hand: what, how large, how much of it, where it goes."""

    group: PartsGroup
    what: str
    size: str
    quantity: Decimal
    measure: Literal["pieces", "m"]
    where: str
    note: str = ""
    spare: Decimal = Decimal(0)
    """To be bought beyond what is needed."""


def pieces(group: PartsGroup, what: str, size: str, count: int, where: str, note: str = "") -> PartsLine:
    """Return a part of which there are so many."""
    return PartsLine(group, what, size, Decimal(count), "pieces", where, note)


LARGEST_MEDIUM = MilliAmps(40_000)


def unit_parts(laid: Laid) -> Iterator[PartsLine]:
    """Return the unit and the multiplexers in use."""
    unit = laid.site.job.unit
    yield pieces("units", f"control unit {unit.unit}", unit.size or "", 1, laid.site.label)
    for box in laid.multiplexers:
        ways = counted(box.stand.multiplexer.ways, "way")
        yield pieces("units", f"multiplexer {box.stand.multiplexer.name}", ways, 1, box.stand.at)


def fuse_parts(laid: Laid) -> Iterator[PartsLine]:
    """Return every fuse with its holder: main fuse, fed loads, supply to switches, regulator.

    Source: ISO 8820-3, type C up to 40 A and type E above (from memory).
    """
    job = laid.site.job
    at = job.bike.supply.battery.at
    if laid.site.main_fuse is not None:
        yield _fuse("main fuse", laid.site.main_fuse, at, "within 178 mm of the battery (33 CFR 183.455)")
    for fed in job.loads.fed:
        rating = fuse_for(fed.consumer.current)
        if rating is not None:
            yield _fuse(f"fuse of {fed.consumer.name}", rating, at, "at the battery")
    small = MilliAmps(job.assume["supply switch fuse"])
    for wire in laid.site.fixed_of("coil lead"):
        yield _fuse(coil_fuse(relay_name(wire.name)), small, at, "at the battery")
    for wire in laid.site.fixed_of("supply"):
        yield _fuse(f"fuse of the {wire.name}", small, at, "at the battery")
    regulator = regulator_fuse(job)
    if regulator is not None:
        yield _fuse("fuse of the regulator's lead", regulator, at, "the lead goes to the battery, never to the unit")


def _fuse(what: str, rating: MilliAmps, at: str, note: str) -> PartsLine:
    kind = "C" if rating <= LARGEST_MEDIUM else "E"
    return pieces("fuses", f"{what} and its holder", f"{amperes(rating)}, ISO 8820-3 type {kind}", 1, at, note)


def relay_parts(laid: Laid) -> Iterator[PartsLine]:
    """Return the relay of each load that has one."""
    job = laid.site.job
    for fed in (one for one in job.loads.fed if one.by == "relay"):
        rating = fuse_for(fed.consumer.current) or fed.consumer.current
        what, at = f"{relay_name(fed.consumer.name)} and its socket", job.bike.supply.battery.at
        size = f"12 V coil, closing contact for {amperes(rating)} or more"
        note = _coil(laid, fed)
        yield pieces("relays", what, size, 1, at, note)


def _coil(laid: Laid, fed: FedLoad) -> str:
    name = relay_name(fed.consumer.name)
    if name not in coils(laid.site.job):
        return f"coil on {fed.consumer.name}'s own switch"
    return f"coil on {listed(laid.ports_of(name))}"


LAMP_CURRENT = MilliAmps(1000)
"""What a diode of a dash's lamp carries at least. Source: common practice, no source."""


def diode_parts(laid: Laid, wiring: Wiring) -> Iterator[PartsLine]:
    """Return each diode with its direction: of a load that others feed, of what a dash shows, of a unit's input."""
    currents = {load.name: load.current for load in laid.site.job.loads.guests}
    for wire in wiring.wires:
        for end in (end for end in wire.ends if end.diode):
            towards = f"ring towards the wire, away from {end.name}" if end.leaves else f"ring towards {end.name}"
            size = f"for {amperes(_through(end, currents))} or more, 200 V or more"
            yield pieces("diodes", f"diode {end.diode}, {towards}", size, 1, end.point, _where(wire, end))


def _through(end: WireEnd, currents: Mapping[str, MilliAmps]) -> MilliAmps:
    return currents[end.name] if end.kind == "load" else LAMP_CURRENT


def _where(wire: Wire, end: WireEnd) -> str:
    """Say between what a diode is."""
    if wire.kind in ("output", "fed load"):
        return f"from {wire.port or wire.circuit} to {end.name}"
    return f"at {end.name}, on the wire of {wire.circuit}"


def suppressor_parts(laid: Laid) -> Iterator[PartsLine]:
    """Return a suppressor for each load that the file says has one, and for coils and motors off the unit."""
    loads = laid.site.job.loads
    for load in (*loads.on_unit, *loads.guests):
        if load.suppressed:
            yield _suppressor(load, "the plan rests on it")
    for fed in loads.fed:
        if fed.consumer.kind in INDUCTIVE:
            yield _suppressor(fed.consumer, "protects the contact and the switch")


def _suppressor(load: Consumer, why: str) -> PartsLine:
    kind = "for ignition coils" if load.kind == COIL else f"for {amperes(load.current)} or more"
    return pieces("suppressors", f"suppressor across {load.name}", kind, 1, load.at or "", why)


def wire_parts(laid: Laid, reels: Iterable[ReelCuts]) -> Iterator[PartsLine]:
    """Return the wire by size and colour, as cut, and the insulation that the plan reckons with."""
    job = laid.site.job
    insulation = job.insulation // 1000
    tinned = ", tinned" if job.assume.text("copper") == "tinned" else ""
    what = f"wire, {insulation} C (class {class_for(insulation)}){tinned}"
    for reel in reels:
        colour = "/".join(filter(None, letters(reel.colour)))
        note = f"{counted(len(reel.pieces), 'piece')}, as cut"
        yield PartsLine("wire", what, reel.size.label, Decimal(reel.cut) / 1_000_000, "m", colour, note)

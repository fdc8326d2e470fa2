"""The parts of circuits and wires: fuses, relays, terminals, splices, connectors."""

from collections import Counter
from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass
from decimal import Decimal
from typing import Literal

from portloom.base.ampacity import RELAY_TAB, tab_size_for
from portloom.base.assumptions import PRACTICE
from portloom.base.figures import amperes, counted, listed, millimetres, plain
from portloom.base.fuses import fuse_for
from portloom.base.quantities import MilliAmps
from portloom.base.sizes import WireSize
from portloom.base.vocabulary import COIL, INDUCTIVE
from portloom.documents.parts import regulator_fuse
from portloom.documents.wiring.cut_list import ReelCuts, letters
from portloom.documents.wiring.lines import coil_fuse, coils, relay_name
from portloom.documents.wiring.wire import Wire, WireEnd, Wiring
from portloom.job.consumers import Consumer, FedLoad
from portloom.job.laid import Laid

PartsGroup = Literal[
    "units", "wire", "terminals", "splices", "connectors", "sleeve", "grommets", "fuses", "relays", "diodes",
    "suppressors", "earth straps",
]  # fmt: skip
BASIS: dict[PartsGroup, str] = {
    "terminals": "widths of tabs are those of ISO 8092-1 and IEC 61210 (from memory); which width for which wire and "
    f"current: {PRACTICE}",
    "splices": "sized by the total area that they join; glued heat-shrink over each",
    "connectors": "sealed, both halves; several smaller ones that can't be mixed up will also do",
    "sleeve": "as long as the leg and its share of the bike's margin",
    "fuses": "type C up to 40 A, type E above (from memory)",
    "relays": f"a diode or resistor across the coil inside each: {PRACTICE}",
    "diodes": f"current may pass to the load or to the switch, never back from circuit to circuit; 200 V: {PRACTICE}",
    "suppressors": "a diode has its ring towards '+'; across an ignition coil never a plain diode, which costs the "
    f"spark, but what is made for it: {PRACTICE}",
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


def strap_parts() -> Iterator[PartsLine]:
    """Return the earth straps, which no plan may leave out."""
    size = "as thick as the battery's own lead"
    yield pieces("earth straps", "earth strap", size, 1, "engine to frame", "never leave it out")
    yield pieces("earth straps", "earth strap", size, 1, "frame to the battery's negative pole", "never leave it out")


BY_MAKER = "as the maker of the unit says"


def wire_parts(reels: Iterable[ReelCuts]) -> Iterator[PartsLine]:
    """Return the wire by size and colour, as cut."""
    for reel in reels:
        colour = "/".join(filter(None, letters(reel.colour)))
        wires = counted(len(reel.pieces), "piece")
        yield PartsLine("wire", "wire", reel.size.label, Decimal(reel.cut) / 1_000_000, "m", colour, f"{wires}, as cut")


def terminal_parts(laid: Laid, wiring: Wiring) -> Iterator[PartsLine]:
    """Return the terminals by what they are and the wire that they are crimped on."""
    tails = {load.name: load.leads for load in laid.site.job.bike.loads if load.leads is not None}
    found: Counter[tuple[str, WireSize, str, str]] = Counter()
    for wire in wiring.wires:
        for what, size, where, note in _terminals(wire, tails):
            found[what, size, where, note] += 1
    for (what, size, where, note), count in sorted(found.items(), key=lambda item: (item[0][0], item[0][1])):
        yield pieces("terminals", what, f"for {size.label}", count, where, note)


def _terminals(wire: Wire, tails: dict[str, WireSize]) -> Iterator[tuple[str, WireSize, str, str]]:
    """Return each terminal of a wire: what, the wire that it is on, where it goes, a note."""
    if wire.size is None:
        return
    for end in wire.ends:
        yield from _at(end, wire.size, wire.current, tails)
    for _ in wire.connectors:
        yield _flat("tab", wire.size, wire.current, "connectors")
        yield _flat("receptacle", wire.size, wire.current, "connectors")


def _at(
    end: WireEnd, size: WireSize, current: MilliAmps, tails: dict[str, WireSize]
) -> Iterator[tuple[str, WireSize, str, str]]:
    match end.kind:
        case "unit":
            yield "terminal of the unit's connector", size, "unit", BY_MAKER
        case "battery" | "earth":
            yield "ring terminal, hole to suit the bolt", size, f"{end.kind}", ""
        case "fuse":
            yield "terminal of the fuse's holder", size, "fuses", "as the holder says"
        case "relay":
            yield _flat("receptacle", size, max(current, MilliAmps(RELAY_TAB.most)), "relays")
        case "load" | "switch" | "own switch" | "dash" | "multiplexer":
            yield _flat("receptacle", size, current, "loads, switches and multiplexers")
            if end.kind == "load" and end.name in tails:
                yield _flat("tab", tails[end.name], current, "tails of loads")
        case _:
            return


def _flat(what: str, size: WireSize, current: MilliAmps, where: str) -> tuple[str, WireSize, str, str]:
    blade = tab_size_for(size, current)
    if blade is None:
        return "ring terminal, bolted", size, where, "too thick or too much for a tab"
    return f"{what} {millimetres(blade.width)}", size, where, ""


def splice_parts(wiring: Wiring) -> Iterator[PartsLine]:
    """Return the splices by the sum of the areas that they join."""
    found: dict[int, list[str]] = {}
    for splice in wiring.splices:
        found.setdefault(splice.area, []).append(splice.name)
    for area, names in sorted(found.items()):
        size = f"{plain(Decimal(area) / 10_000)} mm2 in all"
        yield pieces("splices", "crimped splice", size, len(names), listed(names))


def connector_parts(wiring: Wiring) -> Iterator[PartsLine]:
    """Return a connector for each point where the loom is parted, with its ways and the most that one carries."""
    for connector in wiring.connectors:
        wires = [wiring.by_key[key] for key in connector.wires]
        most = max(wire.current for wire in wires)
        size = f"{counted(len(wires), 'way')}, {amperes(most)} at most"
        yield pieces("connectors", "connector", size, 1, connector.at)

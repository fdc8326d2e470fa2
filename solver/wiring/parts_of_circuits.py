"""Parts that are neither wire nor loom: unit, multiplexers, fuses, relays, diodes, suppressors, earth straps."""

from collections.abc import Iterator

from solver.electrics.fuses import fuse_for
from solver.job.consumers import Consumer, FedLoad
from solver.job.laid import Laid
from solver.plans.parts import regulator_fuse
from solver.wiring.ends import coils, relay_name
from solver.wiring.part import Part, pieces
from solver.wiring.wire import Wiring
from solver.words.figures import amperes, counted, listed
from solver.words.quantities import MilliAmps

LARGEST_MEDIUM = MilliAmps(40_000)
KICKS_BACK = ("motor", "horn", "ignition coil", "relay coil")


def unit_parts(laid: Laid) -> Iterator[Part]:
    """Return the unit and the multiplexers in use."""
    unit = laid.site.job.unit
    yield pieces("units", f"control unit {unit.unit}", unit.size or "", 1, laid.site.label)
    for box in laid.multiplexers:
        ways = counted(box.stand.multiplexer.ways, "way")
        yield pieces("units", f"multiplexer {box.stand.multiplexer.name}", ways, 1, box.stand.at)


def fuse_parts(laid: Laid) -> Iterator[Part]:
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
    for way in laid.site.ways_of("supply"):
        yield _fuse(f"fuse of the {way.name}", MilliAmps(job.assume["supply switch fuse"]), at, "at the battery")
    regulator = regulator_fuse(job)
    if regulator is not None:
        yield _fuse("fuse of the regulator's lead", regulator, at, "the lead joins the battery, never the unit")


def _fuse(what: str, rating: MilliAmps, at: str, note: str) -> Part:
    kind = "C" if rating <= LARGEST_MEDIUM else "E"
    return pieces("fuses", f"{what} and its holder", f"{amperes(rating)}, ISO 8820-3 type {kind}", 1, at, note)


def relay_parts(laid: Laid) -> Iterator[Part]:
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
        return "coil on a switch of its own, whose wires are not in these lists"
    return f"coil on {listed(laid.ports_of(name))}"


def diode_parts(laid: Laid, wiring: Wiring) -> Iterator[Part]:
    """Return the diode of each load that others feed, one from each of their circuits, with its direction."""
    currents = {load.name: load.current for load in laid.site.job.loads.guests}
    for wire in wiring.wires:
        if wire.end.diode:
            what = f"diode {wire.end.diode}, ring towards {wire.end.name}"
            size = f"for {amperes(currents[wire.end.name])} or more, 200 V or more"
            yield pieces("diodes", what, size, 1, wire.end.point, f"from {wire.port} to {wire.end.name}")


def suppressor_parts(laid: Laid) -> Iterator[Part]:
    """Return a suppressor for each load that the file says has one, and for coils and motors off the unit."""
    loads = laid.site.job.loads
    for load in (*loads.on_unit, *loads.guests):
        if load.suppressed:
            yield _suppressor(load, "the plan rests on it")
    for fed in loads.fed:
        if fed.consumer.kind in KICKS_BACK:
            yield _suppressor(fed.consumer, "spares contact and switch")


def _suppressor(load: Consumer, why: str) -> Part:
    kind = "for ignition coils" if load.kind == "ignition coil" else f"for {amperes(load.current)} or more"
    return pieces("suppressors", f"suppressor across {load.name}", kind, 1, load.at or "", why)


def strap_parts() -> Iterator[Part]:
    """Return the earth straps, which no plan may leave out."""
    size = "as thick as the battery's own lead"
    yield pieces("earth straps", "earth strap", size, 1, "engine to frame", "never leave it out")
    yield pieces("earth straps", "earth strap", size, 1, "frame to the battery's negative pole", "never leave it out")

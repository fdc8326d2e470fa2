"""What a plan took as given, what it did not judge, and the usual cautions."""

from collections.abc import Iterable, Iterator, Sequence
from decimal import Decimal

from pydantic import BaseModel

from portloom.base.assumptions import PRACTICE, TABLE, Default
from portloom.base.bike import Bike, LaterLoad
from portloom.base.copper import CLASSES, THINNEST_IN_TABLE, class_for
from portloom.base.current import inrush_kind
from portloom.base.figures import millimetres, plain
from portloom.base.fuses import SMALL_FUSE, fuse_for
from portloom.base.lamps import LAMPS
from portloom.base.margin import SAID
from portloom.base.quantities import Micrometres
from portloom.base.unit import Unit
from portloom.documents.by_part import by_part, without_part
from portloom.job.consumers import Consumer
from portloom.job.goal import TERMS
from portloom.job.job import Job
from portloom.job.laid import Laid
from portloom.rules.fuse_size import largest_fuse_said


def assumed(laid: Laid) -> tuple[str, ...]:
    """Return a line for each default that decided something in a plan, on whichever unit."""
    return tuple(dict.fromkeys(line for unit in laid.site.units for line in _assumed(laid.of(unit))))


def _assumed(laid: Laid) -> Iterator[str]:
    """Tell of the defaults of a plan of one unit, usual inrushes and drops together."""
    job = laid.site.job
    yield from by_part(job)
    inrushes = [f"{kind} {_said(job, f'{kind} inrush')}" for kind in _usual_kinds(job)]
    times = [f"{kind} {_said(job, f'{kind} inrush time')}" for kind in _usual_kinds(job)]
    drops = [_drop_said(job, kind) for kind in _usual_drops(job)]
    yield from _together("inrush, in multiples of the steady current", inrushes, PRACTICE)
    yield from _together("inrush duration", times, PRACTICE)
    yield from _together("voltage drop over the whole path, at most", drops, f"{PRACTICE}; other loads as in ABYC E-11")
    yield from (f"{default.name} {_said(job, default.name)} ({default.source})" for default in _single(laid))
    yield from _largest_fuse(job.unit)
    yield from _wires(job)
    yield from _weights(job)


def _said(job: Job, name: str) -> str:
    changed = " (set in the bike file)" if name in job.assume.changed else ""
    return f"{job.assume.text(name)}{changed}"


def _drop_said(job: Job, kind: str) -> str:
    at_most = f" or {_said(job, 'headlamp at most')}, whichever is less" if kind == "headlamp" else ""
    return f"{kind} {_said(job, f'{kind} drop')}{at_most}"


def _together(what: str, values: Sequence[str], source: str) -> Iterator[str]:
    if values:
        yield f"{what}: {', '.join(values)} ({source})"


def _single(laid: Laid) -> Iterator[Default]:
    used = set(_used(laid))
    return (default for default in TABLE if default.name in used)


def _used(laid: Laid) -> Iterator[str]:
    job = laid.site.job
    yield from ("main fuse drop", "earth point", "feed drop", "return drop", "battery resistance")
    yield from _in_series(laid)
    yield from _of_wires(laid)
    yield from ("self-discharge", "flash duty", "braking duty", "indicating duty", "fan duty")  # energy
    if any(not output.trip_curve for output in job.unit.outputs):
        yield "trip time"
    if any(case.on for case in job.cranking) and job.bike.supply.cranking is None:
        yield "cranking voltage"
    if any(switch.earthed_by_wire for switch in job.wired_inputs):
        yield "switch earth lift"
    if any(load.pull_in is not None and load.inrush is None for load in job.bike.loads):
        yield "pull-in time"
    if any(fed.by == "relay" for fed in job.loads.fed):
        yield "relay coil current"
    if any(box.stand.multiplexer.standby is None for box in laid.multiplexers):
        yield "multiplexer standby"


def _of_wires(laid: Laid) -> Iterator[str]:
    """Return what looms, returns and the supply side of switches rest on."""
    job = laid.site.job
    if job.bike.frame.connectors:
        yield "connector"
    if any(leg.opening is not None and leg.sleeve is None for leg in job.network.legs):
        yield "sleeve"
    if any(wire.number > 1 for wire in laid.site.fixed_of("return")):
        yield "thickest return"
    if laid.site.fixed_of("supply"):
        yield "supply switch fuse"


def _in_series(laid: Laid) -> Iterator[str]:
    """Return what current passes on its way to loads and back, besides wires, connectors and earth points."""
    job, feed = laid.site.job, laid.site.feed.run
    yield from ("unit plug", "load plug", "splice", "unit earth")
    if feed.length > sum(job.network.legs[number].length for number in feed.legs):
        yield "shortest feed"
    for fed in job.loads.fed:
        yield "small fuse drop" if (fuse_for(fed.consumer.current) or 0) <= SMALL_FUSE else "fuse drop"
        if fed.by == "relay":
            yield "relay contact"
    if any(load.own_switch for load in job.loads.wired):
        yield "own switch"


def _largest_fuse(unit: Unit) -> Iterator[str]:
    """The largest main fuse of a unit whose file says none."""
    if unit.feed.fuse_max is None:
        yield f"{largest_fuse_said(unit)} (write 'fuse_max' where its maker says more)"


def _usual_kinds(job: Job) -> tuple[str, ...]:
    """Return the kinds of load whose usual inrush was taken, in the order of the table."""
    taken = {inrush_kind(load.kind, load.part) for load in _all_loads(job) if not _own_inrush(job, load)}
    return tuple(d.name.removesuffix(" inrush") for d in TABLE if d.name.removesuffix(" inrush") in taken)


def _usual_drops(job: Job) -> tuple[str, ...]:
    taken = {load.drop_class for load in _all_loads(job)} - set(job.bike.limits.drop)
    return tuple(d.name.removesuffix(" drop") for d in TABLE if d.name.removesuffix(" drop") in taken)


def _own_inrush(job: Job, load: Consumer) -> bool:
    written = next((entry for entry in job.bike.loads if entry.name == load.name), None)
    return written is not None and not (written.inrush is None and written.pull_in is None)


def _all_loads(job: Job) -> tuple[Consumer, ...]:
    return (*job.loads.on_unit, *job.loads.guests, *(fed.consumer for fed in job.loads.fed))


def _wires(job: Job) -> Iterator[str]:
    yield (
        f"conductors at 85 C, or at ambient in a hotter leg ({PRACTICE}); their resistance at that temperature by "
        f"FAA AC 43.13-1B par. 11-66; {job.assume.text('copper')} copper"
    )
    yield from _ampacity(job)
    yield from _lamps(job)
    yield "short circuits: IEC 60949 from 85 C to a final 160 C"
    if job.bike.reels is None:
        yield f"reels {', '.join(reel.size.label for reel in job.reels)} (default)"
    yield _cut(job)


def _cut(job: Job) -> str:
    """Say what is added when wire is cut."""
    margin, shortest = job.bike.margin, Micrometres(job.assume["shortest piece"])
    ends = ", ".join(f"{millimetres(margin.at(end))} {where}" for end, where in SAID.items())
    return (
        f"cut length: run + {plain(Decimal(margin.share) / 100)} % + {ends}, {millimetres(margin.moves)} for each leg "
        f"that moves or its travel; no piece under {millimetres(shortest)} ({PRACTICE})"
    )


def _ampacity(job: Job) -> Iterator[str]:
    """Say by what wires carry what, and which insulation must be bought for it."""
    column = job.insulation // 1000
    earns = class_for(column)
    only = "; the usual class B (100 C) earns only the 90 C column, 'assume: {insulation: 90 C}'" if column > 90 else ""
    yield (
        f"insulation {column} C, by that column of 33 CFR 183.425 Table 5: buy wire rated for it; of road-vehicle "
        f"cable class {earns} ({CLASSES[earns]} C) earns it{only} (classes of ISO 6722 from memory)"
    )
    thinner = [reel.size.label for reel in job.reels if reel.size.area < THINNEST_IN_TABLE.area]
    below = f"; the table starts at 18 AWG: what wire of {', '.join(thinner)} carries is from memory" if thinner else ""
    yield (
        "ampacity: that column at 30 C, derated by ambient and by the loaded wires beside it (Note 2, a rule from 50 V "
        f"up, a guide here){below}; a wire below 1 A heats no other ({PRACTICE})"
    )


def _lamps(job: Job) -> Iterator[str]:
    """Say which lamps' figures were not seen in print."""
    used = {load.lamp: LAMPS[load.lamp] for load in job.bike.loads if load.lamp in LAMPS}
    told = [f"{name} {plain(Decimal(lamp.greatest) / 1000)} W" for name, lamp in used.items() if not lamp.seen]
    if told:
        yield f"greatest watts of lamps, from memory (look them up in UN R37): {', '.join(told)}"


def _weights(job: Job) -> Iterator[str]:
    yield ", ".join(said for term in TERMS if term.worth and (said := term.worth(job.bike.weights)))
    if job.bike.later is None and job.loads.later:
        names = ", ".join(later.consumer.name for later in job.loads.later)
        yield f"later loads: {names} (default; write 'later: []' for none)"
    for place in job.bike.places:
        if place.front is None or place.rear is None:
            yield f"{place.name}: both faces of the unit are at {place.front or place.rear}"


UnjudgedKeys = dict[type[BaseModel], dict[str, str]]

NOT_YET: UnjudgedKeys = {
    LaterLoad: {"colour": "wire colours"},
}


def not_yet_judged(bike: Bike, units: Iterable[Unit]) -> tuple[str, ...]:
    """Return a line for what no rule judges: loads whose part the file does not say, and keys that wait for a rule."""
    lines: dict[str, str] = {line: line for line in without_part(bike)}
    for file, root in (("bike", bike), *(("unit", unit) for unit in units)):
        for key, meaning in _written(root):
            lines.setdefault(f"{file} {key}", f"{key} ({file} file): {meaning}")
    return tuple(lines.values())


def _written(entry: BaseModel) -> Iterator[tuple[str, str]]:
    """Return the keys written in an entry and below it that wait for their rule, in the order of the schema."""
    table = NOT_YET.get(type(entry), {})
    for key in type(entry).model_fields:
        if key in entry.model_fields_set and key in table:
            yield key, table[key]
        yield from _below(getattr(entry, key))


def _below(value: object) -> Iterator[tuple[str, str]]:
    if isinstance(value, BaseModel):
        yield from _written(value)
    elif isinstance(value, tuple):
        for item in value:
            yield from _below(item)


CAUTIONS: tuple[str, ...] = (
    "Battery off first: take the negative lead off before any work, and put it back last.",
    "Main fuse at the battery: within 178 mm of it, 1,016 mm where the feed is sheathed all the way (33 CFR 183.455).",
    "Never defeat a lighting, brake or engine-stop circuit to make a plan fit.",
    "A plan is no approval: local codes and licensed practice have the last word. Test every circuit "
    "before the bike is ridden.",
)

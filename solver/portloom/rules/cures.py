"""What may lift a conflict: a larger main fuse, thicker terminals and wires, other returns, each as a changed bike."""

from collections.abc import Iterable, Iterator

from portloom.base.bike import Bike, Reel
from portloom.base.copper import DEFAULT_REELS
from portloom.base.figures import amperes, port_range
from portloom.base.fuse_steps import STEPS
from portloom.base.fuses import trip_values
from portloom.base.quantities import MilliAmps
from portloom.base.sizes import WireSize
from portloom.base.unit import Output, Unit
from portloom.base.values import dataclass
from portloom.job.job import Job
from portloom.job.kinds import output_kinds
from portloom.rules.fact_kinds import LOAD, SWITCH
from portloom.rules.facts import FactKey


@dataclass(frozen=True)
class Cure:
    """A change in words, and the bike and the unit with it."""

    said: str
    bike: Bike
    unit: Unit


@dataclass(frozen=True)
class Cures:
    """Changes of one sort, from the least to the most."""

    series: tuple[Cure, ...]
    of: tuple[FactKey, ...] = ()
    """The facts that they bear on, of which one must be in the conflict; none where they may bear on any."""
    rising: bool = False
    """True where each lifts what those before it lift: a limit that is raised."""
    weighed: bool = False
    """Whether fixes are made of them, too."""


def larger_fuses(job: Job, fact: FactKey) -> Cures:
    """Return units that take a larger main fuse, which is ``fact``."""
    steps = [step for step in STEPS if step > job.unit.feed.largest_fuse]
    said = (f"a unit that takes a main fuse of {amperes(step)} ('fuse_max')" for step in steps)
    return _raised(job, fact, said, (_with_feed(job.unit, fuse_max=step) for step in steps))


def thicker_feeds(job: Job, fact: FactKey) -> Cures:
    """Return units whose supply terminal, which is ``fact``, takes thicker wire of those that there are."""
    sizes = list(_thicker(job, job.unit.feed.wire_max))
    said = (f"a unit whose supply terminal takes {size.label} ('wire_max')" for size in sizes)
    return _raised(job, fact, said, (_with_feed(job.unit, wire_max=size) for size in sizes))


def thicker_terminals(job: Job) -> Iterator[Cures]:
    """Return units that have outputs of each kind with terminals for thicker wire of those that there are."""
    order = [output.name for output in job.unit.outputs]
    for kind in output_kinds(job.unit):
        names, sizes = [port.name for port in kind.ports], list(_thicker(job, kind.like.wire_max))
        said = [f"{port_range(names, order)} with terminals that take {size.label} ('wire_max')" for size in sizes]
        outputs = [tuple(_with_terminal(job.unit, names, size)) for size in sizes]
        units = [job.unit.model_copy(update={"outputs": changed}) for changed in outputs]
        yield _raised(job, ("terminal", names[0]), said, units)


def _raised(job: Job, limit: FactKey, said: Iterable[str], units: Iterable[Unit]) -> Cures:
    """Return units on which a limit is raised, each more than the one before it."""
    cures = (Cure(words, job.bike, unit) for words, unit in zip(said, units, strict=True))
    return Cures(tuple(cures), (limit,), rising=True)


def lower_trips(job: Job) -> Iterator[Cures]:
    """Return units whose outputs can be set to what a load needs at least, for each load."""
    for load in job.loads.on_unit:
        trip = MilliAmps(-(-5 * load.current // 4))
        outputs = tuple(output.model_copy(update={"trip": (trip, *trip_values(output))}) for output in job.unit.outputs)
        said = f"an output for {load.name} that can be set to trip at {amperes(trip)}"
        unit = job.unit.model_copy(update={"outputs": outputs})
        yield Cures((Cure(said, job.bike, unit),), (LOAD.key(load.name),))


def thicker_reels(job: Job) -> Cures:
    """Return bikes for which the shop has one thicker reel of wire."""
    thickest = job.reels[-1].size
    return Cures(tuple(_with_reel(job, size) for size in _bought(job) if size > thickest))


def thinner_reels(job: Job) -> Cures:
    """Return bikes for which the shop has one thinner reel of wire."""
    thinnest = job.reels[0].size
    return Cures(tuple(_with_reel(job, size) for size in reversed(_bought(job)) if size < thinnest))


def _bought(job: Job) -> list[WireSize]:
    """Return sizes that are usual, and the thinnest and thickest known; gauges where the shop has only these."""
    sizes = sorted(job.catalogue)
    gauges = [size for size in sizes if size.label.endswith("AWG")]
    if all(reel.size in gauges for reel in job.reels):
        return gauges
    metric = [size for size in sizes if size not in gauges]
    return [size for size in metric if size in (metric[0], *DEFAULT_REELS, metric[-1])]


def _with_reel(job: Job, size: WireSize) -> Cure:
    now = job.bike.reels or tuple(map(_reel, DEFAULT_REELS))
    bike = job.bike.model_copy(update={"reels": (*now, _reel(size))})
    return Cure(f"wire of {size.label}, under 'reels:'", bike, job.unit)


def earth_points(job: Job) -> Iterator[Cures]:
    """Return bikes that have an earth point where returns of loads and switches begin, each by itself."""
    frame, fixed = job.bike.frame, job.network.still(job.bike.supply.battery.at)
    for point in dict.fromkeys(load.returns_at for load in job.wired_loads):
        if point in fixed and point not in frame.earth:
            more = frame.model_copy(update={"earth": (*frame.earth, point)})
            said = f"an earth point at {point}, if the frame is bare metal there"
            loads = (LOAD.key(load.name) for load in job.wired_loads if load.returns_at == point)
            switches = (SWITCH.key(one.name) for one in job.wired_inputs if one.earthed_by_wire and point in one.at)
            cure = Cure(said, job.bike.model_copy(update={"frame": more}), job.unit)
            yield Cures((cure,), (*loads, *switches))


def more_returns(job: Job) -> Cures:
    """Return bikes whose joint returns are thinner, and more, the thickest first."""
    usual = job.assume["thickest return"]
    return Cures(
        tuple(
            Cure(
                f"more returns, of {said} at most where loads share one ('thickest return', under 'assume:')",
                job.bike.model_copy(update={"assume": {**job.bike.assume, "thickest return": area}}),
                job.unit,
            )
            for size in (reel.size for reel in reversed(job.reels))
            if size.area < usual
            for area, said in (_area(size),)
        )
    )


def _area(size: WireSize) -> tuple[str, str]:
    """Return a size in mm2, as assumptions are written, and as it is said: a gauge is said with it."""
    if not size.label.endswith("AWG"):
        return size.label, size.label
    area = f"{size.square_mm} mm2"
    return area, f"{area} ({size.label})"


def charged_past_the_unit(job: Job) -> Cures:
    """Return the bike whose regulator joins the battery, through a fuse of its own."""
    charging = job.bike.supply.charging
    past = charging and charging.model_copy(update={"joins": "battery"})
    supply = job.bike.supply.model_copy(update={"charging": past})
    said = "the regulator's lead to the battery, with 'joins: battery'"
    return Cures((Cure(said, job.bike.model_copy(update={"supply": supply}), job.unit),))


def _thicker(job: Job, terminal: WireSize | None) -> Iterable[WireSize]:
    return (reel.size for reel in job.reels if terminal is not None and reel.size.area > terminal.area)


def _with_feed(unit: Unit, **changes: object) -> Unit:
    return unit.model_copy(update={"feed": unit.feed.model_copy(update=changes)})


def _with_terminal(unit: Unit, names: Iterable[str], size: WireSize) -> Iterator[Output]:
    for output in unit.outputs:
        yield output.model_copy(update={"wire_max": size}) if output.name in names else output


def _reel(size: WireSize) -> Reel:
    return Reel.model_validate({"size": size.label})

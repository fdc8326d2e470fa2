"""Changes at a load: an LED lamp unit, a suppressor, a fused feed, a relay, or leaving it off the unit."""

from collections.abc import Iterator

from portloom.base.bike import Bike, Load, Switch
from portloom.base.figures import listed
from portloom.base.parts.loads import is_kept, is_watched
from portloom.base.quantities import MilliWatts
from portloom.base.vocabulary import INDUCTIVE
from portloom.explaining.conflicts.kept import Instance
from portloom.explaining.fixes.change import Acts, Change, with_load
from portloom.job.consumers import Consumer
from portloom.rules.fact_kinds import LOAD, THINGS, altered
from portloom.rules.facts import FactKey

LED, SUPPRESSOR, FUSE, RELAY, LEFT_OFF = 2, 2, 3, 4, 8
TENTH = 100
"""A tenth of a watt, in mW."""


def led_lamps(instance: Instance) -> Iterator[Change]:
    """Return an LED lamp unit in place of each filament lamp that an output feeds."""
    for load, consumer in _on_unit(instance):
        if consumer.kind == "filament":
            watts = _led_power(instance, consumer)
            use = load.part or load.name
            yield _at_load(
                load,
                kind="LED lamp",
                effort=LED,
                sentence=f"fit an LED lamp unit of {watts / 1000:g} W as {load.name}",
                figures={
                    "lamp": None, "current": None, "power": watts, "kind": "led", "inrush": None, "inrush_for": None,
                    "dims": load.dims or "dim" in load.mode,
                },
                parts=(f"an LED lamp unit of {watts / 1000:g} W, approved for use as {use}",),
            )  # fmt: skip


def _led_power(instance: Instance, lamp: Consumer) -> MilliWatts:
    """Return the power of an LED unit that gives the light of a filament lamp, to a tenth of a watt, rounded up."""
    share = instance.job.assume["LED lamp power"]
    milliwatts = lamp.current * instance.job.bike.supply.running * share
    return MilliWatts(TENTH * -(-milliwatts // (TENTH * 1000 * 10_000)))


def suppressors(instance: Instance) -> Iterator[Change]:
    """Return a suppressor at each load that kicks back and has none."""
    consumers = {load.name: load for load in (*instance.job.loads.on_unit, *instance.job.loads.guests)}
    for load in instance.job.bike.loads:
        consumer = consumers.get(load.name)
        if consumer is not None and consumer.kind in INDUCTIVE and not load.suppressed:
            yield _at_load(
                load,
                kind="suppressor",
                effort=SUPPRESSOR,
                sentence=f"put a suppressor across {load.name}",
                figures={"suppressed": True},
                parts=(f"a diode or suppressor at {load.name}",),
            )


def feeds(instance: Instance) -> Iterator[Change]:
    """Return a fused feed or a relay for each load that the unit need not watch over."""
    feeding = {name for load in instance.job.bike.loads for name in load.from_}
    taken = {load.name for load in instance.job.bike.loads}
    for load, consumer in _on_unit(instance):
        if is_watched(load.part) or load.name in feeding:
            continue
        if load.own_switch or "asleep" in consumer.when:
            yield _at_load(
                load,
                kind="fused feed",
                effort=FUSE,
                sentence=f"feed {load.name} from the battery through a fuse of its own",
                figures={"fed": "fuse"},
                parts=(f"a fuse and its holder at the battery, for {load.name}",),
                acts="things",
            )
        if f"{load.name} relay" not in taken:
            yield _at_load(
                load,
                kind="relay",
                effort=RELAY,
                sentence=f"feed {load.name} through a relay",
                figures={"fed": "relay"},
                parts=(f"a relay, a fuse and its holder at the battery, for {load.name}",),
                also=(LOAD.key(f"{load.name} relay"),),
                acts="things",
            )


def left_off(instance: Instance) -> Iterator[Change]:
    """Return each load that a bike may do without, left off with what only works or feeds from it."""
    for load in instance.job.bike.loads:
        if is_kept(load.part):
            continue
        gone = _gone_with(instance.job.bike, load.name)
        with_it = f", with {listed(gone[1:])}" if len(gone) > 1 else ""
        yield Change(
            kind="left off",
            effort=LEFT_OFF,
            sentence=f"leave {load.name} off the unit{with_it}",
            make=lambda target, name=load.name: (_without(target[0], name), target[1]),  # type: ignore[misc]
            slot=("feed", load.name),
            acts="things",
            facts=frozenset(thing.key(name) for thing in THINGS for name in (*gone, f"{load.name} relay")),
        )


def _on_unit(instance: Instance) -> Iterator[tuple[Load, Consumer]]:
    entries = {load.name: load for load in instance.job.bike.loads}
    return ((entries[load.name], load) for load in instance.job.loads.on_unit if load.name in entries)


def _at_load(
    load: Load,
    *,
    kind: str,
    effort: int,
    sentence: str,
    figures: dict[str, object],
    parts: tuple[str, ...],
    also: tuple[FactKey, ...] = (),
    acts: Acts = "figures",
) -> Change:
    return Change(
        kind=kind,
        effort=effort,
        sentence=sentence,
        make=lambda target: with_load(target, load.name, **figures),
        acts=acts,
        slot=("feed" if acts == "things" else kind, load.name),
        facts=altered("load", load.name, figures).union(also),
        parts=parts,
    )


# --- what goes with a load


def _gone_with(bike: Bike, name: str) -> tuple[str, ...]:
    """Return a load, the loads that only it feeds, and the switches that have nothing left to do."""
    after = _without(bike, name)
    left = {*(load.name for load in after.loads), *(switch.name for switch in after.inputs)}
    names = (*(load.name for load in bike.loads), *(switch.name for switch in bike.inputs))
    return (name, *(other for other in names if other not in left and other != name))


def _without(bike: Bike, name: str) -> Bike:
    loads = [_unfed(load, name) for load in bike.loads if load.name != name]
    kept = tuple(load for load in loads if load is not None)
    gone = {load.name for load in bike.loads} - {load.name for load in kept}
    rest = bike.model_copy(update={"loads": kept})
    inputs = tuple(_idle(switch, gone) for switch in bike.inputs if _still_read(bike, rest, switch, gone))
    left = {*(load.name for load in kept), *(switch.name for switch in inputs)}
    return rest.model_copy(update={"loads": tuple(_showing(load, left) for load in kept), "inputs": inputs})


def _unfed(load: Load, feeder: str) -> Load | None:
    """Return a load without one of those that feed it, or None where nothing is left to feed it."""
    feeders = tuple(name for name in load.from_ if name != feeder)
    if feeders == load.from_:
        return load
    return load.model_copy(update={"from_": feeders}) if feeders else None


def _still_read(bike: Bike, rest: Bike, switch: Switch, gone: set[str]) -> bool:
    """Tell whether what read a switch still does, the unit or a dash; one that nothing read stays as it was."""
    was_read = switch.to_unit or bike.shown_by(switch.name)
    return not was_read or _idle(switch, gone).to_unit or bool(rest.shown_by(switch.name))


def _idle(switch: Switch, gone: set[str]) -> Switch:
    """Return a switch without the loads that are gone."""
    operates = tuple(name for name in switch.operates if name not in gone)
    return switch if operates == switch.operates else switch.model_copy(update={"operates": operates})


def _showing(load: Load, left: set[str]) -> Load:
    """Return a dash without what is not there any more."""
    lamps = (tuple(name for name in lamp if name in left) for lamp in load.shows)
    shows = tuple(lamp for lamp in lamps if lamp)
    return load if shows == load.shows else load.model_copy(update={"shows": shows})

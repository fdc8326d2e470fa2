"""Changes at a load: an LED lamp unit, a suppressor, a fused feed, a relay, or leaving it off the unit."""

from collections.abc import Iterator

from portloom.base.bike import Bike, Load, Switch
from portloom.base.parts.loads import is_kept, is_watched
from portloom.base.quantities import MilliWatts
from portloom.base.vocabulary import INDUCTIVE
from portloom.explaining.conflicts.kept import Instance
from portloom.explaining.fixes.change import Change, Target, with_load
from portloom.explaining.fixes.reach import figures_of, whole_of
from portloom.job.consumers import Consumer
from portloom.rules.fact_kinds import UNHELD, altered

LED, SUPPRESSOR, FUSE, RELAY, LEFT_OFF = 2, 2, 3, 4, 8
LED_LAMP, SUPPRESSED, OFF = "LED lamp", "suppressor", "left off"
TENTH = 100
"""A tenth of a watt, in mW."""


def led_lamps(instance: Instance) -> Iterator[Change]:
    """Return an LED lamp unit in place of each filament lamp, whatever feeds it."""
    consumers = {consumer.name: consumer for consumer in instance.job.loads.wired}
    for load in instance.job.bike.loads:
        if consumers[load.name].kind == "filament":
            watts = _led_power(instance, consumers[load.name])
            use = load.part or load.name
            yield _at_load(
                instance,
                load,
                kind=LED_LAMP,
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
    """Return a suppressor at each load on an output that kicks back and has none."""
    consumers = {load.name: load for load in (*instance.job.loads.on_unit, *instance.job.loads.guests)}
    for load in instance.job.bike.loads:
        consumer = consumers.get(load.name)
        if consumer is not None and consumer.kind in INDUCTIVE and not load.suppressed:
            yield _at_load(
                instance,
                load,
                kind=SUPPRESSED,
                effort=SUPPRESSOR,
                sentence=f"put a suppressor across {load.name}",
                figures={"suppressed": True},
                parts=(f"a diode or suppressor at {load.name}",),
                only_helps=True,
            )


def _at_load(
    instance: Instance,
    load: Load,
    *,
    kind: str,
    effort: int,
    sentence: str,
    figures: dict[str, object],
    parts: tuple[str, ...],
    only_helps: bool = False,
) -> Change:
    facts = altered("load", load.name, figures)
    return Change(
        kind=kind,
        effort=effort,
        sentence=sentence,
        make=lambda target: with_load(target, load.name, **figures),
        acts="figures",
        slot=(kind, load.name),
        reach=figures_of(instance, load.name, facts, draws=not only_helps),
        parts=parts,
        only_helps=only_helps,
    )


# --- past the unit


def feeds(instance: Instance) -> Iterator[Change]:
    """Return a fused feed or a relay for each load that the unit need not watch over, if it has not that already.

    One that feeds others can be fed past the unit only once they are left off.
    """
    consumers = {consumer.name: consumer for consumer in instance.job.loads.wired}
    taken = {load.name for load in instance.job.bike.loads}
    for load in instance.job.bike.loads:
        if load.from_ or is_watched(load.part):
            continue
        if load.fed != "fuse" and (load.own_switch or "asleep" in consumers[load.name].when):
            yield _fed(
                instance,
                load,
                "fuse",
                kind="fused feed",
                effort=FUSE,
                sentence=f"feed {load.name} from the battery through a fuse of its own",
                parts=(f"a fuse and its holder at the battery, for {load.name}",),
            )
        if load.fed != "relay" and f"{load.name} relay" not in taken:
            yield _fed(
                instance,
                load,
                "relay",
                kind="relay",
                effort=RELAY,
                sentence=f"feed {load.name} through a relay",
                parts=(f"a relay, a fuse and its holder at the battery, for {load.name}",),
            )


def _fed(
    instance: Instance, load: Load, fed: str, *, kind: str, effort: int, sentence: str, parts: tuple[str, ...]
) -> Change:
    guests = (guest.name for guest in instance.job.bike.loads if load.name in guest.from_)
    held = {} if fed == "relay" and not load.own_switch else UNHELD  # what needs no output is held to none
    return Change(
        kind=kind,
        effort=effort,
        sentence=sentence,
        make=lambda target: with_load(target, load.name, fed=fed, **held),
        acts="things",
        slot=("feed", load.name),
        reach=whole_of(instance, load.name),
        parts=parts,
        needs=tuple(("feed", guest) for guest in guests),
        brings_coil=fed == "relay" and not load.own_switch,
    )


# --- left off


def left_off(instance: Instance) -> Iterator[Change]:
    """Return each load that a bike may do without, left off with what only works or feeds from it."""
    for load in instance.job.bike.loads:
        if not is_kept(load.part):
            yield Change(
                kind=OFF,
                effort=LEFT_OFF,
                sentence=f"leave {load.name} off the unit",
                make=lambda target, name=load.name: _left_off(target, name),  # type: ignore[misc]
                slot=("feed", load.name),
                acts="things",
                reach=whole_of(instance, load.name),
            )


def gone_with(before: Bike, after: Bike) -> tuple[str, ...]:
    """Return the loads and switches of a bike that are not on another."""
    left = {*(load.name for load in after.loads), *(switch.name for switch in after.inputs)}
    names = (*(load.name for load in before.loads), *(switch.name for switch in before.inputs))
    return tuple(name for name in names if name not in left)


def _left_off(target: Target, name: str) -> Target | None:
    """Return the bike without a load, the loads that only it feeds, and the switches that have nothing left to do.

    None where it is gone already, or nothing would be left.
    """
    after = without_load(target.bike, name)
    return target._replace(bike=after) if after.loads and len(after.loads) < len(target.bike.loads) else None


def without_load(bike: Bike, name: str) -> Bike:
    """Return a bike without a load, what it alone feeds, and the switches that have nothing left to do."""
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

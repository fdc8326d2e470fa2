"""Bench steps with the first power: the unit's plug with nothing in it, then loads that only a running engine brings.

A fuse of 5 A blows before a loom with a fault burns; a charged battery at rest has 12.0 to 13.2 V; a fuel pump runs dry
for 3 s at most: common practice, no source.
"""

from collections.abc import Iterator

from portloom.base.figures import amperes, listed
from portloom.base.parts.loads import FUEL_PUMP
from portloom.base.quantities import MicroAmps, MilliAmps, MilliVolts
from portloom.base.vocabulary import START
from portloom.documents.energy import kept_awake, multiplexers_asleep, on_asleep
from portloom.documents.handover.coming_on import OperatingSteps
from portloom.documents.handover.measured import NO_VOLTS, alone, drawing, expected_of
from portloom.documents.handover.steps import Expected, ExpectedDraw, Step, TestPart, VoltageRange, draw_of
from portloom.job.laid import Laid
from portloom.job.wired import WiredOutput

PART: TestPart = "first power"
FIRST_FUSE = MilliAmps(5000)
AT_REST = VoltageRange(
    MilliVolts(12_000),
    MilliVolts(13_200),
    "the battery is flat, the fuse or the earth is open, or with a minus sign the leads or ways are swapped; battery "
    "off, and do not plug the unit in",
    "this is no battery at rest; take the charger off",
)
NOTHING = VoltageRange(
    MilliVolts(-100),
    MilliVolts(100),
    "a minus sign: the ways or leads are swapped; battery off, and do not plug the unit in",
    "that way is on the supply; battery off, find it, and do not plug the unit in",
)


def first_power(laid: Laid, working: OperatingSteps) -> Iterator[Step]:
    """Return what the unit's plug must show before the unit is in it, and loads that wait for the engine."""
    fuse = amperes(FIRST_FUSE)
    yield Step(
        PART,
        "Supply in the unit's plug",
        f"{fuse} fuse in the main fuse's holder. Battery on: positive lead first, negative last. Red on the supply "
        "way of the unit's plug, black on its earth way.",
        "voltage",
        "as at the battery, without a minus sign",
        f"a minus sign: swapped; nothing: fuse, feed or earth open; the {fuse} fuse blows: a short. Battery off",
        within=AT_REST,
    )
    yield Step(
        PART,
        "Every output way",
        "Black on the earth way, red on every output way, then on every other way but the supply. Write the highest.",
        "voltage",
        "0 V",
        "that way is on the supply: battery off, find it. The unit stays out until all is right",
        within=NOTHING,
    )
    for wired in laid.outputs:
        if working.needs_engine(wired.circuit.members) and START not in wired.circuit.modes:
            yield _jumped(wired)


def _jumped(wired: WiredOutput) -> Step:
    """Return the step in which a load is fed past the unit, for the unit would feed it with the engine running only."""
    loads = drawing(wired)
    pump = any(load.part == FUEL_PUMP.name for load in loads)
    short = "; 3 s at most, it must not run dry" if pump else ""
    return Step(
        PART,
        f"{listed([load.name for load in loads])}, by a jumper",
        f"{alone(wired)} Jumper in the plug from the supply way to the way of {wired.output.name}{short}. Amperes "
        "in it.",
        "current",
        if_not=NO_VOLTS,
        port=wired.output.name,
        expected=expected_of(wired.site.job, loads),
    )


def unit_alone(laid: Laid) -> Iterator[Step]:
    """Return the unit in its plug with no load: asleep, then awake."""
    part: TestPart = "one circuit at a time"
    fuse, feed, asleep = amperes(FIRST_FUSE), laid.site.job.unit.feed, multiplexers_asleep(laid)
    boxes = [box.stand.multiplexer.name for box in laid.multiplexers]
    beside = f", and {listed(boxes)}" if boxes else ""
    yield Step(
        part,
        "Unit asleep",
        f"Battery off, {fuse} fuse. Plug the unit in{beside}. Key off, battery on. Once it is asleep, read the current "
        "in the negative lead.",
        "current",
        f"{_about(feed.standby, asleep)} asleep",
        "more: it is awake, or there is a leak to earth; battery off",
        expected=_resting(_asleep_at_most(feed.standby, asleep), ()),
    )
    yield Step(
        part,
        "Unit awake",
        f"{_key_fed(laid)}Turn the key on, every output still off. Read the current in the negative lead.",
        "current",
        "" if feed.awake is not None else _about(None, asleep),
        "more: something is plugged in, or an output is on; nothing: the unit does not hear of the key",
        expected=_resting(_with(feed.awake, asleep), ()),
    )


def _key_fed(laid: Laid) -> str:
    """Say what must be in place before the unit hears of the key."""
    live = any(switch.signal == "supply" and "key" in switch.tells for switch in laid.site.job.bike.inputs)
    return "Fit the fuse of the supply to switches, which feeds the key. " if live else ""


def key_off(laid: Laid) -> Step:
    """Return the very last step: what the bike draws when it stands, as the plan has it."""
    job = laid.site.job
    asleep, awake, feed = on_asleep(job), kept_awake(laid, laid.site), job.unit.feed
    more = f", with {listed([load.name for load in asleep])} live" if asleep else ""
    until = "wait until everything that runs on is off" if awake else "wait until the unit sleeps"
    boxes = multiplexers_asleep(laid)
    whose = f"the unit{' and multiplexers' * bool(boxes)}{', and what is live' * bool(asleep)}"
    about = _about(feed.awake if awake else feed.standby, boxes)
    draws = tuple(draw_of(load, job.bike.supply.running) for load in asleep)
    return Step(
        "last",
        "Key off",
        f"Engine and key off, {until}{more}. Battery off, meter in its negative lead, battery on through it. Read the "
        "current.",
        "current",
        f"{about} for {whose}{'; the unit stays awake' * awake}",
        "more: something stays on, or a leak to earth; take fuses out one by one until it falls",
        expected=_resting(_with(feed.awake, boxes) if awake else _asleep_at_most(feed.standby, boxes), draws),
    )


def _about(micro: int | None, boxes: MicroAmps) -> str:
    return "what its maker says" if micro is None else f"about {(micro + boxes) / 1000:g} mA"


def _with(unit: int | None, boxes: MicroAmps) -> int | None:
    """Return what the unit draws with the multiplexers beside it, in microamperes."""
    return None if unit is None else unit + boxes


def _asleep_at_most(standby: int | None, boxes: MicroAmps) -> int | None:
    """Return the most that unit and multiplexers may draw asleep: twice that and 1 mA (common practice, no source)."""
    return None if standby is None else 2 * (standby + boxes) + 1000


def _resting(unit: int | None, asleep: tuple[ExpectedDraw, ...]) -> Expected | None:
    """Return what the bike may draw; None where that of the unit is not known: nothing can be judged then."""
    return None if unit is None else Expected(asleep, _milliamps(unit))


def _milliamps(micro: int) -> MilliAmps:
    return MilliAmps(-(-micro // 1000))

"""Bench steps with the first power: through a small fuse, with every output off, and the key-off current at the end."""

from collections.abc import Iterator

from portloom.base.figures import amperes, listed
from portloom.base.quantities import MilliAmps
from portloom.base.unit import Unit
from portloom.documents.energy import kept_awake, on_asleep
from portloom.documents.handover.steps import Expected, ExpectedDraw, StepDraft, TestPart, draw_of
from portloom.job.laid import Laid

PART: TestPart = "first power"
FIRST_FUSE = MilliAmps(5000)
"""The fuse for first power: it blows before a loom with a fault burns. Source: common practice, no source."""


def first_power(laid: Laid) -> Iterator[StepDraft]:
    """Return the unit alone, the unit awake, then all plugged in on the main fuse of the plan."""
    fuse, unit = amperes(FIRST_FUSE), laid.site.job.unit
    main_fuse = amperes(laid.site.main_fuse or MilliAmps(0))
    asleep = [load.name for load in on_asleep(laid.site.job)]
    yield StepDraft(
        PART,
        "Unit alone",
        f"A {fuse} fuse in place of the main fuse, every output off, key off. Plug the unit in, then the battery: "
        "positive lead first, negative last. Once it is asleep, read the current in the negative lead.",
        "current",
        f"{_about(unit.feed.standby)} asleep; if the {fuse} fuse blows, there is a short in the feed",
        expected=_sleeping(unit, ()),
    )
    yield StepDraft(
        PART,
        "Unit awake",
        f"{_key_read(laid)}Turn the key on, every output still off. Read the current in the negative lead.",
        "current",
        "" if unit.feed.awake is not None else _about(None),
        expected=_resting(unit.feed.awake, ()),
    )
    yield StepDraft(
        PART,
        "Main fuse",
        f"Battery off. Plug in what was unplugged. Fit every fuse, the main fuse of {main_fuse} last; "
        "battery on again, key off.",
        "see",
        f"nothing{f' except {listed(asleep)}' * bool(asleep)} comes on by itself, nothing gets warm",
    )


def _key_read(laid: Laid) -> str:
    """Say what must be in place before the unit hears of the key."""
    boxes = [wired.stand.multiplexer.name for wired in laid.switches if "key" in wired.switch.tells]
    if boxes:
        return f"Plug in {listed(boxes)}, which reads the key. "
    live = any(switch.signal == "supply" and "key" in switch.tells for switch in laid.site.job.bike.inputs)
    return "Fit the fuse of the supply to switches, which feeds the key. " if live else ""


def key_off(laid: Laid) -> StepDraft:
    """Return the very last step: what the bike draws when it stands, as the plan has it."""
    job = laid.site.job
    asleep, awake, feed = on_asleep(job), kept_awake(laid, laid.site), job.unit.feed
    more = f", with {listed([load.name for load in asleep])} live" if asleep else ""
    until = "wait until everything that runs on is off" if awake else "wait until the unit sleeps"
    unit = f"{_about(feed.awake if awake else feed.standby)} for the unit{', which stays awake' * awake}"
    draws = tuple(draw_of(load, job.bike.supply.running) for load in asleep)
    return StepDraft(
        "last",
        "Key off",
        f"Key off, {until}{more}. Read the current in the negative lead.",
        "current",
        unit + (", and what is live" if asleep else ""),
        expected=_resting(feed.awake, draws) if awake else _sleeping(job.unit, draws),
    )


def _about(micro: int | None) -> str:
    return "what its maker says" if micro is None else f"about {micro / 1000:g} mA"


def _sleeping(unit: Unit, asleep: tuple[ExpectedDraw, ...]) -> Expected | None:
    """Return what the bike may draw while the unit sleeps: twice its standby and 1 mA (common practice, no source)."""
    standby = unit.feed.standby
    return _resting(None if standby is None else 2 * standby + 1000, asleep)


def _resting(unit: int | None, asleep: tuple[ExpectedDraw, ...]) -> Expected | None:
    """Return what the bike may draw; None where that of the unit is not known: nothing can be judged then."""
    return None if unit is None else Expected(asleep, _milliamps(unit))


def _milliamps(micro: int) -> MilliAmps:
    return MilliAmps(-(-micro // 1000))

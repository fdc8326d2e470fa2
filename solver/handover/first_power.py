"""Bench steps with the first power: through a small fuse, with every output off, and the key-off current at the end."""

from collections.abc import Iterator

from solver.handover.drafts import Draft
from solver.handover.expected import Draw, Expected, draw_of
from solver.handover.steps import Part
from solver.job.laid import Laid
from solver.words.figures import amperes, listed
from solver.words.quantities import MilliAmps
from solver.words.unit import Unit

PART: Part = "first power"
FIRST_FUSE = MilliAmps(5000)
"""The fuse for first power: it blows before a loom with a fault burns. Source: common practice, no source."""


def first_power(laid: Laid) -> Iterator[Draft]:
    """Give the unit alone, the unit awake, then all plugged in on the main fuse of the plan."""
    fuse, unit = amperes(FIRST_FUSE), laid.site.job.unit
    main_fuse = amperes(laid.site.main_fuse or MilliAmps(0))
    boxes = [wired.stand.multiplexer.name for wired in laid.switches if "key" in wired.switch.tells]
    plug = f"Plug in {listed(boxes)}, which reads the key. " if boxes else ""
    yield Draft(
        PART,
        "Unit alone",
        f"A {fuse} fuse in place of the main fuse, every output off, key off. Plug the unit in, then the battery: "
        "positive lead first, negative last. Once it sleeps, read the current in the negative lead.",
        "current",
        f"{_asleep(unit)}; if the {fuse} fuse blows, there is a short in the feed",
        expected=_resting(unit, ()),
    )
    yield Draft(
        PART,
        "Unit awake",
        f"{plug}Turn the key on, every output still off. Read the current in the negative lead.",
        "current",
        expected=Expected((), MilliAmps(-(-(unit.feed.awake or 0) // 1000))),
    )
    yield Draft(
        PART,
        "Main fuse",
        f"Battery off. Plug in what was unplugged. Fit the main fuse of {main_fuse}; battery on again.",
        "see",
        "nothing comes on by itself, nothing gets warm",
    )


def key_off(laid: Laid) -> Draft:
    """Give the very last step: what the bike draws when it stands."""
    job = laid.site.job
    asleep = [load for load in job.loads.on_unit if "asleep" in job.states_of(load)]
    more = f", with {listed([load.name for load in asleep])} live" if asleep else ""
    return Draft(
        "last",
        "Key off",
        f"Key off, wait until the unit sleeps{more}. Read the current in the negative lead.",
        "current",
        f"{_asleep(job.unit)} for the unit" + (", and what is live" if asleep else ""),
        expected=_resting(job.unit, tuple(draw_of(load, job.bike.supply.running) for load in asleep)),
    )


def _asleep(unit: Unit) -> str:
    standby = unit.feed.standby
    return "what its maker says" if standby is None else f"about {standby / 1000:g} mA"


def _resting(unit: Unit, asleep: tuple[Draw, ...]) -> Expected | None:
    """Give what the bike may draw at rest: twice the unit's standby and 1 mA (common practice, no source).

    None where the standby is not known: nothing can be judged then.
    """
    standby = unit.feed.standby
    return None if standby is None else Expected(asleep, MilliAmps(-(-2 * standby // 1000) + 1))

"""The load that can grow least: how much more it may draw with the bike as it is wired, and what breaks then.

What is linear in the current (sums, drops of others, the main fuse) gives at once how far each load can grow.
Whether its own output and the wires let it, the rules of the book judge; where they do not, bisection on whole
milliamperes finds how far: nothing gets better with more current. A load that can grow as far as the least so
far is not looked at any closer.
"""

from dataclasses import dataclass

from portloom.base.figures import amperes
from portloom.base.quantities import MilliAmps
from portloom.job.consumers import Consumer
from portloom.job.laid import Laid
from portloom.margins.growing import Growing
from portloom.rules.facts import on_outputs


@dataclass(frozen=True)
class Growth:
    """How much more a load may draw, and the rule that a milliampere more breaks."""

    load: str
    current: MilliAmps
    by: MilliAmps
    rule: str
    sentence: str


def grows_least(laid: Laid) -> Growth | None:
    """Return the load on the unit that can grow least, the first of equal ones; None where nothing is on the unit.

    Counted are the loads of the file that the unit feeds, not those on a relay or a fuse, nor their relays' coils.
    """
    growing = Growing(laid)
    named = {load.name for load in laid.site.job.bike.loads}
    loads = [load for load in on_outputs(laid.site.job) if load.name in named]
    by = min((growing.room(load) for load in loads), default=0)
    least: Consumer | None = None
    for load in loads:
        if not growing.sound(load, by + 1):
            if not growing.sound(load, by):
                by, least = _most(growing, load, by), load
            least = least or load
    return None if least is None else _told(growing, least, by)


def _most(growing: Growing, load: Consumer, too_much: int) -> int:
    """Return the most mA by which a load can grow, less than ``too_much``."""
    low, high = 0, too_much
    while high - low > 1:
        middle = (low + high) // 2
        low, high = (middle, high) if growing.sound(load, middle) else (low, middle)
    return low


def _told(growing: Growing, load: Consumer, by: int) -> Growth | None:
    clash = growing.breaks(load, by + 1)
    if clash is None:
        return None
    now, then = amperes(load.current), amperes(MilliAmps(load.current + by))
    grows = f"from {now} by {amperes(MilliAmps(by))} to {then}; above that" if by else f"by nothing; above its {now}"
    sentence = f"{load.name} can grow least, {grows}, {clash.sentence}"
    return Growth(load.name, load.current, MilliAmps(by), clash.rule, sentence)

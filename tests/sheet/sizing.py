"""Why a wire is no thinner: what it must carry, and what it may lose where feed and return are taken at fixed losses.

A plan is judged with 0.15 V on the feed's own wire and 0.07 V on a return's, whatever flows. Common practice.
"""

from collections.abc import Iterator
from dataclasses import replace
from fractions import Fraction

from oracle.parts import drop_class
from oracle.things import Load

from .cases import Currents
from .circuits import total_ma
from .drops import MICRO, fed_uv, output_uv, own_feed_mohm
from .figures import Sheet
from .returning import return_ma, return_of
from .tables import JUDGED_FEED_V, JUDGED_RETURN_V, F
from .wires import Plan, Wire


def limit_uv(sheet: Sheet, load: Load) -> Fraction:
    """Return what a load may lose. Common practice; 10 % as ABYC for what is not critical."""
    return sheet.bike.read.drop_uv[drop_class(load.counts_as or load.part)]


def wire_mohm(wire: Wire) -> Fraction:
    """Return a wire's own resistance over all its legs."""
    return sum((wire.mohm(leg) for leg in wire.legs), F(0))


def _behind_as_judged(plan: Plan, load: Load, now: Currents) -> Fraction:
    """Return by how much more a return counts where it is judged than it loses."""
    back = return_of(plan, load)
    if back is None or not back.legs:
        return F(0)
    return JUDGED_RETURN_V * MICRO - wire_mohm(back) * return_ma(plan, back, now)


def judged_uv(plan: Plan, wire: Wire, load: Load, now: Currents) -> Fraction:
    """Return what a load on an output loses as it is judged."""
    feed = JUDGED_FEED_V * MICRO - own_feed_mohm(plan, plan.feeds[wire.unit]) * total_ma(plan, now, wire.unit)
    return output_uv(plan, wire, load, now) + feed + _behind_as_judged(plan, load, now)


def serves(sheet: Sheet, wire: Wire) -> bool:
    """Tell whether a wire carries what it must and loses no more than it may."""
    return all(spot.must_ma <= spot.may_ma for spot in sheet.spots(wire)) and all(_losses_kept(sheet, wire))


def _losses_kept(sheet: Sheet, wire: Wire) -> Iterator[bool]:
    plan = sheet.plan
    for now in sheet.every:
        if wire.kind == "output":
            names = plan.circuits[wire.port]
            on = [load for load in plan.loads_of(wire.port) if now.of(load, names)]
            yield from (judged_uv(plan, wire, load, now) <= limit_uv(sheet, load) for load in on)
        elif wire.kind == "return":
            back_ma = return_ma(plan, wire, now)
            yield wire_mohm(wire) * back_ma <= JUDGED_RETURN_V * MICRO
            yield F(5, 4) * back_ma <= wire.copper.carries_ma
        elif wire.kind == "feed":
            yield own_feed_mohm(plan, wire) * total_ma(plan, now, wire.unit) <= JUDGED_FEED_V * MICRO
        elif now.of(load := plan.bike.load(wire.name)):
            lost = fed_uv(plan, wire, load, now) + _behind_as_judged(plan, load, now)
            yield lost <= limit_uv(sheet, load)


def thinner(sheet: Sheet, wire: Wire) -> list[Wire]:
    """Return a wire in every thinner reel."""
    return [replace(wire, copper=reel) for reel in sheet.bike.reels if reel.area < wire.mm2]

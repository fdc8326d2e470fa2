"""The feed of a unit: the wire from the battery to the face that it meets.

A feed is never shorter than a hand can fit with its fuse, and what is short, or lies where the battery is, is as hot
as the hottest leg there. Source: common practice, no source.
"""

from collections.abc import Sequence
from dataclasses import dataclass, replace
from fractions import Fraction

from .catalogue import Wire
from .flow import Flow
from .frame import Run, ohm_metres
from .job import Job
from .losses import FEED_UV


@dataclass(frozen=True)
class Supply:
    """The way of a feed: its legs, those that end where it has none, its length (um), its hot length (m at 20 C)."""

    job: Job
    run: Run
    beside: Run
    length_um: int
    ohm_metres: Fraction
    connectors: int

    def sizes(self, fuse_ma: int, most: Fraction | None) -> tuple[Wire, ...]:
        """Return its sizes up to `most` (mm2) from the first up, only the thickest where none serves; maybe none.

        The first carries the main fuse and loses little in the worst case.
        """
        reels, worst = self._allowed(most), max(self.job.steady.feed)
        fit = (
            n for n, wire in enumerate(reels) if wire.carries_ma >= fuse_ma and self._lost_uv(wire, worst) <= FEED_UV
        )
        return tuple(reels[next(fit, -1) :])

    def judged_uv(self, flow: Flow, cases: Sequence[int], most: Fraction | None) -> Fraction:
        """Return what its wire is judged with (uV) in some cases, whatever flows.

        That is more than usual where the thickest wire up to `most` loses more in the worst of them. A terminal that
        takes no reel at all is counted as if it took any.
        """
        thickest = (self._allowed(most) or self.job.bike.reels)[-1]
        return max(Fraction(FEED_UV), *(self._lost_uv(thickest, flow.feed[case]) for case in cases))

    def _allowed(self, most: Fraction | None) -> list[Wire]:
        return [wire for wire in self.job.bike.reels if most is None or wire.area <= most]

    def _lost_uv(self, wire: Wire, ma: int) -> Fraction:
        return wire.mohm_per_m * self.ohm_metres * ma


def supply_of(job: Job, face: str) -> Supply:
    """Return the feed from the battery to a point."""
    run, legs = job.path(job.bike.battery, face), job.bike.legs
    beside = frozenset(leg.number for leg in legs if face in leg.ends) if not run else frozenset[int]()
    length, missing = job.frame.length_um(run), job.bike.shortest_feed_um - job.frame.length_um(run)
    hot = sum((job.ohm_metres[number] for number in run), Fraction(0))
    if missing > 0:
        hottest = max((legs[number] for number in run or beside), key=lambda leg: leg.hot_c)
        hot += ohm_metres(replace(hottest, length_um=missing))
    connectors = job.connectors_on(run, job.bike.battery, face)
    return Supply(job, run, beside, max(length, job.bike.shortest_feed_um), hot, connectors)

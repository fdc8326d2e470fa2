"""What a load loses outside its own run and output: on feed, main fuse, returns and earth points, and at its plug.

A plan is judged with the same losses on the wires of feed and returns in every plan at a place (``Allowed``); what is
told of it is lost on the wires that are cut (``portloom.job.drops``).
"""

from collections.abc import Callable, Sequence
from fractions import Fraction
from functools import cached_property
from typing import Protocol

from portloom.base.drop import NOTHING, MicroVolts, fuse_drop, resistance_drop, share_of, wire_drop
from portloom.base.quantities import MicroOhms, MilliAmps, MilliVolts
from portloom.job.cases import Case
from portloom.job.consumers import WHOLE, Consumer, Return
from portloom.job.fixed_wires import FixedWire
from portloom.job.flow import Flow, cranking_flow, cranking_voltage, steady_flow
from portloom.job.site import Site, feed_reels

UNLIMITED = MicroVolts(Fraction(10**12))
"""What a load that is never on may lose: as much as it likes."""


class SharedWires(Protocol):
    """What is lost on the wires of feed and returns themselves, connectors and fuse left out."""

    def on_feed(self, current: MilliAmps, /) -> Fraction:
        """Return what ``current`` loses on the feed's wire."""

    def on_return(self, wire: FixedWire, current: MilliAmps, /) -> Fraction:
        """Return what ``current`` loses on a return's wire."""


class Allowed:
    """What feed and returns are judged with, whatever flows: their own drop, or what the thickest wire loses at worst.

    It is the whole bike's, the same in every plan at a place, and never less for a load that is left out.
    """

    def __init__(self, site: Site, flow: Flow) -> None:
        """Take the site of the whole bike, and what flows in all of it."""
        self._site = site
        self._flow = flow
        self._returns: dict[Return, Fraction] = {}

    @cached_property
    def _feed(self) -> Fraction:
        thickest = (feed_reels(self._site.job) or self._site.job.reels)[-1]
        lost = wire_drop(thickest, self._site.moment(self._site.feed, self._flow.worst))
        return max(share_of(MilliVolts(self._site.job.assume["feed drop"]), WHOLE), lost)

    def on_feed(self, _: MilliAmps) -> Fraction:
        """Return what is counted, whatever the current."""
        return self._feed

    def on_return(self, wire: FixedWire, _: MilliAmps) -> Fraction:
        """Return what is counted, whatever the current; nothing for one that ends where it starts, which is no wire."""
        if wire.back not in self._returns:
            self._returns[wire.back] = self._on_return(wire)
        return self._returns[wire.back]

    def _on_return(self, wire: FixedWire) -> Fraction:
        if not wire.run.legs:
            return Fraction(0)
        worst = self._flow.worst_returned(wire.back)
        lost = wire_drop(self._site.job.reels[-1], self._site.moment(wire, worst))
        return max(share_of(MilliVolts(self._site.job.assume["return drop"]), WHOLE), lost)


def feed_loses_more(site: Site) -> bool:
    """Tell whether a feed of the thickest wire that is allowed loses more than what every plan is judged with."""
    usual = share_of(MilliVolts(site.job.assume["feed drop"]), WHOLE)
    flows = (_judged_flow(site.whole), cranking_flow(site.whole.job))
    return any(Allowed(site.whole, flow).on_feed(MilliAmps(0)) > usual for flow in flows)


class Losses:
    """Losses of loads at one site in each case, but for run and output."""

    def __init__(
        self,
        site: Site,
        flow: Flow | None = None,
        wires: SharedWires | None = None,
        cranking: "Callable[[], Cranking] | None" = None,
    ) -> None:
        """Take the site; what flows is the steady current unless it is given, and ``wires`` those that judge.

        ``cranking`` makes the same while cranking, where it is not as judged. Every figure is worked out when it is
        first asked for, and kept.
        """
        self._site = site
        self._job = site.job
        self.flow = flow or _judged_flow(site)
        self._wires = wires or Allowed(site.whole, _judged_flow(site.whole))
        self._cranking = cranking
        self._earth_point = MicroOhms(site.job.assume["earth point"])
        self._returns = {wire.back: wire for wire in site.fixed_of("return")}
        self._behind: dict[tuple[Return, int], Fraction] = {}
        self._in_front: dict[int, Fraction] = {}
        self._outside: dict[tuple[str, int], Fraction] = {}
        self._before: dict[str, MicroVolts] = {}
        self._left_to: dict[str, MicroVolts] = {}

    @cached_property
    def cranking(self) -> "Cranking":
        """What is lost while cranking."""
        return self._cranking() if self._cranking else Cranking(self._site)

    # --- in front of the unit

    @cached_property
    def _parted(self) -> MicroOhms:
        return self._site.parted(self._site.feed)

    def _in_fuse(self, current: MilliAmps) -> MicroVolts:
        """Return what ``current`` loses in the main fuse, the largest that there may be."""
        if not self._site.fuses:
            return NOTHING
        return fuse_drop(MilliVolts(self._job.assume["main fuse drop"]), self._site.fuses[-1], current)

    def feed_loss(self, current: MilliAmps) -> Fraction:
        """Return what ``current`` loses on feed, its connectors and the main fuse."""
        return self._wires.on_feed(current) + resistance_drop(self._parted, current) + self._in_fuse(current)

    def feed_in(self, case: Case) -> Fraction:
        """Return what is lost there in a case."""
        if case.on not in self._in_front:
            current = self.flow.through_feed(case)
            wire = self._wires.on_feed(current) + resistance_drop(self._parted, current)
            self._in_front[case.on] = wire + self._in_fuse(self.flow.through_fuse(case))
        return self._in_front[case.on]

    # --- behind a load

    def behind_loss(self, back: Return, own: MilliAmps, together: MilliAmps) -> Fraction:
        """Return what is lost on the way back: ``own`` flows in the return, ``together`` through its earth point.

        On the return's wire, its connectors and its splice.
        """
        wire = self._returns[back]
        joined = self._job.assume["splice"] if wire.run.legs else 0
        parted = resistance_drop(MicroOhms(self._site.parted(wire) + joined), own)
        return self._wires.on_return(wire, own) + parted + resistance_drop(self._earth_point, together)

    def behind_in(self, back: Return, case: Case) -> Fraction:
        """Return what is lost in a case on a joint return and its earth point."""
        key = (back, case.on)
        if key not in self._behind:
            own = self.flow.returned(back, case)
            together = MilliAmps(sum(self.flow.returned(one, case) for one in self.returns_earthed_with(back)))
            self._behind[key] = self.behind_loss(back, own, together)
        return self._behind[key]

    def behind(self, back: Return) -> Sequence[Fraction]:
        """Return the same in each case."""
        return [self.behind_in(back, case) for case in self.flow.cases]

    def returns_earthed_with(self, back: Return) -> tuple[Return, ...]:
        """Return the returns that end at the same earth point."""
        earth = self._returns[back].ends[-1]
        return tuple(way.back for way in self._returns.values() if way.ends[-1] == earth)

    def behind_load(self, load: Consumer, case: Case) -> Fraction:
        """Return what is lost behind a load; one earthed by the frame loses its own current's worth at its fixing."""
        if load.back is not None:
            return self.behind_in(load.back, case)
        return resistance_drop(self._earth_point, self.flow.draws(load))

    # --- of a load

    def at_load(self, load: Consumer) -> MicroVolts:
        """Return what a load loses at its own plug and switch."""
        own_switch = 0 if load.own_switch is None else self._job.assume["own switch"]
        return resistance_drop(MicroOhms(self._job.assume["load plug"] + own_switch), self.flow.draws(load))

    def outside_run(self, load: Consumer, case: Case) -> Fraction:
        """Return what a load on the unit loses in a case outside run and output."""
        key = (load.name, case.on)
        if key not in self._outside:
            self._outside[key] = self.feed_in(case) + self.at_load(load) + self.behind_load(load, case)
        return self._outside[key]

    def cases_on(self, load: Consumer) -> tuple[Case, ...]:
        """Return the cases in which a load is on."""
        return tuple(case for case in self.flow.cases if self._job.on(load, case))

    def ever_on(self, load: Consumer) -> bool:
        """Tell whether a load is on in any case."""
        return any(self._job.on(load, case) for case in self.flow.cases)

    def worst_case(self, load: Consumer) -> Case | None:
        """Return the case in which a load on the unit loses most, the first of equal ones; None if it is never on."""
        return max(self.cases_on(load), key=lambda case: self.outside_run(load, case), default=None)

    def before_run(self, load: Consumer) -> MicroVolts:
        """Return what a load on the unit loses outside run and output, in its worst case."""
        if load.name not in self._before:
            case = self.worst_case(load)
            self._before[load.name] = NOTHING if case is None else MicroVolts(self.outside_run(load, case))
        return self._before[load.name]

    def parts_before_run(self, load: Consumer) -> tuple[Fraction, Fraction, Fraction]:
        """Return the same in three parts: on feed and main fuse, at its plug and switch, on return and earth point."""
        case = self.worst_case(load)
        if case is None:
            return NOTHING, NOTHING, NOTHING
        return self.feed_in(case), self.at_load(load), self.behind_load(load, case)

    def allowed_to(self, load: Consumer) -> MicroVolts:
        """Return what run and output may lose on the way to a load: what all else leaves of its limit."""
        if load.name not in self._left_to:
            limited = load.drop_limit < UNLIMITED and self.ever_on(load)
            left = MicroVolts(load.drop_limit - self.before_run(load)) if limited else UNLIMITED
            self._left_to[load.name] = left
        return self._left_to[load.name]

    def behind_only(self, load: Consumer) -> MicroVolts:
        """Return what a load that the unit does not feed loses on return and earth, in its worst case."""
        return MicroVolts(max((self.behind_load(load, case) for case in self.cases_on(load)), default=NOTHING))


def _judged_flow(site: Site) -> Flow:
    """Where another unit takes a part of the loads the feed carries no more than its largest main fuse does."""
    drawn = site.job.unit_current
    return steady_flow(
        site.job, lambda case: site.through_feed(drawn(case)), lambda case: site.through_fuse(drawn(case))
    )


def _judged_cranking(site: Site) -> Losses:
    return Losses(site, cranking_flow(site.job), Allowed(site.whole, cranking_flow(site.whole.job)))


# --- while cranking


class Cranking:
    """A site while cranking: the battery's voltage is low, and each load draws what it does at that."""

    def __init__(self, site: Site, losses: Losses | None = None) -> None:
        """Take the site, and what is lost then: judged, unless it is given, as in steady running."""
        self._job = site.job
        self.losses = losses or _judged_cranking(site)
        self.flow = self.losses.flow
        self.voltage = cranking_voltage(site.job)

    @property
    def cases(self) -> tuple[Case, ...]:
        """The cases of cranking in which anything is on."""
        return self.flow.cases

    def _left(self, lost: Fraction) -> MicroVolts:
        return MicroVolts(1000 * self.voltage - lost)

    def at_unit(self) -> MicroVolts:
        """Return the lowest voltage at the unit's supply terminal."""
        return self._left(max(map(self.losses.feed_in, self.cases), default=self.losses.feed_loss(MilliAmps(0))))

    def at_load(self, load: Consumer, run_loss: Fraction, cases: Sequence[Case]) -> MicroVolts:
        """Return the lowest voltage that reaches a load in some cases; ``run_loss`` is lost in its output and run."""
        return self._left(max(self.losses.outside_run(load, case) for case in cases) + run_loss)

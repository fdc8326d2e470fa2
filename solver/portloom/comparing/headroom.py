"""Headroom: how far a bike may grow before it no longer fits a unit; every step is solved again.

Later loads are put on the bike one after the other, in its order: with ``at`` as a load like any other,
without it by an output kept free for it. The current of every load that the unit feeds grows in steps of
10 %, its inrush with it. A larger current may ask for a larger main fuse, which lets trips pass that were
too large before, so that a step may fit where a smaller one does not: each is tried, up to the first that fails.
"""

from collections.abc import Sequence
from dataclasses import replace

from portloom.base.bike import Bike
from portloom.base.clock import Clock
from portloom.base.current import Inrush
from portloom.base.later_loads import later_of
from portloom.base.quantities import MicroAmps, MilliAmps
from portloom.base.unit import Unit
from portloom.comparing.prepared import BikeOnUnit, PreparedBike
from portloom.comparing.reason import short_reason
from portloom.comparing.row import CurrentRoom, Headroom, LaterRoom, Reason, StopReason
from portloom.documents.case_lines import case_lines
from portloom.explaining.solved import passed
from portloom.job.assignment import Assignment
from portloom.job.consumers import Consumer, Consumers
from portloom.job.laid import Laid
from portloom.search.feasibility import Impossible, any_assignment

STEP = 10
"""Per cent of the current of today."""
MOST = 300
"""Per cent: no bike draws three times as much one day."""


def headroom_of(bench: PreparedBike, unit: Unit, worst: MilliAmps, clock: Clock) -> Headroom:
    """Return how far a bike that fits may grow; ``worst`` is its worst case today."""
    return Headroom(_later(bench, unit, clock), _current(bench, unit, worst, clock))


# --- later loads


def _later(bench: PreparedBike, unit: Unit, clock: Clock) -> LaterRoom:
    bike = bench.bike
    names = tuple(load.name for load in later_of(bike))
    for count, name in enumerate(names):
        end = _ended(_with_later(bench, unit, count + 1), clock, _unplaced(bike, count + 1))
        if not isinstance(end, Laid):
            return LaterRoom(names[:count], end, name)
    return LaterRoom(names, "all", None)


def _with_later(bench: PreparedBike, unit: Unit, count: int) -> BikeOnUnit:
    """Put the first ``count`` later loads on the bike, as far as it is known where they go."""
    entries = later_of(bench.bike)
    placed = tuple(load for load in entries[:count] if load.at is not None)
    if not placed:
        return bench.on(unit)
    rest = tuple(load for load in entries if load not in placed)
    bike = bench.bike.model_copy(update={"loads": (*bench.bike.loads, *placed), "later": rest})
    return PreparedBike(bike).on(unit)


def _unplaced(bike: Bike, count: int) -> tuple[str, ...]:
    entries = later_of(bike)
    return tuple(load.name for load in entries[:count] if load.at is None)


# --- current


def _current(bench: PreparedBike, unit: Unit, worst: MilliAmps, clock: Clock) -> CurrentRoom:
    total = worst
    for percent in range(100 + STEP, MOST + STEP, STEP):
        on = bench.as_changed(bench.bike, unit, with_scaled_currents(bench.loads, percent))
        end = _ended(on, clock)
        if not isinstance(end, Laid):
            return CurrentRoom(percent - STEP, total, end, _reason(on, end))
        total = _worst(end)
    return CurrentRoom(MOST, total, "all", None)


def with_scaled_currents(loads: Consumers, percent: int) -> Consumers:
    """Return loads of which those that the unit feeds draw so many per cent of their current and inrush, rounded up."""
    return replace(
        loads,
        on_unit=tuple(_grown(load, percent) for load in loads.on_unit),
        guests=tuple(_grown(load, percent) for load in loads.guests),
    )


def _grown(load: Consumer, percent: int) -> Consumer:
    inrush = Inrush(MicroAmps(-(-load.inrush.height * percent // 100)), load.inrush.lasts)
    return replace(load, current=MilliAmps(-(-load.current * percent // 100)), inrush=inrush)


def _worst(laid: Laid) -> MilliAmps:
    """Return what goes through the feed in the worst case of a plan."""
    return max(case.current for case in case_lines(laid))


def _reason(on: BikeOnUnit, end: StopReason) -> Reason | None:
    return short_reason(on) if end == "no plan" else None


# --- one step


def _ended(on: BikeOnUnit, clock: Clock, room_for: Sequence[str] = ()) -> Laid | StopReason:
    """Return a plan of a bike that has grown, as it lies, once it passed its check; or why there is none."""
    found = any_assignment(on.job, on.rules, on.sites, clock, on.runs, room_for)
    if isinstance(found, Assignment):
        return passed((on.job,), on.rules, found).laid
    return "no plan" if isinstance(found, Impossible) else "not proved"

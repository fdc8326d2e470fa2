"""One bike tried on one unit, or on two in place of one: the figures of its best plan, or why there is none."""

from collections.abc import Sequence
from typing import assert_never

from portloom.base.bike import Bike
from portloom.base.clock import Clock, TimeIsUp
from portloom.base.quantities import Micrometres
from portloom.base.unit import Unit
from portloom.comparing.crew_of_two import reason_by_leaving_off
from portloom.comparing.headroom import headroom_of
from portloom.comparing.prepared import BikeOnUnit, PreparedBike
from portloom.comparing.reason import reason_why_not
from portloom.comparing.reason_of_two import reason_by_count
from portloom.comparing.row import Fit, FitUnknown, NoFit, OnOne, Reason, Row, RowAnswer, ThinMargin
from portloom.comparing.tables import joined, price_of
from portloom.documents.document import PlannedUnit
from portloom.documents.draw_up import draw_up
from portloom.explaining.solved import Solved, solve, solve_two
from portloom.job.laid import Laid
from portloom.margins.misses import tight_margins
from portloom.rules.margins import LimitMargin
from portloom.search.places import LimitReached, NoPlan

UNTOLD_OF_TWO = Reason("no single cause: neither ports nor currents", ())
"""Said of two units where no cheap test tells."""


def try_on(bench: PreparedBike, units: Sequence[Unit], time_limit: float | None, *, headroom: bool) -> Row:
    """Return the row of a bike on a unit, or on two in place of one; ``time_limit`` is in seconds, for this row alone.

    Headroom is told of single units. Raises FailedCheck if a plan breaks a rule, and Disagreement if two proofs differ.
    """
    clock, names = Clock(time_limit), joined(unit.unit for unit in units)
    if len(units) > 1:
        answer = _answer_of_two(bench, (units[0], units[1]), clock)
        return Row(bench.bike.bike, names, price_of(units), answer, of_two=True)
    try:
        with clock.held(unless=bench.bike.is_small):
            on = bench.on(units[0])
    except TimeIsUp:
        return Row(bench.bike.bike, names, price_of(units), FitUnknown("unknown", Micrometres(0)))
    answer = _answer(on, clock)
    room = headroom_of(bench, units[0], answer.worst, clock) if headroom and isinstance(answer, Fit) else None
    return Row(bench.bike.bike, names, price_of(units), answer, room)


def _answer(on: BikeOnUnit, clock: Clock) -> RowAnswer:
    found = solve(on.job, on.rules, on.sites, clock, on.runs)
    match found:
        case Solved():
            return _fit(found)
        case NoPlan():
            return NoFit("no plan", reason_why_not(on, clock))
        case LimitReached(bound):
            return FitUnknown("unknown", Micrometres(bound))
        case _:
            assert_never(found)


def _answer_of_two(bench: PreparedBike, units: tuple[Unit, Unit], clock: Clock) -> RowAnswer:
    """Return the answer of two units; what counting alone refuses is not searched."""
    counted = reason_by_count(bench, units)
    if counted is not None:
        return NoFit("no plan", counted)
    found = solve_two(bench.bike, *units, clock)
    match found:
        case Solved():
            return _fit(found)
        case NoPlan():
            return NoFit("no plan", UNTOLD_OF_TWO)
        case LimitReached(bound):
            return FitUnknown("unknown", Micrometres(bound))
        case _:
            assert_never(found)


def reason_of_two(bike: Bike, units: tuple[Unit, ...], *, searched: bool) -> Reason:
    """Return why two units do not do, so far as counting tells, or where it is searched, leaving loads off."""
    one, other = units
    found = reason_by_count(PreparedBike(bike), (one, other))
    if found is None and searched:
        found = reason_by_leaving_off(bike, (one, other))
    return found or UNTOLD_OF_TWO


def _fit(solved: Solved) -> Fit:
    plan = draw_up(solved.laid, solved.assignment)
    one, *second = (_on_one(unit, site.job.unit) for unit, site in zip(plan.units, solved.laid.site.units, strict=True))
    return Fit(
        status="planned",
        proven=plan.proven,
        place=one.place,
        turned=one.turned,
        cost=plan.cost,
        wire_run=plan.wire_run,
        spare_port_loss=plan.spare_port_loss,
        legs_in_use=plan.legs_in_use,
        copper_mg=plan.copper_mg,
        outputs_left=one.outputs_left,
        inputs_left=one.inputs_left,
        room_for=tuple(line.load for line in plan.room_for),
        no_room_for=plan.no_room_for,
        worst=one.worst,
        worst_case=one.worst_case,
        limit=one.limit,
        thin=_thin_of(solved.laid),
        second=second[0] if second else None,
    )


def _on_one(planned: PlannedUnit, unit: Unit) -> OnOne:
    driven = {line.port for line in planned.outputs}
    return OnOne(
        place=planned.place,
        turned=planned.turned,
        outputs_left=tuple(output.name for output in unit.outputs if output.name not in driven),
        inputs_left=planned.free_inputs,
        worst=planned.feed.worst,
        worst_case=planned.feed.worst_case,
        limit=planned.feed.limit,
    )


def _thin_of(laid: Laid) -> tuple[ThinMargin, ...]:
    """Return the limits of which a plan leaves less than a tenth, the tightest first."""
    return tuple(_thin(margin) for margin in tight_margins(laid))


def _thin(margin: LimitMargin) -> ThinMargin:
    used = 1000 * margin.share.numerator // margin.share.denominator
    return ThinMargin(margin.rule, margin.subject, margin.sentence, used)

"""One bike tried on two units in place of one: its best plan in the figures of a row, or why there is none."""

from typing import assert_never

from portloom.base.bike import Bike
from portloom.base.unit import Unit
from portloom.comparing.reason_of_two import reason_by_count
from portloom.comparing.row import Fit, FitUnknown, NoFit, OnOne, Reason, Row, RowAnswer
from portloom.comparing.tables import joined, price_of
from portloom.comparing.trial import thin_of
from portloom.comparing.workbench import Workbench
from portloom.documents.pair import UnitOfPair
from portloom.planning.pair import NoPairFits, PairPlanned, PairUnknown, plan_pair

UNTOLD = Reason("neither counting nor adding up tells why", ())
"""Said where no cheap test tells."""


def try_two(bench: Workbench, units: tuple[Unit, Unit], time_limit: float | None) -> Row:
    """Return the row of a bike on two units, at two different places; ``time_limit`` is in seconds, for this row alone.

    What counting alone refuses is not searched. Raises FailedCheck if a plan breaks a rule, and Disagreement if two
    proofs differ.
    """
    counted = reason_by_count(bench, units)
    answer = _answer(bench.bike, units, time_limit) if counted is None else NoFit("no plan", counted)
    return Row(bench.bike.bike, joined(unit.unit for unit in units), price_of(units), answer, of_two=True)


def _answer(bike: Bike, units: tuple[Unit, Unit], time_limit: float | None) -> RowAnswer:
    found = plan_pair(bike, *units, time_limit=time_limit)
    match found:
        case PairPlanned():
            return _fit(found, units)
        case NoPairFits():
            return NoFit("no plan", UNTOLD)
        case PairUnknown():
            return FitUnknown("unknown", found.bound)
        case _:
            assert_never(found)


def _fit(planned: PairPlanned, units: tuple[Unit, Unit]) -> Fit:
    plan = planned.plan
    one, other = (_on_one(*each) for each in zip(plan.units, units, strict=True))
    return Fit(
        status="planned",
        proven=plan.proven,
        place=one.place,
        turned=one.turned,
        cost=plan.cost,
        wire_run=plan.wire_run,
        spare_port_loss=plan.spare_port_loss,
        copper_mg=plan.copper_mg,
        outputs_left=one.outputs_left,
        inputs_left=one.inputs_left,
        room_for=plan.room_for,
        no_room_for=plan.no_room_for,
        worst=one.worst,
        worst_case=one.worst_case,
        limit=one.limit,
        thin=thin_of(planned.laid),
        second=other,
    )


def _on_one(planned: UnitOfPair, unit: Unit) -> OnOne:
    driven = {line.port for line in planned.outputs}
    feed = planned.feed
    return OnOne(
        place=planned.place,
        turned=planned.turned,
        outputs_left=tuple(output.name for output in unit.outputs if output.name not in driven),
        inputs_left=planned.free_inputs,
        worst=feed.worst,
        worst_case=feed.worst_case,
        limit=feed.limit,
    )

"""One bike tried on one unit: its best plan in the figures of a row, or why there is none."""

from typing import assert_never

from portloom.base.quantities import Micrometres
from portloom.base.unit import Unit
from portloom.comparing.headroom import headroom_of
from portloom.comparing.reason import short_reason
from portloom.comparing.row import Fit, FitUnknown, NoFit, Row, RowAnswer, ThinMargin
from portloom.comparing.workbench import OnUnit, Workbench
from portloom.documents.draw_up import draw_up
from portloom.explaining.solved import Solved, solve
from portloom.job.laid import Laid
from portloom.margins.misses import tight_margins
from portloom.rules.margins import Margin
from portloom.search.places import Clock, LimitReached, NoPlan


def try_on(bench: Workbench, unit: Unit, time_limit: float | None, *, headroom: bool) -> Row:
    """Return the row of a bike on a unit; ``time_limit`` is in seconds, for this row alone.

    Raises FailedCheck if a plan breaks a rule, and Disagreement if two proofs differ.
    """
    clock = Clock(time_limit)
    on = bench.on(unit)
    answer = _answer(on, clock)
    room = headroom_of(bench, unit, answer.worst, clock) if headroom and isinstance(answer, Fit) else None
    return Row(bench.bike.bike, unit.unit, unit.price, answer, room)


def _answer(on: OnUnit, clock: Clock) -> RowAnswer:
    found = solve(on.job, on.rules, on.sites, clock, on.runs)
    match found:
        case Solved():
            return _fit(found)
        case NoPlan():
            return NoFit("no plan", short_reason(on))
        case LimitReached(bound):
            return FitUnknown("unknown", Micrometres(bound))
        case _:
            assert_never(found)


def _fit(solved: Solved) -> Fit:
    plan = draw_up(solved.laid, solved.assignment)
    driven = {line.port for line in plan.outputs}
    return Fit(
        status="planned",
        proven=plan.proven,
        place=plan.place,
        turned=plan.turned,
        cost=plan.cost,
        wire_run=plan.wire_run,
        spare_port_loss=plan.spare_port_loss,
        copper_mg=plan.copper_mg,
        outputs_left=tuple(o.name for o in solved.laid.site.job.unit.outputs if o.name not in driven),
        inputs_left=plan.free_inputs,
        room_for=tuple(line.load for line in plan.room_for),
        no_room_for=plan.no_room_for,
        worst=plan.feed.worst,
        worst_case=plan.feed.worst_case,
        limit=plan.feed.limit,
        thin=thin_of(solved.laid),
    )


def thin_of(laid: Laid) -> tuple[ThinMargin, ...]:
    """Return the limits of which a plan leaves less than a tenth, the tightest first."""
    return tuple(_thin(margin) for margin in tight_margins(laid))


def _thin(margin: Margin) -> ThinMargin:
    used = 1000 * margin.share.numerator // margin.share.denominator
    return ThinMargin(margin.rule, margin.subject, margin.sentence, used)

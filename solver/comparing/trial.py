"""One bike tried on one unit: its best plan in the figures of a row, or why there is none."""

from typing import assert_never

from solver.comparing.headroom import headroom_of
from solver.comparing.reason import short_reason
from solver.comparing.row import Answer, Fit, NoFit, NotKnown, Row, ThinMargin
from solver.comparing.workbench import OnUnit, Workbench
from solver.explaining.near.misses import tight_margins
from solver.explaining.solved import Solved, solve
from solver.job.laid import Laid
from solver.plans.draw_up import draw_up
from solver.rules.margins import Margin
from solver.search.places import Clock, LimitReached, NoPlan
from solver.words.quantities import Micrometres
from solver.words.unit import Unit


def try_on(bench: Workbench, unit: Unit, time_limit: float | None, *, headroom: bool) -> Row:
    """Return the row of a bike on a unit; ``time_limit`` is in seconds, for this row alone.

    Raises FailedCheck if a plan breaks a rule, and Disagreement if two proofs differ.
    """
    clock = Clock(time_limit)
    on = bench.on(unit)
    answer = _answer(on, clock)
    room = headroom_of(bench, unit, answer.worst, clock) if headroom and isinstance(answer, Fit) else None
    return Row(bench.bike.bike, unit.unit, unit.price, answer, room)


def _answer(on: OnUnit, clock: Clock) -> Answer:
    found = solve(on.job, on.rules, on.sites, clock, on.runs)
    match found:
        case Solved():
            return _fit(found)
        case NoPlan():
            return NoFit("no plan", short_reason(on))
        case LimitReached(bound):
            return NotKnown("unknown", Micrometres(bound))
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

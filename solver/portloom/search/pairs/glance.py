"""What two seats cost at least, at a glance: each load and switch at its cheapest share on either."""

from collections.abc import Hashable, Sequence

from portloom.job.goal import cost_of, fixed_cost
from portloom.rules.two_units import together
from portloom.search.pairs.seats import Seat


def lower_bound_of(one: Seat, other: Seat) -> int:
    """Return a cost that no plan with one unit on each seat is below, in micrometres."""
    job = one.sites[0].job
    fixed = fixed_cost(one.leanest.beside(other.leanest)).total
    room = one.later | other.later
    gained = sum(cost_of(later).total for later in job.loads.later if later.consumer.name in room)
    kept = [[job.alike[load.name] for load in group] for group in together(job)]
    groups: list[Sequence[Hashable]] = [*kept, *([switch.name] for switch in job.bike.inputs)]
    groups += [[number] for number in job.alike.values() if not any(number in group for group in kept)]
    return fixed - gained + sum(_cheaper(group, one, other) for group in groups)


def _cheaper(group: Sequence[Hashable], one: Seat, other: Seat) -> int:
    """Return what a group costs at least on the unit where it costs less; nothing where no unit takes it."""
    taking = (seat.cheapest for seat in (one, other) if all(key in seat.cheapest for key in group))
    return min((sum(cheapest[key] for key in group) for cheapest in taking), default=0)

"""A plan of two units in place of one, drawn up: each unit with what is on it, and what both share."""

from collections.abc import Iterator
from dataclasses import dataclass

from portloom.base.figures import seat_said
from portloom.base.quantities import Micrometres
from portloom.documents.assumed import CAUTIONS, OF_ENERGY, assumed
from portloom.documents.document import CaseLine, FeedLine, FixedLine, InputLine, LegLine, OutputLine, RoomLine
from portloom.documents.draw_up import (
    case_lines,
    copper_of,
    fed_line,
    feed_line,
    input_line,
    leg_lines,
    other_lines,
    output_line,
    return_lines,
)
from portloom.documents.parts import also_needed
from portloom.documents.warnings import bike_warnings, unit_warnings
from portloom.job.assignment import PairAssignment, Seat
from portloom.job.laid import Laid


@dataclass(frozen=True)
class UnitOfPair:
    """One of two units: where it sits, its feed, who is on which port, and its cases against its limits."""

    unit: str
    place: str
    turned: bool
    feed: FeedLine
    outputs: tuple[OutputLine, ...]
    inputs: tuple[InputLine, ...]
    free_outputs: tuple[str, ...]
    free_inputs: tuple[str, ...]
    room_for: tuple[RoomLine, ...]
    cases: tuple[CaseLine, ...]
    warnings: tuple[str, ...]

    @property
    def seat(self) -> str:
        """Say where it sits and which way round."""
        return seat_said(self.place, turned=self.turned)


@dataclass(frozen=True)
class PairPlan:
    """A plan of two units that was checked; what both share stands beside them."""

    bike: str
    units: tuple[UnitOfPair, UnitOfPair]
    proven: bool
    bound: Micrometres
    cost: Micrometres
    wire_run: Micrometres
    spare_port_loss: Micrometres
    copper_mg: int
    fed: tuple[FixedLine, ...]
    returns: tuple[FixedLine, ...]
    other_wires: tuple[FixedLine, ...]
    legs: tuple[LegLine, ...]
    no_room_for: tuple[str, ...]
    also_needed: tuple[str, ...]
    not_used: tuple[str, ...]
    """The bike's multiplexers: with two units none is used."""
    set_aside: tuple[tuple[str, str], ...]
    assumed: tuple[str, ...]
    warnings: tuple[str, ...]
    """About the bike; what is about one unit is told with it."""
    cautions: tuple[str, ...]

    @property
    def room_for(self) -> tuple[str, ...]:
        """The later loads that there is room for, on either unit, in the order of the units' outputs."""
        return tuple(room.load for unit in self.units for room in unit.room_for)


def draw_up_pair(laid: Laid, plan: PairAssignment, multiplexers: tuple[str, ...]) -> PairPlan:
    """Return the plan in full; ``laid`` is the assignment as the check laid it again.

    ``multiplexers`` are the names of those that the bike has and that two units leave unused.
    """
    site, job = laid.site, laid.site.job
    one, other = (_unit(laid.of(unit), seat) for unit, seat in zip(site.units, plan.seats, strict=True))
    room = {line.load for seat in plan.seats for line in seat.room_for}
    return PairPlan(
        bike=job.bike.bike,
        units=(one, other),
        proven=plan.proven,
        bound=plan.bound,
        cost=plan.cost,
        wire_run=plan.wire_run,
        spare_port_loss=plan.spare_port_loss,
        copper_mg=copper_of(laid),
        fed=tuple(fed_line(site, wire) for wire in site.fixed_of("fed load")),
        returns=tuple(return_lines(site)),
        other_wires=tuple(other_lines(site)),
        legs=tuple(leg_lines(laid)),
        no_room_for=tuple(x.consumer.name for x in job.loads.later if x.consumer.name not in room),
        also_needed=also_needed(laid),
        not_used=multiplexers,
        set_aside=tuple(job.bike.set_aside.items()),
        assumed=tuple(_assumed(laid)),
        warnings=bike_warnings(laid),
        cautions=CAUTIONS,
    )


def _assumed(laid: Laid) -> Iterator[str]:
    """Return what was assumed with either unit, each line once; no energy is summed."""
    for line in dict.fromkeys(line for unit in laid.site.units for line in assumed(laid.of(unit))):
        if not line.startswith(OF_ENERGY):
            yield line


def _unit(laid: Laid, seat: Seat) -> UnitOfPair:
    unit = laid.site.job.unit
    used = {line.port for line in seat.outputs} | {room.port for room in seat.room_for}
    read = {line.port for line in seat.inputs}
    cases = tuple(case_lines(laid))
    return UnitOfPair(
        unit=unit.unit,
        place=seat.place,
        turned=seat.turned,
        feed=feed_line(laid, cases),
        outputs=tuple(output_line(wired) for wired in laid.outputs),
        inputs=tuple(input_line(switches) for switches in laid.inputs),
        free_outputs=tuple(output.name for output in unit.outputs if output.name not in used),
        free_inputs=tuple(port.name for port in unit.inputs if port.name not in read),
        room_for=tuple(RoomLine(line.load, line.port) for line in seat.room_for),
        cases=cases,
        warnings=unit_warnings(laid),
    )

"""The battery's own leads and the earth straps, which no plan may leave out: outside the looms and the goal's wire run.

They are sized, cut and told with what they lose where the file says what the starter motor draws and where it sits;
else they are as thick as the bike's maker has them. No fuse is in them: 33 CFR 183.460 excepts the feed of a cranking
motor (from memory).
"""

from collections.abc import Iterator
from fractions import Fraction
from typing import Literal

from portloom.base.drop import conductor_temperature
from portloom.base.leads import BATTERY_STRAP, ENGINE_STRAP, LEAD, RESISTANCES, SHORTEST, lead_drop, lead_size
from portloom.base.parts.others import STARTER_MOTOR
from portloom.base.quantities import Micrometres, MilliAmps, MilliVolts
from portloom.base.sizes import WireSize
from portloom.base.values import dataclass
from portloom.documents.cut import cut_length
from portloom.documents.wiring.lines import battery, earth_end, negative_pole
from portloom.documents.wiring.wire import WireEnd
from portloom.job.flow import cranking_voltage
from portloom.job.job import Job
from portloom.job.network import Run

LeadName = Literal["battery lead", "engine strap", "battery strap"]


@dataclass(frozen=True)
class BatteryLead:
    """A lead or strap that the starter's current flows in, as it is cut."""

    number: str
    """'L1' and on, so that no wire of the list is called the same."""
    name: LeadName
    start: WireEnd
    end: WireEnd
    run: Micrometres
    """Along the frame; no shorter than a lead can be."""
    cut: Micrometres
    legs: tuple[str, ...]
    current: MilliAmps
    """What the starter motor draws."""
    size: WireSize | None
    """None where the thickest loses too much, or gets too hot."""
    loses: Fraction | None
    """Microvolts while cranking, in that size."""
    may_lose: MilliVolts

    @property
    def size_told(self) -> str:
        """Its size as lists have it."""
        return f"thicker than {[*RESISTANCES][-1].label}" if self.size is None else self.size.label

    @property
    def colour(self) -> str:
        """Red from the battery's plus, black towards its minus (common practice, no source)."""
        return "RD" if self.name == "battery lead" else "BK"

    @property
    def ends(self) -> tuple[WireEnd, WireEnd]:
        """Both ends, the start first."""
        return self.start, self.end


def battery_leads(job: Job) -> tuple[BatteryLead, ...]:
    """Return the lead to the starter motor, the engine's strap and the battery's; none where no size can be told.

    That is where the file does not say what the starter draws, or no leg leads there from the battery.
    """
    starter = job.bike.supply.starter
    if starter is None or starter.draws is None:
        return ()
    way = job.network.wire(job.bike.supply.battery.at, starter.at)
    return () if way is None else tuple(_leads(job, starter.at, way, starter.draws))


def starter_voltage(job: Job) -> Fraction | None:
    """Return what the starter motor has while cranking, in microvolts; None where a lead's drop is not known."""
    lost = [lead.loses for lead in battery_leads(job)]
    known = [drop for drop in lost if drop is not None]
    all_known = lost and len(known) == len(lost)
    return 1000 * cranking_voltage(job) - sum(known, Fraction(0)) if all_known else None


def _leads(job: Job, sits: str, way: Run, draws: MilliAmps) -> Iterator[BatteryLead]:
    network, earths, at = job.network, job.bike.frame.earth, job.bike.supply.battery.at
    strapped, strap = network.nearest(sits, earths)
    earthed, own = network.nearest(at, earths)
    motor, engine = WireEnd("elsewhere", STARTER_MOTOR.name, sits), WireEnd("elsewhere", "engine", sits)
    yield _lead(job, 1, "battery lead", (battery(at), motor), way, draws)
    yield _lead(job, 2, "engine strap", (engine, earth_end(strapped)), strap, draws)
    yield _lead(job, 3, "battery strap", (earth_end(earthed), negative_pole(at)), own, draws)


MAY_LOSE: dict[LeadName, MilliVolts] = {
    "battery lead": LEAD,
    "engine strap": ENGINE_STRAP,
    "battery strap": BATTERY_STRAP,
}


def _lead(
    job: Job, number: int, name: LeadName, ends: tuple[WireEnd, WireEnd], run: Run, draws: MilliAmps
) -> BatteryLead:
    legs = [job.network.legs[leg] for leg in run.legs]
    long, may_lose = Micrometres(max(run.length, SHORTEST)), MAY_LOSE[name]
    along = [(leg.length, conductor_temperature(leg.ambient)) for leg in legs]
    stretches = [*along, (Micrometres(long - run.length), conductor_temperature(None))]
    size = lead_size(draws, stretches, may_lose)
    return BatteryLead(
        number=f"L{number}",
        name=name,
        start=ends[0],
        end=ends[1],
        run=long,
        cut=cut_length(job, run.legs, ("battery", "battery"), Micrometres(long - run.length)),
        legs=tuple(leg.label for leg in legs),
        current=draws,
        size=size,
        loses=None if size is None else lead_drop(size, draws, stretches),
        may_lose=may_lose,
    )

"""What else is needed beside wire, and never left out."""

from collections.abc import Iterator

from portloom.base.current import current_of_power
from portloom.base.figures import amperes, listed
from portloom.base.fuses import fuse_for
from portloom.base.quantities import MilliAmps, MilliWatts
from portloom.base.vocabulary import START
from portloom.documents.wiring.leads import battery_leads
from portloom.job.consumers import FedLoad
from portloom.job.job import Job
from portloom.job.laid import Laid


def also_needed(laid: Laid) -> tuple[str, ...]:
    """Return the parts of a plan that are no wire: straps, diodes, suppressors, relays, fuses."""
    job = laid.site.job
    return (
        _straps(job),
        *_regulator(job),
        *(f"a fuse of {amperes(fuse)} and {_by(fed.by)} for {fed.consumer.name}" for fed, fuse in _fed(job)),
        *_diodes(job),
        *(
            f"a diode or suppressor at {load.name}, across it"
            for load in (*job.loads.on_unit, *job.loads.guests)
            if load.suppressed
        ),
    )


def _straps(job: Job) -> str:
    """Return the earth straps, and the battery's lead where there is a starter motor to lead it to."""
    leads = battery_leads(job)
    if leads:
        lead, engine, own = (f"{lead.number}, {lead.size_told}" for lead in leads)
        return (
            f"the battery's lead to the starter motor ({lead}), an earth strap from engine to frame ({engine}), and "
            f"one from frame to the battery's negative pole ({own})"
        )
    straps = "an earth strap from engine to frame, and one from frame to the battery's negative pole"
    if not any(START in load.modes for load in job.loads.on_unit):
        return straps
    said = "'supply: {starter: {draws: 120 A, at: engine}}'"
    return f"{straps}, like the battery's lead as the bike's maker has them; {said} sizes all three"


def _by(by: str) -> str:
    return "a relay" if by == "relay" else "its holder, at the battery,"


def _fed(job: Job) -> Iterator[tuple[FedLoad, MilliAmps]]:
    return ((fed, fuse_for(fed.consumer.current) or MilliAmps(0)) for fed in job.loads.fed)


def _diodes(job: Job) -> Iterator[str]:
    for guest in (guest for guest in job.loads.guests if len(guest.feeders) > 1):
        yield f"a diode at {guest.name} from each of {listed(guest.feeders)}, pointing to {guest.name}"


def _regulator(job: Job) -> Iterator[str]:
    fuse = regulator_fuse(job)
    if job.bike.supply.charging is None:
        yield (
            "a fuse of its own in the regulator's lead, where there is a regulator: it goes to the battery side, never "
            "to the unit; how large, 'charging' in the bike's file or the regulator's maker says"
        )
    if fuse is not None:
        yield f"a fuse of {amperes(fuse)} in the regulator's lead, which goes to the battery, never to the unit"


def regulator_fuse(job: Job) -> MilliAmps | None:
    """Return the fuse of the regulator's lead; None where none is known, or the lead joins the unit's side."""
    charging = job.bike.supply.charging
    if charging is None or charging.joins == "unit":
        return None
    most = current_of_power(MilliWatts(max(charging.idle or 0, charging.cruise or 0)), job.bike.supply.running)
    return charging.fuse or fuse_for(most)

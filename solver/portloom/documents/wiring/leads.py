"""The battery's own leads and the earth straps, which no plan may leave out."""

from collections.abc import Iterator

from portloom.base.bike import Starter
from portloom.base.figures import amperes, limit_volts, millimetres
from portloom.base.leads import BATTERY_STRAP, ENGINE_STRAP, LEAD, RESISTANCES, SHORTEST, lead_size
from portloom.base.quantities import MilliVolts
from portloom.base.vocabulary import START
from portloom.documents.wiring.parts import PartsLine, pieces
from portloom.job.job import Job
from portloom.job.network import Run

NOT_SAID = "as the bike's maker has it, or one size up: the file does not say what the starter draws"
STRAP_IS_KEPT = "never leave it out"


def lead_parts(job: Job) -> Iterator[PartsLine]:
    """Return the battery's lead to the starter, the engine's strap and the battery's own.

    They are sized where the file says what the starter motor draws.
    """
    battery, starter = job.bike.supply.battery.at, job.bike.supply.starter
    sits = None if starter is None else starter.at
    cranks = starter is not None or any(START in load.modes for load in job.loads.on_unit)
    motor = "battery to starter motor" + ", where there is one" * (not cranks)
    lead = ("battery lead", motor, job.network.wire(battery, sits) if sits else None)
    engine = ("earth strap", "engine to frame", job.network.nearest(sits, job.bike.frame.earth)[1] if sits else None)
    own = ("earth strap", "frame to the battery's negative pole", job.network.nearest(battery, job.bike.frame.earth)[1])
    for (what, where, run), may_lose in ((lead, LEAD), (engine, ENGINE_STRAP), (own, BATTERY_STRAP)):
        size, note = _size(starter, run, may_lose)
        kept = f"{STRAP_IS_KEPT}; {note}" if what == "earth strap" else note
        yield pieces("battery leads and straps", what, size, 1, where, kept)


def _size(starter: Starter | None, run: Run | None, may_lose: MilliVolts) -> tuple[str, str]:
    """Return the size of a lead, and what it rests on."""
    if starter is None or starter.draws is None or run is None:
        return "as thick as the bike's maker has it", NOT_SAID
    length = max(run.length, SHORTEST)
    size = lead_size(starter.draws, length, may_lose)
    along, limit = f"{millimetres(length)} at {amperes(starter.draws)}", limit_volts(1000 * may_lose)
    if size is None:
        thickest = [*RESISTANCES][-1].label
        return f"thicker than {thickest}", f"{along} lose more than {limit} in {thickest}, or overheat it"
    return f"{size.label} or thicker", f"{along} may lose {limit}"

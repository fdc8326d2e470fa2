"""The battery's leads and the earth straps as parts that must be at hand, with what is crimped on their ends."""

from collections.abc import Iterator

from portloom.base.figures import amperes, limit_volts, millimetres, volts
from portloom.base.vocabulary import START
from portloom.documents.wiring.leads import BatteryLead, LeadName, battery_leads
from portloom.documents.wiring.parts import PartsLine, pieces
from portloom.job.job import Job

NOT_SAID = "as the bike's maker has it, or one size up: the file does not say what the starter draws"
STRAP_IS_KEPT = "never leave it out"
WHERE: dict[LeadName, str] = {
    "battery lead": "battery to starter motor",
    "engine strap": "engine to frame",
    "battery strap": "frame to the battery's negative pole",
}


def lead_parts(job: Job) -> Iterator[PartsLine]:
    """Return the battery's lead to the starter, the engine's strap and the battery's own.

    They are sized where the file says what the starter motor draws.
    """
    sized = {lead.name: lead for lead in battery_leads(job)}
    cranks = job.bike.supply.starter is not None or any(START in load.modes for load in job.loads.on_unit)
    for name, where in WHERE.items():
        what = "battery lead" if name == "battery lead" else "earth strap"
        goes = where + ", where there is one" * (name == "battery lead" and not cranks)
        size, note = _size(sized[name]) if name in sized else ("as thick as the bike's maker has it", NOT_SAID)
        kept = f"{STRAP_IS_KEPT}; {note}" if what == "earth strap" else note
        yield pieces("battery leads and straps", what, size, 1, goes, kept)


def lead_terminals(job: Job) -> Iterator[PartsLine]:
    """Return the ring terminals of those that have a size, one at each end."""
    for lead in battery_leads(job):
        if lead.size is not None:
            what = "ring terminal, hole to suit the bolt"
            yield pieces("terminals", what, f"for {lead.size.label}", 2, f"{lead.number}, {lead.name}")


def _size(lead: BatteryLead) -> tuple[str, str]:
    """Return the size of a lead, and what it rests on."""
    along, limit = f"{millimetres(lead.run)} at {amperes(lead.current)}", limit_volts(1000 * lead.may_lose)
    cut = f"{lead.number}, cut {millimetres(lead.cut)}"
    if lead.loses is None:
        thickest = lead.size_told.removeprefix("thicker than ")
        return lead.size_told, f"{cut}; {along} lose more than {limit} in {thickest}, or overheat it"
    return f"{lead.size_told} or thicker", f"{cut}; {along} lose {volts(lead.loses)}, may lose {limit}"

"""What goes through a unit and its banks in each case, by what the unit feeds."""

from collections.abc import Iterable, Iterator

from portloom.base.quantities import MilliAmps
from portloom.documents.document import CaseLine
from portloom.job.cases import Case, named_for
from portloom.job.laid import Laid
from portloom.job.wired import WiredOutput


def case_lines(laid: Laid) -> Iterator[CaseLine]:
    """Return every case of what the unit feeds, by that alone, with what goes through the unit and its banks."""
    loads = tuple(load for wired in laid.outputs for load in wired.circuit.members)
    lines = (case_line(laid, named_for(case, loads)) for case in laid.site.job.cases)
    yield from {line.label: line for line in lines}.values()


def case_line(laid: Laid, case: Case) -> CaseLine:
    """Return what goes through a unit and its banks in a case."""
    job = laid.site.job
    on = [wired for wired in laid.outputs if job.circuit_on(wired.circuit, case)]
    banks = tuple((name, _sum(w for w in on if w.output.bank == name), limit) for name, limit in job.unit.banks.items())
    return CaseLine(case.state, case.events, case.label, _sum(on), job.unit.feed.limit, banks)


def _sum(wired: Iterable[WiredOutput]) -> MilliAmps:
    return MilliAmps(sum(one.circuit.current for one in wired))

"""What is cut for a wire, and its way by the names of its legs."""

from portloom.base.quantities import Micrometres
from portloom.documents.document import WireLine
from portloom.job.job import Job
from portloom.job.network import Run


def cut_length(job: Job, run: Run) -> Micrometres:
    """Return what is cut for a run: the run, its share of margin (rounded up), and both ends."""
    margin = job.bike.margin
    return Micrometres(run.length - (-run.length * margin.share // 10_000) + margin.ends)


def wire_line(job: Job, run: Run) -> WireLine:
    """Return a wire as it is told; one that ends where it starts is no wire."""
    labels = tuple(job.network.legs[number].label for number in run.legs)
    return WireLine(run.length, cut_length(job, run) if run.legs else Micrometres(0), labels)

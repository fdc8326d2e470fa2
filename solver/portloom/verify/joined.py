"""Whether wires join what they are to join: legs that form one wire, as long as it says, on no leg to avoid."""

from portloom.base.quantities import Micrometres, MilliAmps
from portloom.job.job import Job
from portloom.job.network import Run
from portloom.job.routed import DisconnectedRoute, paths
from portloom.rules.clash import Clash
from portloom.rules.faults import not_wired


class CannotBeLaid(Exception):
    """A plan that can't be laid: names that are unknown, or wires that do not join their ends."""

    def __init__(self, clash: Clash) -> None:
        """Take what is broken."""
        super().__init__(clash.sentence)
        self.clash = clash


def check_avoided(job: Job, name: str, run: Run, avoid: frozenset[str]) -> None:
    """Raise CannotBeLaid where a wire follows a leg that one of its loads avoids."""
    followed = sorted(job.network.numbers_of(avoid).intersection(run.legs))
    if followed:
        label = job.network.legs[followed[0]].label
        raise CannotBeLaid(not_wired(name, f"{name}: its wire follows {label}, which it must avoid"))


def check_run(job: Job, name: str, run: Run, ends: tuple[str, ...]) -> None:
    """Raise CannotBeLaid unless the legs form one wire that joins the ends and is as long as it says."""
    try:
        paths(job.network, run, ends[0], dict.fromkeys(ends[1:], MilliAmps(0)), ())
    except DisconnectedRoute as route:
        raise CannotBeLaid(not_wired(name, f"{name}: {route}")) from route
    length = sum(job.network.legs[number].length for number in run.legs)
    if Micrometres(length) != run.length:
        raise CannotBeLaid(not_wired(name, f"{name}: its legs are not as long as it says"))

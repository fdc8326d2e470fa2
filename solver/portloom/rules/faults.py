"""What is wrong with a plan before any rule can judge it, each under the rule by which it is told.

A name that is unknown, a wire that does not join its ends, a claim that is not so.
"""

from collections.abc import Iterable

from portloom.base.figures import listed
from portloom.job.circuits import OutputCircuit
from portloom.job.job import Job
from portloom.job.kinds import PortDirection
from portloom.rules.clash import Clash


def not_wired(subject: str, sentence: str) -> Clash:
    """Return that something is wired wrongly, or not at all."""
    return Clash("cover", subject, sentence)


def wrong_port(ports: PortDirection, subject: str, sentence: str) -> Clash:
    """Return that an output or an input is not there, or used twice."""
    return Clash(ports, subject, sentence)


def wrong_wire(subject: str, sentence: str) -> Clash:
    """Return that a wire is not as it must be."""
    return Clash("wire", subject, sentence)


def wrong_multiplexer(subject: str, sentence: str) -> Clash:
    """Return that a multiplexer, or a switch on it, is not there."""
    return Clash("multiplexer", subject, sentence)


def too_many_on(ports: PortDirection, port: str, subject: str, many: int, most: int) -> Clash:
    """Return that more loads, or switches, are on a port than may ever share one."""
    if ports == "outputs":
        return Clash("share", subject, f"{many} loads are on {port}, {most} may share one at most")
    return Clash("signal", subject, f"{many} switches are on {port}, {most} may share one at most")


def no_wire_to(start: str, circuit: OutputCircuit, job: Job) -> Clash:
    """Return that no wire leads to a circuit without the legs that its loads avoid."""
    return wrong_wire(circuit.label, no_way(start, circuit.label, circuit.avoid, job))


def no_way(start: str, end: str, avoided: Iterable[str], job: Job) -> str:
    """Say that a wire may use none of the legs that lead somewhere."""
    legs = [leg.label for leg in job.network.legs if leg.label in set(avoided)]
    return f"no path from {start} to {end} avoids {listed(legs)}, as its wire must"

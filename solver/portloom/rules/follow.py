"""An output that follows an input drives only loads that a switch on that input operates."""

from collections.abc import Iterator

from portloom.base.unit import Output, Port
from portloom.job.circuits import InputCircuit, OutputCircuit
from portloom.job.job import Job
from portloom.rules.facts import at_port
from portloom.rules.posted import OfPosts
from portloom.rules.shapes import Need, Rule


def _link(job: Job, circuit: OutputCircuit, output: Output) -> Iterator[Need]:
    if output.follow is None:
        return

    def operates_all(switches: InputCircuit, port: Port | None) -> bool:
        names = {switch.name for switch in switches.switches}
        return port is not None and port.name == output.follow and bool(names & circuit.operated_by)

    follows = f"{output.name} does what the switch on {output.follow} says"
    sentence = f"{follows}, and no switch there operates {circuit.said}"
    at = at_port(job, "outputs", output.name, "follow")
    alike = ("follow", output.follow, circuit.operated_by)
    yield Need(operates_all, sentence, output.follow, fact=follows, at=at, alike=alike)


RULE = Rule(
    slug="follow",
    protects="loads from being operated by any switch but their own",
    source="the unit's profile",
    right="one of the switches that operate the load on the input that its output follows, or an output that "
    "follows none",
    link=_link,
    posts=OfPosts(needs="which switch operates what", wants=("inputs",)),
)

"""Mode ``engine-run`` only where an input tells the unit that the engine turns."""

from collections.abc import Iterator

from solver.job.circuits import OutputCircuit
from solver.job.job import Job
from solver.rules.posted import OfPosts
from solver.rules.shapes import Need, Rule, told
from solver.words.bike import Told
from solver.words.unit import Output

MODE = "engine-run"
TOLD: Told = "engine turning"


def _link(job: Job, circuit: OutputCircuit, output: Output) -> Iterator[Need]:
    if MODE in circuit.modes:
        yield told(TOLD, circuit, "must run only while the engine turns")


RULE = Rule(
    slug="engine-run",
    protects="that the fuel pump stops when the engine stops",
    about="start and run",
    source="common practice, no source",
    link=_link,
    posts=OfPosts(needs="whether an input tells it that the engine turns"),
)

"""Mode ``engine-run`` only where an input tells the unit that the engine turns."""

from collections.abc import Iterator

from portloom.base.unit import Output
from portloom.base.vocabulary import ENGINE_RUN, Told
from portloom.job.circuits import OutputCircuit
from portloom.job.job import Job
from portloom.rules.posted import OfPosts
from portloom.rules.shapes import Need, Rule, told

TOLD: Told = "engine turning"


def _link(job: Job, circuit: OutputCircuit, output: Output) -> Iterator[Need]:
    if ENGINE_RUN in circuit.modes:
        yield told(TOLD, circuit, "must run only while the engine turns")


RULE = Rule(
    slug="engine-run",
    protects="the rider from a fuel pump that runs on when the engine stops",
    about="start and run",
    source="common practice, no source",
    right="an input that tells the unit 'engine turning', such as an engine speed signal; or another mode where the"
    " pump is not the unit's to run: 'pump_by: controller'",
    of_load=lambda part: ENGINE_RUN in part.modes,
    of_switch=lambda part: TOLD in part.tells,
    link=_link,
    posts=OfPosts(needs="whether an input tells it that the engine is turning", wants=("inputs",)),
)

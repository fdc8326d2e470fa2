"""Loads that are on with the key off need an output that stays live then."""

from portloom.base.figures import with_verb
from portloom.base.parts.loads import is_watched
from portloom.base.unit import Output
from portloom.job.circuits import OutputCircuit
from portloom.job.job import Job
from portloom.rules.posted import OfPosts
from portloom.rules.practice import FOR_STATE, LIVE, key_off_want, wanted_with_key_off
from portloom.rules.shapes import Rule, Said

SAID = {"asleep": "with the bike asleep", "parked": "with the bike parked", "run-on": "in the run-on"}


def _fit(job: Job, circuit: OutputCircuit, output: Output) -> Said:
    for load in circuit.loads:
        want = key_off_want(job, load)
        if want is not None and LIVE.index(output.key_off) < LIVE.index(want[0]):
            live = (
                "is never live with the key off"
                if output.key_off == "never"
                else "stays live only for a time with the key off"
            )
            return f"{with_verb(load.name, 'is on')} {SAID[want[1]]}, {with_verb(output.name, live)}"
    return None


def _eased(job: Job, name: str) -> str:
    """Say what takes it off the outputs where it is on with the bike asleep: a fused feed."""
    load = next(load for load in job.loads.on_unit if load.name == name)
    return "say 'fed: fuse'" if "asleep" in load.when and not is_watched(load.part) else ""


RULE = Rule(
    slug="key-off",
    protects="parking lamps, clocks and fans that must work with the key off",
    source="the unit's profile",
    right="an output that is live with the key off ('key_off: always', or 'timed' for a time), a fused feed ('fed: "
    "fuse'), or no such state in the load's 'when'",
    of_load=lambda part: bool(set(FOR_STATE) & set(part.when)),
    output_fit=_fit,
    eased=_eased,
    posts=OfPosts(
        needs="what stays on with the key off",
        judged=lambda plan: any(wanted_with_key_off(plan.job, one.circuit) != "never" for one in plan.drives()),
    ),
)

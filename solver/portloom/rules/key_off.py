"""Loads that are on with the key off need an output that stays live then."""

from portloom.base.figures import does
from portloom.base.unit import KeyOff, Output
from portloom.job.circuits import OutputCircuit
from portloom.job.consumers import Consumer
from portloom.job.job import Job
from portloom.rules.posted import OfPosts
from portloom.rules.shapes import Rule, Said

RANK: dict[KeyOff, int] = {"never": 0, "timed": 1, "always": 2}
FOR_STATE: dict[str, KeyOff] = {"asleep": "always", "parked": "timed", "run-on": "timed"}
SAID = {"asleep": "with the bike asleep", "parked": "with the bike parked", "run-on": "in the run-on"}


def wanted_with_key_off(job: Job, circuit: OutputCircuit) -> KeyOff:
    """Return what the loads of a circuit want of their output with the key off."""
    wants = [want[0] for load in circuit.loads if (want := _wanted(job, load)) is not None]
    return max(wants, key=lambda want: RANK[want], default="never")


def _wanted(job: Job, load: Consumer) -> tuple[KeyOff, str] | None:
    """Return what a load wants of its output with the key off, and the state for which."""
    states = job.states_of(load)
    wants: list[tuple[KeyOff, str]] = [(FOR_STATE[state], state) for state in FOR_STATE if state in states]
    if load.runs_on:
        wants.append(("timed", "run-on"))
    return max(wants, key=lambda want: RANK[want[0]], default=None)


def _fit(job: Job, circuit: OutputCircuit, output: Output) -> Said:
    for load in circuit.loads:
        want = _wanted(job, load)
        if want is not None and RANK[output.key_off] < RANK[want[0]]:
            live = "is never live with the key off" if output.key_off == "never" else "is live only for a time then"
            return f"{does(load.name, 'is on')} {SAID[want[1]]}, {does(output.name, live)}"
    return None


RULE = Rule(
    slug="key-off",
    protects="that parking lamps, clocks and fans work with the key off",
    source="the unit's profile",
    output_fit=_fit,
    posts=OfPosts(needs="what stays on with the key off"),
)

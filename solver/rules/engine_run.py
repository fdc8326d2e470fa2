"""Mode ``engine-run`` only where an input tells the unit that the engine turns."""

from solver.job.circuits import InputCircuit, OutputCircuit
from solver.job.job import Job
from solver.rules.shapes import Need, Rule
from solver.words.unit import Output, Port

MODE = "engine-run"
TOLD = "engine turning"


def _link(job: Job, circuit: OutputCircuit, output: Output) -> Need | None:
    if MODE not in circuit.modes:
        return None
    sentence = f"{circuit.label} runs while the engine turns, and no input tells the unit 'engine turning'"
    return Need(_tells_it, sentence)


def _tells_it(circuit: InputCircuit, port: Port) -> bool:
    return any(TOLD in switch.tells for switch in circuit.switches)


RULE = Rule(
    slug="engine-run",
    protects="that the fuel pump stops when the engine stops",
    source="common practice, no source",
    link=_link,
)

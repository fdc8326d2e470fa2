"""What may let an output come on: what start, run and engine-run rest on, with the inputs that tell it."""

from collections.abc import Iterator, Mapping

from solver.job.circuits import OutputCircuit
from solver.rules.engine_run import MODE as ENGINE_RUN
from solver.rules.engine_stop import drives_engine
from solver.rules.start import MODE as START
from solver.rules.start import may_crank
from solver.words.bike import Told
from solver.words.figures import listed


def conditions(circuit: OutputCircuit, told: Mapping[Told, list[str]]) -> Iterator[str]:
    """Return the sentences that hold for an output, from what is told and by which inputs: 'in 5'.

    What nothing tells can't be set, so nothing is said of it. The rules say what must be told.
    """
    at = {what: f" ({listed(inputs)})" for what, inputs in told.items()}
    if START in circuit.modes:
        crank = may_crank(at)
        if crank:
            yield f"cranks {crank}"
    if drives_engine(circuit):
        yield from _runs(at)
    if ENGINE_RUN in circuit.modes and "engine turning" in at:
        yield f"only while the engine turns{at['engine turning']}"


def _runs(at: Mapping[Told, str]) -> Iterator[str]:
    if "engine stop" in at:
        yield f"off with engine stop{at['engine stop']}"
    if "side stand" in at:
        yield f"off with the side stand down{at['side stand']}" + (
            f", unless in neutral{at['neutral']}" if "neutral" in at else ""
        )

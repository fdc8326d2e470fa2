"""Who may go where with a built loom in plans that touch nothing which can stay: few, and mostly enough (K5)."""

from collections.abc import Iterable, Mapping
from dataclasses import replace

from portloom.base.bike import Switch
from portloom.job.consumers import Consumer
from portloom.job.losses import Losses
from portloom.job.site import Site
from portloom.job.touching import TouchedKind, touchable
from portloom.search.as_built import staying_input, staying_output
from portloom.search.candidates import Candidates

Names = frozenset[str]
Held = Mapping[str, Names]
"""By the ports on which what is built can stay, the names of the loads or switches that it holds."""


def where_all_stays(site: Site, pairs: Candidates) -> tuple[Candidates, frozenset[tuple[TouchedKind, str]]]:
    """Return the pairs of plans that touch no output or input on which what is built can stay, and these ports.

    Whether the rules still allow what is built there is not asked.
    """
    losses = Losses(site)
    on_outputs = (
        kind.ports[0].name for circuit, kind in pairs.outputs if any(staying_output(site, losses, circuit, kind))
    )
    on_inputs = (kind.ports[0].name for circuit, kind in pairs.inputs if any(staying_input(site, circuit, kind)))
    outputs, inputs = _held(site, "output", on_outputs), _held(site, "input", on_inputs)
    few = replace(
        pairs,
        outputs=tuple(
            (circuit, kind)
            for circuit, kind in pairs.outputs
            if _touches_none(_names(circuit.loads), _names(circuit.members), kind.ports[0].name, outputs)
        ),
        later=tuple(entry for entry in pairs.later if entry[1].ports[0].name not in outputs),
        inputs=tuple(
            (circuit, kind)
            for circuit, kind in pairs.inputs
            if _touches_none(_names(circuit.switches), _names(circuit.switches), kind.ports[0].name, inputs)
        ),
    )
    ports: tuple[tuple[TouchedKind, Held], ...] = (("output", outputs), ("input", inputs))
    return few, frozenset((what, port) for what, held in ports for port in held)


def _held(site: Site, kind: TouchedKind, ports: Iterable[str]) -> Held:
    here = frozenset(ports)
    return {what.name: names for what, names in touchable(site.job) if what.kind == kind and what.name in here}


def _touches_none(has: Names, alone: Names, port: str, held: Held) -> bool:
    """Tell whether a circuit on a port leaves what is held where it is.

    Of what it ``has`` that is ``alone`` on no other port: not what is fed from two outputs.
    """
    own = held.get(port, frozenset())
    return has >= own and all(alone.isdisjoint(others) for other, others in held.items() if other != port)


def _names(loads: Iterable[Consumer | Switch]) -> Names:
    return frozenset(load.name for load in loads)

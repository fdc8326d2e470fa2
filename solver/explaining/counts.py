"""Crowds as counts: 'Four loads need a dimming output; the eleven-way has three, out 9 to out 11.'."""

from collections.abc import Sequence

from solver.explaining.crowds import wanting
from solver.explaining.kept import Whole, part_of
from solver.job.kinds import input_kinds, output_kinds
from solver.rules.facts import FactKey
from solver.rules.mode import output_for
from solver.rules.signal import input_for
from solver.words.figures import capital, counted, listed, number_word, port_range

FEW = 4
"""So many things of a crowd are named in its sentence."""


def crowd_sentence(whole: Whole, keys: Sequence[FactKey]) -> str:
    """Tell a crowd by how many things want how few ports."""
    return _of(whole, keys, "outputs") if any(key[0] == "outputs" for key in keys) else _of(whole, keys, "inputs")


def _of(whole: Whole, keys: Sequence[FactKey], ports: str) -> str:
    thing, port = ("load", "output") if ports == "outputs" else ("switch", "input")
    here = [key[1] for key in keys if key[0] == thing]
    firsts = [key[1] for key in keys if key[0] == ports]
    names = ports_of(whole, keys, ports)
    order = [p.name for p in (whole.job.unit.outputs if ports == "outputs" else whole.job.unit.inputs)]
    many = max(len(here), len(wanting(part_of(whole, whole.keys), ports, firsts)))
    named = f", {listed(here)}," if many == len(here) <= FEW else ""
    what = f"{capital(counted(many, thing))}{named}"
    which = port_range(names, order)
    need = _need(whole, keys, here, ports)
    if len(names) == len(order) and not need:
        need = f"an {port} of their own"
    said = (
        f"{what} need {need}; the {whole.job.unit.unit} has {number_word(len(names))}, {which}."
        if need
        else f"{what} can only go on {counted(len(names), port)}, {which}."
    )
    return f"{said} These {number_word(len(here))} are one too many already." if many > len(here) else said


def ports_of(whole: Whole, keys: Sequence[FactKey], ports: str) -> list[str]:
    """Give every port, 'outputs' or 'inputs', of the kinds that a conflict counts."""
    firsts = [key[1] for key in keys if key[0] == ports]
    kinds = output_kinds(whole.job.unit) if ports == "outputs" else input_kinds(whole.job.unit)
    return [port.name for kind in kinds if kind.ports[0].name in firsts for port in kind.ports]


def _need(whole: Whole, keys: Sequence[FactKey], here: Sequence[str], ports: str) -> str:
    """Say what all of a crowd want of their ports, where that alone decides; else nothing."""
    if ports == "inputs":
        signals = {switch.signal for switch in whole.job.bike.inputs if ("signal", switch.name) in keys}
        every = all(("signal", name) in keys for name in here)
        return input_for(next(iter(signals))) if every and len(signals) == 1 else ""
    if not all(("mode", name) in keys for name in here) or any(key[0] in ("current", "inrush", "kind") for key in keys):
        return ""
    modes = [load.modes for load in whole.job.loads.on_unit if load.name in here]
    common = sorted(frozenset.intersection(*modes))
    return output_for(common) if common else ""

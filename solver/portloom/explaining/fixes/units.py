"""A bigger unit in place of the one that was asked for."""

from collections.abc import Iterator, Sequence

from portloom.base.unit import Unit
from portloom.explaining.conflicts.kept import Instance
from portloom.explaining.fixes.change import Change

KIND = "bigger unit"
EFFORT = 10
"""For each size up."""


def proposals(instance: Instance, known: Sequence[Unit]) -> Iterator[Change]:
    """Each known unit with more outputs, or as many and more inputs, smallest first; each step is one size up."""
    bigger = sorted((unit for unit in known if _size(unit) > _size(instance.job.unit)), key=_size)
    for step, unit in enumerate(bigger, 1):
        yield Change(
            kind=KIND,
            effort=EFFORT * step,
            sentence=f"take the {unit.unit} instead of the {instance.job.unit.unit}",
            make=lambda target, unit=unit: (target[0], unit),  # type: ignore[misc]
            slot=("unit",),
            acts="unit",
            parts=(f"a control unit like the {unit.unit}",),
            everywhere=True,
        )


def _size(unit: Unit) -> tuple[int, int]:
    return len(unit.outputs), len(unit.inputs)

"""Small bikes and units for one rule each: a lamp at the neck, the unit under the seat, what a rule needs beside it."""

from collections.abc import Callable
from dataclasses import dataclass, replace

from outcomes import reseated
from portloom.job.assignment import Assignment

Texts = tuple[str, str]
"""The YAML of a bike and of a unit."""
BIKE = """
bike: trial single
supply: {{running: 14 V, battery: {{capacity: 10 Ah, at: tray}}}}
frame:
  legs:
    - {{between: [tray, neck], length: {neck}}}
    - {{between: [neck, bracket], length: 100 mm{leg}}}
  earth: [tray, neck]
places: [{{name: under seat, front: tray}}]
later: []
loads: [{loads}]
inputs: [{inputs}]
{more}
"""
UNIT = """
unit: trial way
feed: {{{feed}}}
banks: {{{banks}}}
outputs: [{outputs}]
inputs: [{inputs}]
"""
OUT = "name: out 1, limit: 15 A, peak: 60 A"
SECOND = OUT.replace("out 1", "out 2")
IN = "name: in 1, accepts: [earth, coded]"
LAMP = "name: lamp, at: neck"
OTHER = "name: other, at: neck"


def bike(*loads: str, inputs: str = "", neck: str = "509 mm", leg: str = "", more: str = "") -> str:
    """Write a bike from loads and one input without their braces; its second leg may have more to it."""
    held = ", ".join(f"{{{load}}}" for load in loads)
    return BIKE.format(loads=held, inputs=f"{{{inputs}}}" if inputs else "", neck=neck, leg=leg, more=more)


def unit(*outputs: str, feed: str = "limit: 40 A", banks: str = "", inputs: str = "") -> str:
    """Write a unit from outputs and one input without their braces."""
    held = ", ".join(f"{{{output}}}" for output in outputs)
    return UNIT.format(outputs=held, feed=feed, banks=banks, inputs=f"{{{inputs}}}" if inputs else "")


def as_found(plan: Assignment) -> Assignment:
    """Leave a plan as it is."""
    return plan


def all_on_the_first(plan: Assignment) -> Assignment:
    """Move every circuit to the first port of a plan."""
    return reseated(
        plan,
        outputs=tuple(replace(line, port=plan.outputs[0].port) for line in plan.outputs),
        inputs=tuple(replace(line, port=plan.inputs[0].port) for line in plan.inputs),
    )


@dataclass(frozen=True)
class Trial:
    """A bike on a unit that just keeps a rule, and one that breaks it; how the first plan is carried to the second."""

    rule: str
    about: str
    write: Callable[[str], Texts]
    """Write both files with a word put in."""
    keeps: str
    breaks: str
    carried: Callable[[Assignment], Assignment] = as_found
    alone: bool = True
    """False where without the rule there is no plan either."""

    @property
    def kept(self) -> Texts:
        """The files that keep the rule."""
        return self.write(self.keeps)

    @property
    def broken(self) -> Texts:
        """The files that break it."""
        return self.write(self.breaks)

    def __str__(self) -> str:
        return f"{self.rule}: {self.about}"

"""Looms: how thick one is, with its sleeve, and what lies in it, in words."""

from collections.abc import Iterable, Iterator
from math import isqrt

from portloom.base.bike import Leg
from portloom.base.figures import millimetres
from portloom.base.quantities import Micrometres
from portloom.base.values import dataclass
from portloom.job.fixed import sized_fixed_wires
from portloom.job.fixed_as_built import new_part
from portloom.job.job import Job
from portloom.job.laid import WIRES_TO_UNIT, Laid, WiredInput, WiredSwitch


def sleeve_of(job: Job, leg: Leg) -> Micrometres:
    """Return what the sleeve in a leg adds to the loom's diameter."""
    return Micrometres(job.assume["sleeve"] if leg.sleeve is None else leg.sleeve)


def loom_diameter(diameters: Iterable[Micrometres]) -> Micrometres:
    """Return a loom's diameter without its sleeve, rounded up to a whole micrometre."""
    wires = sorted(diameters, reverse=True)
    squares = 25 * sum(d * d for d in wires)
    root = isqrt(squares)  # 5 x sqrt(sum of d^2), rounded down
    across = -(-(root + (root * root < squares)) // 4)
    return Micrometres(max(across, sum(wires[:2])))


# --- in words


@dataclass(frozen=True)
class InLoom:
    """A wire, or several that are alike, and how thick each is."""

    name: str
    diameter: Micrometres
    count: int = 1

    @property
    def said(self) -> str:
        """Say which wire it is, and how thick: '3 x stator (3.4 mm)'."""
        times = f"{self.count} x " if self.count > 1 else ""
        return f"{times}{self.name} ({millimetres(self.diameter)})"


def wires_in(laid: Laid, leg: int) -> Iterator[InLoom]:
    """Return every wire of a plan that lies in the leg of this number."""
    for wired in laid.outputs:
        if wires := wired.new_legs.count(leg):
            yield InLoom(wired.circuit.said, wired.drawn.diameter, wires)
    yield from _switch_wires(laid, leg)
    for wire in sized_fixed_wires(laid.site):
        new = wire.wire.run if wire.conductor is None else new_part(wire.wire, wire.conductor)
        if passes := new.legs.count(leg):
            yield InLoom(wire.wire.said, wire.diameter, passes * wire.count)
    for legs, piece in laid.site.job.built.bundle if laid.site.job.built is not None else ():
        if leg in legs and piece.size is not None:
            yield InLoom(f"built wire {piece.number} of {piece.circuit}", laid.site.job.catalogue[piece.size].diameter)


def _switch_wires(laid: Laid, leg: int) -> Iterator[InLoom]:
    thinnest = laid.site.job.reels[0].diameter
    switches: tuple[WiredInput | WiredSwitch, ...] = (*laid.inputs, *laid.switches)
    for wired in switches:
        if leg in wired.new_run.legs:
            yield InLoom(wired.circuit.label, thinnest)
    for box in laid.multiplexers:
        if leg in box.new_run.legs:
            yield InLoom(f"data and supply of {box.stand.multiplexer.name}", thinnest, WIRES_TO_UNIT)

"""Everything that must be at hand before the work begins, and what comes out of the bike."""

from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from itertools import chain

from solver.job.laid import Laid
from solver.wiring.cut_list import Reel
from solver.wiring.part import Part
from solver.wiring.parts_of_circuits import (
    diode_parts,
    fuse_parts,
    relay_parts,
    strap_parts,
    suppressor_parts,
    unit_parts,
)
from solver.wiring.parts_of_looms import grommet_parts, sleeve_parts
from solver.wiring.parts_of_wires import connector_parts, splice_parts, terminal_parts, wire_parts
from solver.wiring.wire import Wiring
from solver.words.bike import Part as LoadPart
from solver.words.figures import listed

OFTEN_RELAYED: tuple[LoadPart, ...] = ("dipped beam", "main beam", "horn", "fuel pump", "fan")


@dataclass(frozen=True)
class Removed:
    """Something that comes out of the bike, and why."""

    what: str
    why: str


def parts_list(laid: Laid, wiring: Wiring, reels: Iterable[Reel]) -> tuple[Part, ...]:
    """Return all parts of a plan, its wire as the cut list has it by reel: no makers, no part numbers."""
    return tuple(
        chain(
            unit_parts(laid),
            wire_parts(reels),
            terminal_parts(laid, wiring),
            splice_parts(wiring),
            connector_parts(wiring),
            sleeve_parts(laid),
            grommet_parts(laid),
            fuse_parts(laid),
            relay_parts(laid),
            diode_parts(laid, wiring),
            suppressor_parts(laid),
            strap_parts(),
        )
    )


def removed(laid: Laid) -> tuple[Removed, ...]:
    """Return what comes out of the bike, where it has it (common practice, no source)."""
    return tuple(_removed(laid))


def _removed(laid: Laid) -> Iterator[Removed]:
    unit = laid.site.job.unit.unit
    yield Removed("old fuse box", f"the {unit} has a trip for each circuit; only the fuses of the parts list remain")
    flashing = [wired for wired in laid.outputs if "flash" in wired.circuit.modes]
    if flashing:
        ports = listed([wired.output.name for wired in flashing])
        yield Removed("flasher relay", f"{ports} flash by themselves")
        if any(load.kind == "led" for wired in flashing for load in wired.circuit.loads):
            yield Removed("load resistors at the indicators", "nothing counts the lamps any more, and they only heat")
    relayed = [load.name for wired in laid.outputs for load in wired.circuit.loads if load.part in OFTEN_RELAYED]
    if relayed:
        yield Removed(f"old relays of {listed(relayed)}", "an output drives each of them")
    if any("key" in switch.tells for switch in laid.site.job.bike.inputs):
        yield Removed("heavy wires at the key", "it only tells the unit now, by a thin wire")

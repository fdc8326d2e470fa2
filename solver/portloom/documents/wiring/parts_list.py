"""Everything that must be at hand before the work begins, what goes around looms, and what comes out of the bike."""

from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from decimal import Decimal
from itertools import chain

from portloom.base.bike import Leg
from portloom.base.figures import listed, plain
from portloom.base.parts.loads import LOAD_PARTS
from portloom.base.parts.others import FLASHER_RELAY
from portloom.base.quantities import Micrometres
from portloom.documents.looms import Loom, looms
from portloom.documents.wiring.cut_list import ReelCuts
from portloom.documents.wiring.parts import (
    PartsLine,
    connector_parts,
    diode_parts,
    fuse_parts,
    pieces,
    relay_parts,
    splice_parts,
    strap_parts,
    suppressor_parts,
    terminal_parts,
    unit_parts,
    wire_parts,
)
from portloom.documents.wiring.wire import Wiring
from portloom.job.laid import Laid
from portloom.rules.loom import sleeve_of

OFTEN_RELAYED = tuple(part.name for part in LOAD_PARTS if part.often_relayed)


@dataclass(frozen=True)
class Removed:
    """Something that comes out of the bike, and why."""

    what: str
    why: str


def parts_list(laid: Laid, wiring: Wiring, reels: Iterable[ReelCuts]) -> tuple[PartsLine, ...]:
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
        yield Removed(FLASHER_RELAY.name, f"{ports} flash by themselves")
        if any(load.kind == "led" for wired in flashing for load in wired.circuit.loads):
            yield Removed(
                "load resistors at the indicators", "nothing monitors the lamps any more, and they only make heat"
            )
    relayed = [load.name for wired in laid.outputs for load in wired.circuit.loads if load.part in OFTEN_RELAYED]
    if relayed:
        yield Removed(f"old relays of {listed(relayed)}", "an output drives each of them")
    if any("key" in switch.tells for switch in laid.site.job.bike.inputs):
        yield Removed("heavy wires at the key", "it only tells the unit now, by a thin wire")


def sleeve_parts(laid: Laid) -> Iterator[PartsLine]:
    """Return the sleeve of each leg in which wires lie: how wide inside, how long.

    It is cut as long as the leg with its share of margin; a leg whose sleeve adds nothing has none.
    """
    share = laid.site.job.bike.margin.share
    for leg, loom in _filled(laid):
        added = sleeve_of(laid.site.job, leg)
        if added:
            millimetres = -(-leg.length * (10_000 + share) // 10_000_000)
            wide = f"{_tenths(Micrometres(loom.diameter - added))} inside or more"
            note = "moves: slack, fine-stranded wire" if leg.moves else ""
            yield PartsLine("sleeve", "sleeve", wide, Decimal(millimetres) / 1000, "m", leg.label, note)


def grommet_parts(laid: Laid) -> Iterator[PartsLine]:
    """Return a grommet for each opening that a loom passes."""
    for leg, loom in _filled(laid):
        if leg.opening is not None:
            size = f"for an opening of {_tenths(leg.opening)}"
            yield pieces(
                "grommets", "grommet", size, 1, leg.label, f"the loom is {_tenths(loom.diameter)} with its sleeve"
            )


def _filled(laid: Laid) -> Iterator[tuple[Leg, Loom]]:
    return ((leg, loom) for leg, loom in zip(laid.site.job.network.legs, looms(laid), strict=True) if loom.wires)


def _tenths(length: Micrometres) -> str:
    """Write a diameter to a tenth of a millimetre, rounded up."""
    return f"{plain(Decimal(-(-length // 100)) / 10)} mm"

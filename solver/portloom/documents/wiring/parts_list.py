"""Everything that must be at hand before the work begins, what goes around looms, and what comes out of the bike."""

from collections.abc import Iterable, Iterator, Sequence
from dataclasses import replace
from decimal import ROUND_CEILING, Decimal
from itertools import chain

from portloom.base.bike import Leg
from portloom.base.figures import listed, millimetres, plain
from portloom.base.parts.loads import LOAD_PARTS
from portloom.base.parts.others import FLASHER_RELAY
from portloom.base.quantities import Micrometres
from portloom.base.values import dataclass
from portloom.documents.cut import slack
from portloom.documents.looms import Loom, looms
from portloom.documents.wiring.cut_list import ReelCuts
from portloom.documents.wiring.joints import block_parts, shrink_parts, splice_parts
from portloom.documents.wiring.lead_parts import lead_parts, lead_terminals
from portloom.documents.wiring.lines import coils
from portloom.documents.wiring.parts import (
    PartsGroup,
    PartsLine,
    diode_parts,
    fuse_parts,
    pieces,
    relay_parts,
    suppressor_parts,
    unit_parts,
    wire_parts,
)
from portloom.documents.wiring.terminals import connector_parts, plug_parts, seal_parts, terminal_parts
from portloom.documents.wiring.views import ConnectorView
from portloom.documents.wiring.wire import Wiring
from portloom.job.laid import Laid
from portloom.rules.loom import sleeve_of

OFTEN_RELAYED = tuple(part.name for part in LOAD_PARTS if part.often_relayed)


@dataclass(frozen=True)
class Removed:
    """Something that comes out of the bike, and why."""

    what: str
    why: str


def parts_list(
    laid: Laid, wiring: Wiring, reels: Iterable[ReelCuts], views: Sequence[ConnectorView]
) -> tuple[PartsLine, ...]:
    """Return all parts of a plan, its wire as the cut list has it by reel: no makers, no part numbers.

    What is used up bit by bit has spares.
    """
    share = laid.site.job.assume["spares"]
    return tuple(
        with_spare(part, share)
        for part in chain(
            unit_parts(laid),
            wire_parts(laid, reels),
            terminal_parts(laid, wiring),
            lead_terminals(laid.site.job),
            seal_parts(laid, wiring, views),
            plug_parts(wiring),
            connector_parts(views),
            splice_parts(wiring),
            block_parts(wiring),
            shrink_parts(laid.site.job, wiring),
            sleeve_parts(laid),
            tie_parts(laid),
            grommet_parts(laid),
            fuse_parts(laid),
            relay_parts(laid),
            diode_parts(laid, wiring),
            suppressor_parts(laid),
            lead_parts(laid.site.job),
        )
    )


CONSUMED: tuple[PartsGroup, ...] = (
    "wire", "terminals", "seals and blanks", "splices", "heat-shrink", "sleeve", "ties",
)  # fmt: skip
LEAST_SPARE: dict[PartsGroup, int] = {"terminals": 2}
"""Source: common practice, no source."""
METRE_STEP = Decimal("0.1")
"""Wire and sleeve are bought in whole steps of this many metres."""


def with_spare(part: PartsLine, share: int) -> PartsLine:
    """Return a part with what is bought beyond what is needed, for ``share`` in hundredths of a per cent."""
    if part.group not in CONSUMED:
        return part
    step = Decimal(1) if part.measure == "pieces" else METRE_STEP
    wanted = max(part.quantity * (10_000 + share) / 10_000, part.quantity + LEAST_SPARE.get(part.group, 0))
    return replace(part, spare=(wanted / step).to_integral_value(ROUND_CEILING) * step - part.quantity)


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
    driven = [load for wired in laid.outputs for load in wired.circuit.loads if load.name not in coils(laid.site.job)]
    relayed = [load.name for load in driven if load.part in OFTEN_RELAYED]
    if relayed:
        yield Removed(f"old relays of {listed(relayed)}", "an output drives each of them")
    if any("key" in switch.tells for switch in laid.site.job.bike.inputs):
        yield Removed("heavy wires at the key", "it only tells the unit now, by a thin wire")


def sleeve_parts(laid: Laid) -> Iterator[PartsLine]:
    """Return the sleeve of each leg in which wires lie: how wide inside, how long.

    It is cut as long as the leg with its share of margin and its slack; a leg whose sleeve adds nothing has none.
    """
    share = laid.site.job.bike.margin.share
    for leg, loom in _filled(laid):
        added = sleeve_of(laid.site.job, leg)
        if added:
            long = -(-(leg.length * (10_000 + share) + slack(laid.site.job, leg) * 10_000) // 10_000_000)
            wide = f"{_tenths(Micrometres(loom.diameter - added))} inside or more"
            note = "moves: slack, fine-stranded wire" if leg.moves else ""
            yield PartsLine("sleeve", "sleeve", wide, Decimal(long) / 1000, "m", leg.label, note)


def tie_parts(laid: Laid) -> Iterator[PartsLine]:
    """Return the ties of all looms, one each so many millimetres of a leg, at least one in each."""
    apart = laid.site.job.assume["tie spacing"]
    filled = list(_filled(laid))
    if filled:
        count = sum(-(-leg.length // apart) for leg, _ in filled)
        widest = max(loom.diameter for _, loom in filled)
        each = f"one each {millimetres(Micrometres(apart))} of every leg"
        yield pieces("ties", "tie", f"for looms up to {_tenths(widest)}", count, each)


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

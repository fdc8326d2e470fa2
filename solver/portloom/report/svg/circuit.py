"""The circuit diagram: supply, outputs, inputs, multiplexers, returns; a row for each load and switch.

The alternator's regulator joins the battery through a fuse of its own.
"""

from collections.abc import Iterable, Iterator, Sequence
from dataclasses import replace

from portloom.base.figures import amperes
from portloom.base.values import dataclass
from portloom.documents.document import Plan
from portloom.documents.energy import watts
from portloom.documents.parts import regulator_fuse
from portloom.documents.wiring.wire import CutWireKind, Wire, Wiring
from portloom.job.job import Job
from portloom.job.laid import Laid
from portloom.report.svg.circuit_drawing import Circuit
from portloom.report.svg.circuit_rows import ABOVE, BELOW, EDGE, SIGN, SOURCE, THROUGH, WORDS, Signed, measured
from portloom.report.svg.circuit_tree import BACK, Things, circuit_trees
from portloom.report.svg.lettering import HEAD, folded, line, line_height, whole
from portloom.report.svg.marks import stroke
from portloom.report.svg.paging import PagePart, Section, drawn_part, paged, picture
from portloom.report.svg.svg import Element
from portloom.report.svg.symbols import HALF, SignLegend, sign


def circuit_pictures(laid: Laid, plan: Plan, wiring: Wiring, prefix: str) -> tuple[Element, ...]:
    """Return the circuit diagram, page by page; ids begin with ``prefix``.

    Each page is 720 units wide and at most 1040 high, for A4 held upright; a single row higher than that stays whole.
    """
    things = Things(laid, plan, wiring)
    pages = list(paged(_sections(things)))
    return tuple(_page(plan, page, number, len(pages), prefix) for number, page in enumerate(pages, 1))


# --- what is drawn


def _sections(things: Things) -> Iterator[Section]:
    signed = Signed()
    outputs = [output.name for output in things.laid.site.job.unit.outputs]
    inputs = [port.name for port in things.laid.site.job.unit.inputs]
    supplied: tuple[CutWireKind, ...] = ("feed", "unit earth", "fed load", "coil lead", "supply")
    supply = _section("Supply", things, _of(things, supplied), signed, boxed=False)
    yield replace(supply, blocks=(*supply.blocks[:1], *charging(things.laid.site.job), *supply.blocks[1:]))
    yield _section("Outputs", things, _on(things, outputs, ("output",)), signed, boxed=True)
    read: tuple[CutWireKind, ...] = ("input", "multiplexer data", "multiplexer supply")
    yield _section("Inputs", things, _on(things, inputs, read), signed, boxed=True)
    yield _section("Multiplexers", things, _of(things, ("multiplexer way",)), signed, boxed=True)
    at_dashes: tuple[CutWireKind, ...] = ("dash signal", "dash supply", "dash return")
    yield _section("Read by dashes alone", things, _of(things, at_dashes), signed, boxed=False)
    yield _section("Joined returns", things, _joined(things), signed, boxed=False)
    yield Section("Signs", (SignLegend(),), boxed=False)


def _of(things: Things, kinds: Sequence[CutWireKind]) -> list[tuple[Wire, ...]]:
    circuits = things.wiring.circuits.values()
    return [wires for kind in kinds for wires in circuits if wires[0].kind == kind]


def _on(things: Things, ports: Sequence[str], kinds: Sequence[CutWireKind]) -> list[tuple[Wire, ...]]:
    circuits = [wires for wires in things.wiring.circuits.values() if wires[0].kind in kinds]
    return sorted(circuits, key=lambda wires: ports.index(wires[0].port))


def _joined(things: Things) -> list[tuple[Wire, ...]]:
    joined = (
        tuple(wire for wire in wires if wire.start.kind == "splice")
        for wires in things.wiring.circuits.values()
        if wires[0].kind in BACK
    )
    return [wires for wires in joined if wires]


def _section(
    heading: str, things: Things, circuits: Iterable[tuple[Wire, ...]], signed: Signed, *, boxed: bool
) -> Section:
    blocks = [Circuit(measured(things, root, signed)) for wires in circuits for root in circuit_trees(wires)]
    return Section(heading, tuple(blocks), boxed)


# --- pages


def _page(plan: Plan, parts: Sequence[PagePart], number: int, pages: int, prefix: str) -> Element:
    title = f"Circuit diagram of {plan.bike} on the {plan.only.unit}, page {number} of {pages}"
    told = ", ".join(dict.fromkeys(part.section.heading.lower() for part in parts))
    drawn = [element for part in parts for element in drawn_part(part, SOURCE)]
    return picture(f"{prefix}-{number}", title, f"On this page: {told}.", parts[-1].bottom, drawn)


@dataclass(frozen=True)
class ChargingCircuit:
    """What charges the battery: what its lead joins, its fuse, and what it gives."""

    joins: str
    fuse: str
    words: tuple[str, ...]

    @property
    def high(self) -> float:
        """Its height."""
        return ABOVE + len(self.words) * line_height() + BELOW

    def drawn(self, top: float) -> Iterator[Element]:
        """Draw it."""
        y = top + ABOVE + len(self.words) * line_height() - 4
        yield line(24, y + 5, self.joins, HEAD)
        yield stroke(f"M{SOURCE:g} {y:.2f}H{SIGN - HALF:g}")
        if self.fuse:
            yield sign("fuse", SOURCE + THROUGH + HALF, y)
            yield line(SOURCE + THROUGH + HALF, y + 22, self.fuse, anchor="middle")
        yield sign("regulator", SIGN, y)
        for number, text in enumerate(reversed(self.words)):
            yield line(WORDS, y - ABOVE + 4 - number * line_height(), text)


def charging(job: Job) -> tuple[ChargingCircuit, ...]:
    """Return the bike's charging; nothing where its file says nothing of it."""
    given = job.bike.supply.charging
    if given is None:
        return ()
    powers = ((given.idle, "at idle"), (given.cruise, "cruising"))
    told = [f"{whole(watts(power))} {when}" for power, when in powers if power is not None]
    words = folded(", ".join(["alternator and regulator", *told]), EDGE - WORDS)
    fuse = regulator_fuse(job)
    return (ChargingCircuit(given.joins, "" if fuse is None else whole(f"fuse {amperes(fuse)}"), words),)

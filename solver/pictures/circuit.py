"""The circuit diagram: supply, outputs, inputs, multiplexers, returns; a row for each load and switch."""

from collections.abc import Iterable, Iterator, Sequence
from dataclasses import replace

from solver.job.laid import Laid
from solver.pictures.charging import charging
from solver.pictures.circuit_columns import SOURCE
from solver.pictures.circuit_drawing import Circuit
from solver.pictures.circuit_rows import Signed, measured
from solver.pictures.circuit_tree import circuit_trees
from solver.pictures.paging import Part, Section, drawn_part, paged
from solver.pictures.sheet import picture
from solver.pictures.sign_legend import SignLegend
from solver.pictures.svg import Element
from solver.pictures.things import BACK, Things
from solver.plans.document import Plan
from solver.wiring.wire import Wire, WireKind, Wiring


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
    supply = _section("Supply", things, _of(things, ("feed", "unit earth", "fed load", "supply")), signed, boxed=False)
    yield replace(supply, blocks=(*supply.blocks[:1], *charging(things.laid.site.job), *supply.blocks[1:]))
    yield _section("Outputs", things, _on(things, outputs, ("output",)), signed, boxed=True)
    read: tuple[WireKind, ...] = ("input", "multiplexer data", "multiplexer supply")
    yield _section("Inputs", things, _on(things, inputs, read), signed, boxed=True)
    yield _section("Multiplexers", things, _of(things, ("multiplexer way",)), signed, boxed=True)
    yield _section("Returns that are joined", things, _joined(things), signed, boxed=False)
    yield Section("Signs", (SignLegend(),), boxed=False)


def _of(things: Things, kinds: Sequence[WireKind]) -> list[tuple[Wire, ...]]:
    circuits = things.wiring.circuits.values()
    return [wires for kind in kinds for wires in circuits if wires[0].kind == kind]


def _on(things: Things, ports: Sequence[str], kinds: Sequence[WireKind]) -> list[tuple[Wire, ...]]:
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


def _page(plan: Plan, parts: Sequence[Part], number: int, pages: int, prefix: str) -> Element:
    title = f"Circuit diagram of {plan.bike} on the {plan.unit}, page {number} of {pages}"
    told = ", ".join(dict.fromkeys(part.section.heading.lower() for part in parts))
    drawn = [element for part in parts for element in drawn_part(part, SOURCE)]
    return picture(f"{prefix}-{number}", title, f"On this page: {told}.", parts[-1].bottom, drawn)

"""All wires of a plan: cut into pieces, numbered, with the splices and connectors that they share."""

from collections.abc import Iterator

from solver.job.laid import Laid
from solver.wiring.alongside import alongside
from solver.wiring.cutting import Cutting
from solver.wiring.lines import Line, lines
from solver.wiring.numbering import Numbering, Unnumbered
from solver.wiring.returned import EarthPiece, returns, unit_earth
from solver.wiring.wire import Wiring

NOT_OURS = "not from the unit"


def wiring_of(laid: Laid) -> Wiring:
    """Return all wires of a plan that passed its check, in the order in which they are listed.

    First the feed and the unit's earth, then outputs, fed loads, inputs, multiplexers, supply to switches, returns,
    and what lies alongside. Within a circuit from the unit on, for a return towards the earth.
    """
    return Numbering(laid.site.job, list(_rough(laid))).wiring()


def _rough(laid: Laid) -> Iterator[Unnumbered]:
    first, *others = _by_circuit(list(lines(laid)))
    yield from _cut(laid, first)
    yield from map(_earthed, unit_earth(laid))
    for circuit in others:
        yield from _cut(laid, circuit)
    yield from map(_earthed, returns(laid))
    for name, piece, size in alongside(laid):
        yield Unnumbered(f"alongside {name}", "alongside", "", piece, size, NOT_OURS)


def _by_circuit(found: list[Line]) -> list[list[Line]]:
    """Return the lines of each circuit together."""
    circuits: dict[tuple[str, str], list[Line]] = {}
    for line in found:
        circuits.setdefault((line.circuit, line.kind), []).append(line)
    return list(circuits.values())


def _cut(laid: Laid, circuit: list[Line]) -> Iterator[Unnumbered]:
    job = laid.site.job
    for line in circuit:
        for piece in Cutting(job.network, line.run, line.source, line.tips, job.bike.frame.connectors).pieces():
            yield Unnumbered(line.circuit, line.kind, line.port, piece, line.size, line.protection)


def _earthed(back: EarthPiece) -> Unnumbered:
    return Unnumbered(back.circuit, back.kind, "", back.piece, back.size, back.protection)

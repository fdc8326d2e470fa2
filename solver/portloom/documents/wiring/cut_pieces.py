"""How long each piece of a plan's wires is cut, by what stands at its ends."""

from collections.abc import Iterable, Iterator
from dataclasses import replace
from itertools import pairwise

from portloom.base.margin import Allowance
from portloom.base.quantities import Micrometres
from portloom.documents.cut import NO_LENGTH, cut_length
from portloom.documents.wiring.crimps import most_in_one
from portloom.documents.wiring.cutting import CutNode, Cutting, Piece, RunFork, length
from portloom.documents.wiring.lines import Line
from portloom.documents.wiring.wire import EndKind
from portloom.job.job import Job

ALLOWANCES: dict[EndKind, Allowance] = {
    "unit": "unit_plug",
    "load": "device",
    "switch": "device",
    "own switch": "device",
    "dash": "device",
    "multiplexer": "device",
    "splice": "splice",
    "battery": "battery",
    "fuse": "battery",
    "relay": "battery",
    "earth": "battery",
}
"""What an end is made up to; nothing is cut for what ends elsewhere."""


def cuts_of(job: Job, piece: Piece) -> tuple[Micrometres, ...]:
    """Return what is cut for a piece, from its start to its end: one length, and one more for each connector in it."""
    middle: list[Allowance] = ["connector"] * len(piece.parted)
    ends = (_allowance(piece.start), *middle, _allowance(piece.end))
    over = (*[NO_LENGTH] * len(middle), piece.over)
    stretches = zip(piece.stretches, pairwise(ends), over, strict=True)
    return tuple(cut_length(job, legs, pair, more) for legs, pair, more in stretches)


def cut_of(job: Job, pieces: Iterable[Piece]) -> Micrometres:
    """Return what comes off the reels for some pieces together."""
    return Micrometres(sum(cut for piece in pieces for cut in cuts_of(job, piece)))


def pieces_of(job: Job, line: Line) -> Iterator[Piece]:
    """Return the pieces of a circuit, or of a part of it, cut wherever it forks."""
    over = Micrometres(line.run.length - length(job.network, line.run.legs))
    most = most_in_one(job, line.size)
    for piece in Cutting(job.network, line.run, line.source, line.tips, job.bike.frame.connectors, most).pieces():
        yield replace(piece, over=over)


def cut_of_lines(job: Job, lines: Iterable[Line]) -> Micrometres:
    """Return what comes off the reels for some lines together."""
    return cut_of(job, (piece for line in lines for piece in pieces_of(job, line)))


def _allowance(node: CutNode) -> Allowance:
    return "splice" if isinstance(node, RunFork) else ALLOWANCES[node.kind]

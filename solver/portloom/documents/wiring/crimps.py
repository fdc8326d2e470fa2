"""What a hand can crimp: how many wires one splice joins, how thick, how unlike.

Source: common practice, no source.
"""

from collections.abc import Sequence

from portloom.base.sizes import WireSize
from portloom.job.job import Job

LEAST = 3
"""Fewer wires need no splice."""
UNLIKE = 8
"""The thickest wire of a splice has at most so many times the area of the thinnest."""


def one_crimp(job: Job, sizes: Sequence[WireSize]) -> bool:
    """Tell whether one splice joins wires of these sizes."""
    areas = [size.area for size in sizes]
    few = len(areas) <= job.assume["splice wires"] and sum(areas) <= job.assume["splice area"]
    return few and max(areas) <= UNLIKE * min(areas)


def most_in_one(job: Job, size: WireSize) -> int:
    """Return how many wires of one size a splice joins, where a chain of splices may join more."""
    return max(LEAST, min(job.assume["splice wires"], job.assume["splice area"] // size.area))

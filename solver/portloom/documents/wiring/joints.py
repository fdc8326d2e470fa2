"""Where splices sit and what goes on them: crimps by the areas that they join, heat-shrink that fits over."""

from collections.abc import Iterator
from decimal import Decimal

from portloom.base.figures import counted, listed, plain
from portloom.base.quantities import Micrometres
from portloom.documents.wiring.parts import PartsLine, pieces
from portloom.documents.wiring.wire import Splice, Wiring
from portloom.job.job import Job
from portloom.rules.loom import loom_diameter

MILLIMETRE = 1000


def splice_parts(wiring: Wiring) -> Iterator[PartsLine]:
    """Return the splices by the sum of the areas that they join."""
    found: dict[int, list[str]] = {}
    for splice in wiring.splices:
        if not splice.block:
            found.setdefault(splice.area, []).append(splice.name)
    for area, names in sorted(found.items()):
        size = f"{plain(Decimal(area) / 10_000)} mm2 in all"
        yield pieces("splices", "crimped splice", size, len(names), listed(names))


def block_parts(wiring: Wiring) -> Iterator[PartsLine]:
    """Return the blocks, which join more than a hand can crimp, with a way for each wire."""
    for splice in wiring.splices:
        if splice.block:
            thin, thick = min(splice.sizes), max(splice.sizes)
            sizes = thin.label if thin == thick else f"{thin.label} to {thick.label}"
            size = f"{counted(len(splice.sizes), 'way')}, for {sizes}"
            where = f"{splice.name}, at {splice.point}"
            yield pieces("blocks", splice.made_as, size, 1, where, "sealed, with its own terminals")


def shrink_parts(job: Job, wiring: Wiring) -> Iterator[PartsLine]:
    """Return the heat-shrink of each splice, by its width in whole millimetres, and of each diode."""
    found: dict[int, list[str]] = {}
    for splice in (one for one in wiring.splices if not one.block):
        found.setdefault(-(-shrink_width(job, splice) // MILLIMETRE), []).append(splice.name)
    for width, names in sorted(found.items()):
        yield pieces("heat-shrink", "heat-shrink", f"{width} mm inside or more", len(names), listed(names))
    diodes = [end.diode for wire in wiring.wires for end in wire.ends if end.diode]
    if diodes:
        what = "heat-shrink over a diode and its two joints"
        yield pieces("heat-shrink", what, "as wide as its body", len(diodes), listed(diodes))


def shrink_width(job: Job, splice: Splice) -> Micrometres:
    """Return how wide heat-shrink must be to slip over all the wires of a joint, whichever side they come from."""
    return loom_diameter(job.catalogue[size].diameter for size in splice.sizes)

"""What lies alongside and never touches the unit: its ends, and where the loom would part it."""

from collections.abc import Iterator

from solver.job.laid import Laid
from solver.wiring.cutting import Piece, in_order
from solver.wiring.wire import WireEnd
from solver.words.quantities import MilliAmps
from solver.words.sizes import WireSize


def alongside(laid: Laid) -> Iterator[tuple[str, Piece, WireSize | None]]:
    """Return every wire, cable and pipe alongside by its name, its piece and its size, as often as it lies there.

    A wire is parted with the loom at its connectors; a cable or pipe, which has no size, is not.
    """
    entries = {entry.name: entry for entry in laid.site.job.bike.alongside}
    connectors = laid.site.job.bike.frame.connectors
    for way in laid.site.ways_of("alongside"):
        entry, (start, end) = entries[way.name], way.ends
        legs, points = in_order(laid.site.job.network, way.run, start)
        parted = tuple(p for p in points[1:-1] if p in connectors and entry.size is not None)
        ends = (WireEnd("elsewhere", way.name, start), WireEnd("elsewhere", way.name, end))
        piece = Piece(*ends, legs, points, parted, entry.current or MilliAmps(0))
        for _ in range(entry.count):
            yield way.name, piece, entry.size

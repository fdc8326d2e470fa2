"""A wire's way over the frame as a path of the loom's picture."""

from solver.pictures.loom_layout import LoomLayout
from solver.wiring.wire import Wire


def way_of(layout: LoomLayout, wire: Wire) -> str:
    """Return the path along a wire's legs; empty for a wire that ends where it starts."""
    moves = []
    for number in wire.leg_numbers:
        path = [layout.points[knot] for knot in layout.graph.strands[number]]
        moves.append("M" + "L".join(f"{x:.2f} {y:.2f}" for x, y in path))
    return "".join(moves)

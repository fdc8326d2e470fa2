"""How far to the right things stand in a circuit of the diagram: fuses, relays, splices, then the signs."""

from collections.abc import Sequence
from dataclasses import dataclass

from solver.pictures.circuit_tree import Knot, Tree
from solver.pictures.symbols import HALF

SOURCE = 128.0
"""Where wires leave what feeds them."""
FIRST = 208.0
"""Where the first splice stands."""
THROUGH = 66.0
"""Room for the words on a wire before a fuse or a relay."""
STEP = 20.0
"""From a splice to the next one, in a row of its own."""
SIDE_BY_SIDE = 44.0
"""From a splice to the next one in the same row: its name stands between the two."""
SIGN = 424.0
BACK = 584.0
"""Where returns end."""
EDGE = 712.0
WORDS = 350.0
DEEPEST = 470.0
DIODE = 2.5 * HALF
"""From a diode to the sign that it stands before."""


@dataclass(frozen=True)
class Columns:
    """Where each knot stands, by the key of the wire that leads to it; where signs stand, and their words begin."""

    at: dict[str, float]
    sign: float
    words: float


def columns(tree: Tree) -> Columns:
    """Return the columns of a circuit."""
    at: dict[str, float] = {}
    _beyond(tree.onward, SOURCE, FIRST, at)
    deepest = max(at.values(), default=0.0)
    if deepest > DEEPEST:
        share = (DEEPEST - SOURCE) / (deepest - SOURCE)
        at, deepest = {key: SOURCE + share * (x - SOURCE) for key, x in at.items()}, DEEPEST
    room = HALF + 10 + (DIODE if any(tip.end.diode for tip in tree.tips) else 0)
    return Columns(at, max(SIGN, min(deepest + room, BACK - 90)), max(WORDS, deepest + 12))


def _beyond(knots: Sequence[Knot], start: float, onward: float, at: dict[str, float]) -> None:
    for knot in knots:
        if knot.tip:
            continue
        here = onward if knot.end.kind == "splice" else start + THROUGH + HALF
        at[knot.wire.key] = here
        after = here if knot.end.kind == "splice" else here + HALF
        step = STEP if knot.onward[0].tip else SIDE_BY_SIDE
        _beyond(knot.onward, after, after + step, at)

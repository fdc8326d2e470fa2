"""What tells that a built plan is of another bike or unit: names that differ, and wires that no leg of it leads along.

Loads and switches that the plan has and the bike has not are no such thing: they were taken away.
"""

from collections.abc import Iterator

from portloom.base.bike import Bike
from portloom.base.built import BuiltLoom, BuiltPiece
from portloom.base.copper import BY_SIZE
from portloom.base.letters import quoted
from portloom.base.unit import Unit
from portloom.base.values import dataclass

OTHER = "a built plan is of the bike and the unit that it was made for; nothing is guessed"


@dataclass(frozen=True)
class Oddity:
    """A name of the built plan, what is wrong with it here, and what would be right."""

    name: str
    what: str
    right: str = OTHER


def oddities(loom: BuiltLoom, bike: Bike, unit: Unit) -> Iterator[Oddity]:
    """Return every name of a built plan that the bike or the unit has not, and each wire that its legs do not join."""
    if loom.bike != bike.bike:
        yield Oddity(loom.bike, f"the plan is of the bike {quoted(loom.bike)}, the file of {quoted(bike.bike)}")
    if loom.unit != unit.unit:
        yield Oddity(loom.unit, f"the plan is on the unit {quoted(loom.unit)}, the call names {quoted(unit.unit)}")
    yield from _of_place(loom, bike)
    outputs, inputs = ({port.name for port in ports} for ports in (unit.outputs, unit.inputs))
    yield from _missing((line.port for line in loom.outputs), outputs, "the unit has no output")
    told = (*(line.port for line in loom.inputs), *(box.port for box in loom.multiplexers))
    yield from _missing(told, inputs, "the unit has no input")
    yield from _of_frame(loom, bike)
    for piece in (*loom.pieces, *loom.dead):
        if piece.ours and piece.size not in BY_SIZE:
            label = "none" if piece.size is None else piece.size.label
            yield Oddity(piece.key, f"wire {piece.number}, {piece.key}: no wire is of the size {label}")


def _of_place(loom: BuiltLoom, bike: Bike) -> Iterator[Oddity]:
    place = next((place for place in bike.places if place.name == loom.place), None)
    if place is None:
        yield Oddity(loom.place, f"the bike has no place {quoted(loom.place)}, where the unit was built in")
    elif loom.turned and place.way_round == "fixed":
        what = f"the unit was built in turned round, and the file says that it can't be turned {place.name}"
        yield Oddity(loom.place, what, "write 'way_round: either' at that place")


def _missing(names: Iterator[str] | tuple[str, ...], known: set[str], what: str) -> Iterator[Oddity]:
    for name in dict.fromkeys(names):
        if name not in known:
            yield Oddity(name, f"{what} {quoted(name)}")


def _of_frame(loom: BuiltLoom, bike: Bike) -> Iterator[Oddity]:
    legs = {leg.label: leg.between for leg in bike.frame.legs}
    used = (leg for piece in (*loom.pieces, *loom.dead) for leg in piece.legs)
    ports = (*(one.legs for one in loom.outputs), *(one.legs for one in loom.inputs))
    others = (*(one.legs for one in loom.multiplexers), *(one.legs for one in loom.fixed))
    told = (leg for own in (*ports, *others) for leg in own)
    absent = list(_missing((*used, *told), set(legs), "the bike has no leg"))
    yield from absent
    points = {point for between in legs.values() for point in between}
    ends = (end.point for piece in (*loom.pieces, *loom.dead) for end in piece.ends)
    yield from _missing(ends, points, "the bike has no frame point")
    if not absent:
        yield from (odd for piece in loom.pieces if piece.ours for odd in _apart(piece, legs))


def _apart(piece: BuiltPiece, legs: dict[str, tuple[str, str]]) -> Iterator[Oddity]:
    """Say so where the legs of a wire, in their order, do not lead from its one end to the other."""
    at = piece.start.point
    for label in piece.legs:
        one, other = legs[label]
        if at not in (one, other):
            break
        at = other if at == one else one
    else:
        if at == piece.end.point:
            return
    ends = f"from {piece.start.point} to {piece.end.point}"
    yield Oddity(piece.key, f"wire {piece.number}, {piece.key}: its legs do not lead {ends} on this bike")

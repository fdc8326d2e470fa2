"""Colours counted again, wire by wire, without the search."""

from collections import Counter
from collections.abc import Iterable, Iterator, Mapping, Sequence

from portloom.base.bike import Colour
from portloom.base.wire_colours import Look, alike, look, seen_alike
from portloom.colours.question import USUAL, ColouredWire, ColourMeasure, Question, WireGroup

Colours = Mapping[str, Colour]
"""A colour for each wire's key."""


class InvalidColouring(ValueError):
    """A wire without a colour, or with one that it can't have."""


def measured(question: Question, colours: Colours) -> ColourMeasure:
    """Return how good the colours are; raise InvalidColouring where a wire has none or one that it can't have."""
    for wire in question.wires:
        if not question.may_have(wire, colours.get(wire.key)):
            raise InvalidColouring(f"'{wire.key}' can't have the colour {colours.get(wire.key)}")
    earths = [wire for wire in question.wires if wire.kind == "earth"]
    others = [wire for wire in question.wires if wire.kind != "earth"]
    looks = {key: look(colour) for key, colour in colours.items()}
    of_earths = Counter(looks[wire.key] for wire in earths)
    return ColourMeasure(
        stray_earths=len(earths) - max(of_earths.values(), default=0),
        beside_earths=sum(
            _looks_like_one(wire, (looks[one.key] for one in question.earths_beside[wire.key]), looks)
            for wire in others
        ),
        in_connectors=sum(_harm(group, looks) for group in question.groups if group.kind == "connector"),
        in_legs=sum(_harm(group, looks) for group in question.groups if group.kind == "leg"),
        like_earths=sum(_looks_like_one(wire, of_earths, looks) for wire in others),
        unusual=sum(_unusual(wire, colours[wire.key]) for wire in question.wires),
        striped=sum(stripe is not None for _, stripe in looks.values()),
        repeated=sum(n * (n - 1) // 2 for n in Counter(looks[wire.key] for wire in others).values()),
    )


def repeats(question: Question, colours: Colours) -> Iterator[WireGroup]:
    """Return the wires that look alike in each connector and leg, earth wires among themselves left out."""
    for group in question.groups:
        left = list(group.wires)
        while left:
            found = _alike_with(left, colours)
            left = [wire for wire in left if wire not in found]
            if len(found) > 1 and any(wire.kind != "earth" for wire in found):
                yield WireGroup(group.kind, group.place, tuple(wire for wire in group.wires if wire in found))


def _alike_with(wires: Sequence[ColouredWire], colours: Colours) -> list[ColouredWire]:
    """Return the first wire and all that look like it, or like one that does."""
    found = [wires[0]]
    for wire in found:
        found += [other for other in wires if other not in found and alike(colours[wire.key], colours[other.key])]
    return found


def _looks_like_one(wire: ColouredWire, earths: Iterable[Look], looks: Mapping[str, Look]) -> bool:
    return any(seen_alike(looks[wire.key], earth) for earth in earths)


def _harm(group: WireGroup, looks: Mapping[str, Look]) -> int:
    return sum(times for one, other, times in group.penalties if seen_alike(looks[one], looks[other]))


def _unusual(wire: ColouredWire, colour: Colour) -> bool:
    usual = USUAL.get(wire.kind)
    return usual is not None and look(colour) != look(usual)

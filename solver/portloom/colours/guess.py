"""A first answer to the question of colours, and what swapping two of them leaves as it is."""

from collections import Counter
from collections.abc import Sequence
from itertools import combinations

from portloom.base.bike import Colour
from portloom.base.wire_colours import alike
from portloom.colours.count import measured
from portloom.colours.question import USUAL, ColouredWire, Question, penalty

_TURN = ("earth", "feed", "other")


def first_colours(question: Question) -> dict[str, Colour]:
    """Return each wire a colour: what is fixed, the earth wires one, the rest from the most crowded on."""
    colours = {wire.key: wire.fixed for wire in question.wires if wire.fixed is not None}
    done = [wire for wire in question.wires if wire.fixed is not None]
    earth = _earth(question)
    for wire in sorted(question.wires, key=lambda wire: (_TURN.index(wire.kind), -len(wire.legs))):
        if wire.key not in colours:
            choices = question.choices(wire)
            wanted = [earth] if wire.kind == "earth" and earth in choices else choices
            colours[wire.key] = min(wanted, key=lambda colour: _harms(wire, colour, done, colours))
            done.append(wire)
    return colours


def _earth(question: Question) -> Colour | None:
    """Return the colour that most earth wires can have; of these black, else the first."""
    could = Counter(colour for wire in question.wires if wire.kind == "earth" for colour in question.choices(wire))
    return max(could, key=lambda colour: (could[colour], colour == USUAL["earth"]), default=None)


def _harms(
    wire: ColouredWire, colour: Colour, done: Sequence[ColouredWire], colours: dict[str, Colour]
) -> tuple[int, ...]:
    """Return what a colour adds to the measure, beginning with what is beside it."""
    like = [other for other in done if alike(colour, colours[other.key])]
    earths = [other for other in like if (other.kind == "earth") != (wire.kind == "earth")]
    others = [other for other in like if "earth" not in (wire.kind, other.kind)]
    return (
        sum(bool(_legs(wire, other) + _connectors(wire, other)) for other in earths),
        sum(_connectors(wire, other) * penalty(wire, other) for other in others),
        sum(_legs(wire, other) * penalty(wire, other) for other in others),
        len(earths),
        int(colour != USUAL.get(wire.kind, colour)),
        int(colour.stripe is not None),
        len(others),
    )


def _legs(one: ColouredWire, other: ColouredWire) -> int:
    return len(set(one.legs) & set(other.legs))


def _connectors(one: ColouredWire, other: ColouredWire) -> int:
    return len(set(one.connectors) & set(other.connectors))


def swapped(question: Question, colours: dict[str, Colour]) -> dict[str, Colour]:
    """Return the colours after every exchange of two of them that makes the measure less."""
    best = measured(question, colours)
    free = [wire for wire in question.wires if wire.fixed is None]
    codes = tuple(dict.fromkeys(colour for wire in free for colour in question.choices(wire)))
    for pair in combinations(codes, 2):
        other = dict(zip(pair, pair[::-1], strict=True))
        swaps = {
            wire.key: other[own]
            for wire in free
            if (own := colours[wire.key]) in other and all(question.may_have(wire, each) for each in pair)
        }
        tried = {**colours, **swaps}
        if swaps and (reached := measured(question, tried)) < best:
            colours, best = tried, reached
    return colours

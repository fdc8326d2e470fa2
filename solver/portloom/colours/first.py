"""A first answer: each wire takes the colour that harms least beside those that have theirs already."""

from collections import Counter
from collections.abc import Sequence

from portloom.base.bike import Colour
from portloom.base.wire_colours import alike
from portloom.colours.question import USUAL, ColouredWire, Question, harm

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
        sum(_connectors(wire, other) * harm(wire, other) for other in others),
        sum(_legs(wire, other) * harm(wire, other) for other in others),
        len(earths),
        int(colour != USUAL.get(wire.kind, colour)),
        len(others),
    )


def _legs(one: ColouredWire, other: ColouredWire) -> int:
    return len(set(one.legs) & set(other.legs))


def _connectors(one: ColouredWire, other: ColouredWire) -> int:
    return len(set(one.connectors) & set(other.connectors))

"""Two colours exchanged throughout: what the search leaves open and people don't, such as which colour is earth's."""

from itertools import combinations

from portloom.base.bike import Colour
from portloom.colours.count import measured
from portloom.colours.question import Question

Colours = dict[str, Colour]


def swapped(question: Question, colours: Colours) -> Colours:
    """Return the colours after every exchange of two of them that makes the measure less."""
    best = measured(question, colours)
    free = {wire.key: question.choices(wire) for wire in question.wires if wire.fixed is None}
    codes = tuple(dict.fromkeys(colour for choices in free.values() for colour in choices))
    for pair in combinations(codes, 2):
        tried = {key: _other(colour, pair, free.get(key, ())) for key, colour in colours.items()}
        if tried != colours and (reached := measured(question, tried)) < best:
            colours, best = tried, reached
    return colours


def _other(colour: Colour, pair: tuple[Colour, Colour], choices: tuple[Colour, ...]) -> Colour:
    """Return the other of a pair of colours where a wire has one and may have both."""
    if colour not in pair or not all(each in choices for each in pair):
        return colour
    return pair[1] if colour == pair[0] else pair[0]

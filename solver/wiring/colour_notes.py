"""What is told of the colours: how far they are proved best, and what looks alike where all the same."""

from collections.abc import Iterator, Sequence

from solver.checking.colour_count import repeats
from solver.colours.question import COUNTS, Colouring, CountName, Group, Question
from solver.words.bike import Leg
from solver.words.figures import listed

SAID: dict[CountName, str] = {
    "stray_earths": "earth wires in another colour than the rest",
    "beside_earths": "wires that look like an earth beside them",
    "in_connectors": "alike in a connector, pairs of one size counted twice",
    "in_legs": "alike in a leg, pairs of one size counted twice",
    "like_earths": "wires that look like an earth elsewhere",
    "unusual": "earths that are not black, feeds that are not red",
    "repeated": "pairs alike anywhere",
}


def colour_notes(question: Question, found: Colouring, legs: Sequence[Leg]) -> tuple[str, ...]:
    """Say how good the colours are by the stated measure, and name what looks alike in a leg or connector."""
    return (*_proof(found), *_alike(question, found, legs))


def _proof(found: Colouring) -> Iterator[str]:
    counts = zip(COUNTS, found.measure.counts, found.bound.counts, strict=True)
    told = [f"{SAID[name]}: {reached}" + (f" (at least {least})" if least < reached else "")
            for name, reached, least in counts if reached]  # fmt: skip
    measure = "; ".join(told) if told else "nothing looks alike"
    proof = "proved best" if found.proven else "not proved best: the effort ended first"
    yield f"chosen by a measure whose first count matters most, {proof}: {measure}"


def _alike(question: Question, found: Colouring, legs: Sequence[Leg]) -> Iterator[str]:
    colours = dict(found.colours)
    groups = list(repeats(question, colours))
    if not groups:
        yield "no two wires that lie together in a leg or a connector look alike, earth wires left out"
    for group in groups:
        names = listed([wire.key for wire in group.wires])
        yield f"in {_where(group, legs)} these look alike: {names}"
    yield "the unit's own plugs are not counted: they have more ways than there are colours, so go by the labels there"


def _where(group: Group, legs: Sequence[Leg]) -> str:
    return legs[group.place].label if isinstance(group.place, int) else group.place

"""Sentences put together."""

from collections.abc import Sequence
from itertools import takewhile

from portloom.base.figures import it

COMMA = ", "


def joined(sentences: Sequence[str]) -> str:
    """Say several sentences as one, what they begin with in common said once."""
    clauses = [sentence.split(COMMA) for sentence in sentences]
    same = takewhile(lambda together: len(set(together)) == 1, zip(*clauses, strict=False))
    common = [together[0] for together in same]
    rest = [COMMA.join(words[len(common) :]) for words in clauses]
    return COMMA.join((*common, *rest)) if common and all(rest) else "; ".join(sentences)


def at_places(labels: Sequence[str]) -> str:
    """Say at which places: "place 'under seat' or 'battery box'"."""
    return f"place {' or '.join(repr(label) for label in labels)}"


def of_it(sentence: str, name: str) -> str:
    """Return a sentence about a thing that was named just before it."""
    rest = sentence.removeprefix(f"{name} ")
    return sentence if rest == sentence or rest.startswith("and ") else f"{it(name)} {rest}"

"""The nearest word that would have been right, and lists of words as people write them."""

import re
from collections.abc import Iterable
from difflib import get_close_matches

DIGITS = re.compile("[0-9]+")
CLOSE = 0.6
"""Share of letters in common from which a word counts as a slip for another."""


def nearest(said: str, known: Iterable[str], close: float = CLOSE) -> str | None:
    """Return the word of ``known`` for which ``said`` may be a slip, or None.

    A number is no slip for another: 'in 3' is never taken for 'in 2'.
    """
    lowered = {word.lower(): word for word in reversed(tuple(known))}
    found = get_close_matches(said.lower(), lowered, n=3, cutoff=close)
    found.sort(key=lambda word: sorted(word) != sorted(said.lower()))  # letters changed over: 'prat' is 'part'
    if not found or DIGITS.sub("", found[0]) == DIGITS.sub("", said.lower()) != said.lower():
        return None
    return lowered[found[0]]


def close_matches(said: str, known: Iterable[str]) -> tuple[str, ...]:
    """Return up to three of ``known``, the nearest to ``said`` first."""
    return tuple(get_close_matches(said, tuple(known), n=3, cutoff=CLOSE))


def suggest(said: str, known: Iterable[str], otherwise: str = "write one of") -> str:
    """Say what would be right for ``said``: the nearest of ``known``, or all of them."""
    words = tuple(dict.fromkeys(known))
    near = nearest(said, words)
    if near:
        return f"write '{near}'"
    if len(words) == 1:
        return f"the only one is '{words[0]}'"
    return f"{otherwise} {or_list(words)}" if words else "there is none to choose from"


def suggest_key(said: str, known: Iterable[str]) -> str:
    """Say which key would be right for ``said``: the nearest of ``known``, or all of them."""
    words = tuple(known)
    near = nearest(said, words)
    return f"write '{near}'" if near else f"the keys here are {and_list(words)}"


def or_list(words: Iterable[str]) -> str:
    """Join ``words`` with 'or'."""
    return _joined(words, "or")


def and_list(words: Iterable[str]) -> str:
    """Join ``words`` with 'and'."""
    return _joined(words, "and")


def _joined(words: Iterable[str], last: str) -> str:
    *first, end = tuple(words) or ("none",)
    return f"{', '.join(first)} {last} {end}" if first else end

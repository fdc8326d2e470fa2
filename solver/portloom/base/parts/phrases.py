"""Words as they are compared: any capitals, hyphens or none, plural, joined or parted, 'lamp' for 'light'.

Common practice, no source.
"""

import re
from collections.abc import Collection, Iterator

Phrase = tuple[str, ...]
"""Words as they are compared: small letters, no hyphens, singular."""
NO_PLURAL = ("ab", "usb", "abs", "gps", "pass", "less")
SAME = {"light": "lamp", "lighting": "lamp", "license": "licence", "telltales": "telltale", "aux": "auxiliary"}
TURNED_ROUND = re.compile(r"^(?P<what>.+?)\s+(?:on|of|for|at)\s+(?:the\s+|my\s+)?(?P<which>.+)$")
PLACES = (
    "front", "rear", "left", "right", "l", "r", "lh", "rh", "lf", "fl", "rf", "fr", "lr", "rl", "rr",
    "lhf", "lhr", "rhf", "rhr", "side", "lever", "pedal",
)  # fmt: skip
"""Words that say which one, wherever they stand: 'indicator switch left'."""
SHORTEST = 3
"""Letters of the parts of a word that is two words: 'killswitch'."""


def phrase_of(text: str) -> Phrase:
    """Return words as they are compared."""
    return tuple(
        _singular(word) for word in re.findall(r"[^\W_]+(?:'s)?", text.casefold().replace("tell-tale", "telltale"))
    )


def _singular(word: str) -> str:
    word = word.removesuffix("'s")
    if word in NO_PLURAL or not word.endswith("s") or word.endswith("ss"):
        return word
    return word.removesuffix("es") if word.endswith(("switches", "flashes")) else word.removesuffix("s")


def key_of(text: str) -> Phrase:
    """Return a phrase by which it is looked up: every way to write it has the same."""
    return tuple(_same(word) for word in phrase_of(text))


def _same(word: str) -> str:
    if word in SAME:
        return SAME[word]
    return f"{word.removesuffix('light')}lamp" if word.endswith("light") else word


def parted(phrase: Phrase, known: Collection[str]) -> Phrase:
    """Return a phrase in which each word that nobody knows is two that are known, if it can be."""
    return tuple(part for word in phrase for part in _parts(word, known))


def _parts(word: str, known: Collection[str]) -> Phrase:
    if word in known:
        return (word,)
    cuts = range(SHORTEST, len(word) - SHORTEST + 1)
    return next(((word[:at], word[at:]) for at in cuts if word[:at] in known and word[at:] in known), (word,))


def which_first(text: str) -> str:
    """Return 'rear brake pressure switch' for 'pressure switch on the rear brake'."""
    found = TURNED_ROUND.match(text.casefold())
    return text if found is None else f"{found['which']} {found['what']}"


def places_first(phrase: Phrase) -> Phrase:
    """Return a phrase with the words that end it and say which one before the others."""
    end = len(phrase)
    while end > 1 and phrase[end - 1] in PLACES:
        end -= 1
    return (*phrase[end:], *phrase[:end])


def runs(phrase: Phrase) -> Iterator[Phrase]:
    """Return every run of words in a phrase, longest first, those that end last first."""
    for length in range(len(phrase), 0, -1):
        for start in range(len(phrase) - length, -1, -1):
            yield phrase[start : start + length]


def is_plural(text: str) -> bool:
    """Tell whether a name speaks of several: 'indicators', 'all four', 'both', 'left and right'."""
    words = re.findall(r"[^\W_]+", text.casefold())
    sides = {"left", "l", "lh"} & set(words) and {"right", "r", "rh"} & set(words)
    many = {"all", "both", "four", "pair", "twin", "set"} & set(words)
    return bool(sides or many) or any(word != _singular(word) for word in words)

"""Whether a text may bear on a plan: it names a port, a load, a switch, a wire, a figure, or points at such a thing.

Common practice, no source.
"""

import re
from difflib import get_close_matches

from portloom.base.parts.phrases import key_of
from portloom.base.parts.words import vocabulary
from portloom.review.talk import NUMBER_OF_WAYS

HARMLESS = frozenset({"to", "up", "over", "can", "off", "unit", "r", "right", "run", "head"})
"""Words of the catalogue's phrases that stand in a line for much else, so far as they stand there alone."""
POINTING = frozenset({
    "amp", "ampere", "blue", "black", "brown", "bulb", "cable", "channel", "coloured", "colored", "connect",
    "connected", "current", "draw", "earth", "earthed", "else", "everything", "fed", "feed", "filament", "free", "fuse",
    "fused", "unfused", "goe", "green", "grey", "ground", "grounded", "input", "join", "joined", "last", "led", "live",
    "loom", "no", "none", "not", "nothing", "one", "orange", "other", "output", "pair", "pin", "pink", "plug",
    "connector", "port",
    "powered", "previou", "purple", "red", "rest", "same", "see", "share", "shared", "splice", "spliced", "supply",
    "switched", "thing", "trip", "two", "volt", "watt", "white", "winch", "wired", "without", "yellow",
})  # fmt: skip
"""Words that point at a thing on a port, or at a wire, in the singular as phrases have them."""
SLIP = 0.8
"""Share of letters in common from which a word may be a slip for one of the catalogue's."""
SHORTEST_SLIP = 4


def bears(text: str) -> bool:
    """Tell whether a text may say something of a plan, as far as its words tell."""
    text = NUMBER_OF_WAYS.sub("", text)
    return re.search(r"\d", text) is not None or any(_bears(word) for word in key_of(text))


def _bears(word: str) -> bool:
    if word in HARMLESS:
        return False
    if word in POINTING or word in vocabulary() or (word.endswith("lamp") and len(word) > len("lamp")):
        return True
    known = [each for each in vocabulary() if len(each) >= SHORTEST_SLIP]
    turned = any(sorted(word) == sorted(each) for each in known)
    return turned or (len(word) >= SHORTEST_SLIP and bool(get_close_matches(word, known, 1, SLIP)))

"""How words for parts are read: any capitals, hyphens or none, plural; the longest known phrase first.

The last word decides the class (a relay is a coil, a fuse no load, a switch works something), those before it which
one. What may be several things is told as that, never guessed. Common practice, no source.
"""

import re
from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from functools import cache
from itertools import pairwise
from typing import Literal

from portloom.base.parts.loads import LOAD_PARTS, SIDES
from portloom.base.parts.others import AMBIGUOUS, OTHER_WORDS
from portloom.base.parts.switches import SWITCH_PARTS

Sort = Literal["load", "switch", "tell-tale", "coil", "fuse", "falls away", "refused", "asked"]
Phrase = tuple[str, ...]
"""Words as they are compared: small letters, no hyphens, singular."""
SWITCHING = ("switch", "button", "sensor", "sender", "signal", "lead", "wire")
LIGHTING = ("indicator", "warning", "light", "lamp", "telltale")
WARNED_OF = ("neutral", "oil", "beam", "turn", "charge")
"""What a tell-tale is of: 'neutral light'."""
LEFT, RIGHT = ("left", "l", "lh"), ("right", "r", "rh")
INDICATING = (("indicator",), ("turn", "signal"), ("blinker",), ("winker",))
NO_PLURAL = ("ab", "usb", "abs", "gps", "pass", "less")


@dataclass(frozen=True)
class PartWords:
    """What some words mean."""

    sort: Sort
    name: str
    """The part as the catalogue calls it; of a coil, what its relay feeds; else the words themselves."""
    said: str
    """The words that were understood."""
    why: str = ""
    """Why it is refused, or falls away."""
    choices: tuple[str, ...] = ()
    """What it may be, where that is asked."""


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


@cache
def _known() -> dict[Phrase, PartWords]:
    """Return every phrase of the catalogue and what it means."""
    found: dict[Phrase, PartWords] = {}
    for ambiguous in AMBIGUOUS:
        for text in ambiguous.words:
            found[phrase_of(text)] = PartWords("asked", text, text, choices=ambiguous.choices)
    for other in OTHER_WORDS:
        sort: Sort = "falls away" if other.falls_away else "refused"
        for text in (other.name, *other.also):
            found[phrase_of(text)] = PartWords(sort, other.name, text, other.why)
    for load in LOAD_PARTS:
        for text in (load.name, *load.also):
            found[phrase_of(text)] = PartWords("load", load.name, text)
    for switch in SWITCH_PARTS:
        for text in (switch.name, *switch.also):
            found[phrase_of(text)] = PartWords("switch", switch.name, text)
    return found


def part_words(text: str) -> PartWords | None:
    """Return what ``text`` means as a whole, as the value of a file's ``part``; None where that is not known."""
    phrase = phrase_of(text)
    found = _known().get(phrase)
    if found is not None:
        return found
    return _side(phrase, text) or _brake(phrase, text)


def words_within(text: str) -> PartWords | None:
    """Return what a name that people give means, by the words anywhere in it; None where no word is known."""
    phrase = phrase_of(text)
    if not phrase:
        return None
    if phrase[-1] == "fuse":
        return PartWords("fuse", text, text)
    if phrase[-1] == "relay":
        return _relay(phrase, text)
    if phrase[-1] in SWITCHING:
        return _within(phrase, ("switch",)) or _brake(phrase, text) or _within(phrase, ("asked", "refused", "load"))
    longest = _within(phrase, ("load", "asked", "refused", "falls away", "switch"))
    tell_tale = _tell_tale(phrase, text)
    if tell_tale and not (longest and longest.sort == "load" and len(phrase_of(longest.said)) > 1):
        return tell_tale
    return _side(phrase, text) or longest


def _runs(phrase: Phrase) -> Iterator[Phrase]:
    """Return every run of words in a phrase, longest first, those that end last first."""
    for length in range(len(phrase), 0, -1):
        for start in range(len(phrase) - length, -1, -1):
            yield phrase[start : start + length]


def _within(phrase: Phrase, sorts: Iterable[Sort]) -> PartWords | None:
    wanted = tuple(sorts)
    found = (_known().get(run) for run in _runs(phrase))
    return next((meant for meant in found if meant is not None and meant.sort in wanted), None)


def _relay(phrase: Phrase, text: str) -> PartWords | None:
    """A relay that the unit replaces falls away; any other is a coil of what it feeds."""
    known = _within(phrase, ("load", "falls away", "refused"))
    if known is not None and phrase_of(known.said)[-1:] == ("relay",):
        return known
    return PartWords("coil", known.name if known else "", text)


def _tell_tale(phrase: Phrase, text: str) -> PartWords | None:
    for before, word in pairwise(phrase):
        if before in WARNED_OF and word in LIGHTING and (before, word) != ("turn", "signal"):
            known = _known().get((before, word))
            name = known.name if known is not None and known.sort == "load" else text
            return PartWords("tell-tale", name, text)
    return PartWords("tell-tale", text, text) if phrase[-1] == "telltale" and not _within(phrase, ("load",)) else None


def _side(phrase: Phrase, text: str) -> PartWords | None:
    """An indicator with its side anywhere in the name: 'rear blinker, left'."""
    if not any(run in INDICATING for run in _runs(phrase)) or (phrase[-1] in SWITCHING and phrase[-1] != "signal"):
        return None
    sides = [side for side, words in zip(SIDES, (LEFT, RIGHT), strict=True) if any(word in words for word in phrase)]
    return PartWords("load", sides[0], text) if len(sides) == 1 else None


def _brake(phrase: Phrase, text: str) -> PartWords | None:
    """A brake's switch with its end anywhere in the name."""
    if phrase[-1] != "switch" or not {"brake", "stop"} & set(phrase) or "stand" in phrase or "engine" in phrase:
        return None
    front, rear = {"front", "lever"} & set(phrase), {"rear", "pedal", "foot"} & set(phrase)
    if bool(front) == bool(rear):
        return None
    return PartWords("switch", f"{'front' if front else 'rear'} brake switch", text)


def kept_off_like(name: str) -> str | None:
    """Return what a name means that belongs on no output of a unit, or None."""
    meant = words_within(name)
    return meant.name if meant is not None and meant.sort == "refused" else None

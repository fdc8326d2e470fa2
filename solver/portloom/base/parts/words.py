"""How words for parts are read: the longest known phrase first, the last word deciding the class.

A relay is a coil, a fuse no load, a switch works something; the words before the last say which one. What may be
several things is told as that, never guessed. Common practice, no source.
"""

from collections.abc import Iterable, Mapping
from dataclasses import replace
from functools import cache
from typing import Literal

from portloom.base.parts.loads import (
    INDICATOR_TELL_TALE,
    LOAD_PARTS,
    MAIN_BEAM_TELL_TALE,
    SIDES,
    STARTER_SOLENOID,
)
from portloom.base.parts.others import AMBIGUOUS, OTHER_WORDS, STARTER_MOTOR
from portloom.base.parts.phrases import Phrase, is_plural, key_of, parted, phrase_of, places_first, runs, which_first
from portloom.base.parts.switches import LEFT_INDICATOR_BUTTON, RIGHT_INDICATOR_BUTTON, SWITCH_PARTS
from portloom.base.values import dataclass

__all__ = ["PartWords", "Sort", "kept_off_like", "load_like", "part_words", "phrase_of", "vocabulary", "words_within"]

Sort = Literal["load", "switch", "tell-tale", "coil", "fuse", "falls away", "refused", "asked"]
SWITCHES = ("switch", "button", "sensor", "sender")
SWITCHING = (*SWITCHES, "signal", "lead", "wire", "request")
LAMP_WORDS = ("indicator", "warning", "lamp", "telltale")
WARNED_OF = ("neutral", "oil", "beam", "turn", "gear", "fuel", "stand", "temperature", "temp")
"""What a tell-tale is of: 'neutral light'."""
BETWEEN = ("pressure", "level", "signal", "warning", "side", "lamp")
"""What may stand between that and the lamp: 'oil pressure warning light'."""
LEFT = ("left", "l", "lh", "lf", "fl", "lr", "rl", "lhf", "lhr")
RIGHT = ("right", "r", "rh", "rf", "fr", "rr", "rhf", "rhr")
"""Words for a side; of two letters one is the end: 'lr' and 'rl' are left and rear, 'rr' is right and rear."""
INDICATING = (("indicator",), ("turn", "signal"), ("blinker",), ("winker",), ("flasher",))
TURNS = (*INDICATING, ("turn",))


@dataclass(frozen=True)
class PartWords:
    """What some words mean."""

    sort: Sort
    name: str
    """The part as the catalogue calls it, '' of a switch that it does not have; of a coil, what its relay feeds."""
    said: str
    """The words that were understood."""
    why: str = ""
    """Why it is refused, or falls away."""
    choices: tuple[str, ...] = ()
    """What it may be, where that is asked."""


@cache
def _known() -> Mapping[Phrase, PartWords]:
    """Return every phrase of the catalogue and what it means, wherever it stands in a name."""
    found: dict[Phrase, PartWords] = {}
    for ambiguous in AMBIGUOUS:
        for text in () if ambiguous.alone else ambiguous.words:
            found[key_of(text)] = PartWords("asked", text, text, choices=ambiguous.choices)
    for other in OTHER_WORDS:
        sort: Sort = "falls away" if other.falls_away else "refused"
        for text in (other.name, *other.also):
            found[key_of(text)] = PartWords(sort, other.name, text, other.why)
    for load in LOAD_PARTS:
        found |= {key_of(text): PartWords("load", load.name, text) for text in (load.name, *load.also)}
    for switch in SWITCH_PARTS:
        found |= {key_of(text): PartWords("switch", switch.name, text) for text in (switch.name, *switch.also)}
    return found


@cache
def _alone() -> Mapping[Phrase, PartWords]:
    """Return the phrases that mean something only where nothing else is said."""
    found: dict[Phrase, PartWords] = {}
    for ambiguous in AMBIGUOUS:
        for text in ambiguous.words if ambiguous.alone else ():
            found[key_of(text)] = PartWords("asked", text, text, choices=ambiguous.choices)
    for load in LOAD_PARTS:
        found |= {key_of(text): PartWords("load", load.name, text) for text in load.alone}
    for switch in SWITCH_PARTS:
        found |= {key_of(text): PartWords("switch", switch.name, text) for text in switch.alone}
    return found


@cache
def vocabulary() -> frozenset[str]:
    """Return every word of the phrases of the catalogue."""
    return frozenset(word for phrase in (*_known(), *_alone()) for word in phrase) | {"switch", "relay", "sensor"}


def _key(text: str) -> Phrase:
    return parted(key_of(text), vocabulary())


def _whole(phrase: Phrase) -> PartWords | None:
    return _known().get(phrase) or _alone().get(phrase)


KNOWN_WORDS: tuple[str, ...] = tuple(
    text
    for named in ([(p.name, p.also) for p in LOAD_PARTS], [(p.name, p.also) for p in SWITCH_PARTS],
                  [(p.name, p.also) for p in OTHER_WORDS])
    for name, also in named
    for text in (name, *also)
)  # fmt: skip
"""Every name and every other word for a part."""


def part_words(text: str) -> PartWords | None:
    """Return what ``text`` means as a whole, as the value of a file's ``part``; None where that is not known."""
    phrase, turned = _key(text), places_first(_key(which_first(text)))
    if not phrase:
        return None
    side = _button(turned, text) if turned[-1] in SWITCHES else _side(turned, text)
    return _whole(phrase) or _whole(turned) or side or _brake(turned, text)


def words_within(text: str) -> PartWords | None:
    """Return what a name that people give means, by the words anywhere in it; None where no word is known."""
    whole, phrase = _key(text), places_first(_key(which_first(text)))
    if not phrase:
        return None
    return _whole(whole) or _whole(phrase) or _either(text) or _by_class(phrase, text)


def _by_class(phrase: Phrase, text: str) -> PartWords | None:
    """Read a name by its last word."""
    last = phrase[-1]
    if last == "fuse":
        return PartWords("fuse", text, text)
    if last == "relay":
        return _relay(phrase, text)
    if last in SWITCHING and phrase[-2:] != ("turn", "signal"):
        return _switch(phrase, text)
    if len(_sided(phrase)) > 1 and any(run in INDICATING for run in runs(phrase)):
        return PartWords("asked", text, text, choices=SIDES)
    longest = _two_loads(phrase, text) or _within(phrase, ("load", "asked", "refused", "falls away", "switch"))
    if longest is not None and longest.sort == "switch" and last in LAMP_WORDS:
        longest = PartWords("tell-tale", text, text)
    return _tell_tale(phrase, text) or _side(phrase, text) or longest


def _load_at_end(phrase: Phrase) -> PartWords | None:
    """A load whose own words end like a switch's: 'my starter magnetic switch'."""
    ends = (_known().get(phrase[start:]) for start in range(len(phrase)))
    return next((meant for meant in ends if meant is not None and meant.sort == "load"), None)


def _within(phrase: Phrase, sorts: Iterable[Sort]) -> PartWords | None:
    wanted = tuple(sorts)
    found = (_known().get(run) for run in runs(phrase))
    return next((meant for meant in found if meant is not None and meant.sort in wanted), None)


def _either(text: str) -> PartWords | None:
    """Words on both sides of a stroke that are several loads: 'tail/brake light' may be either, or both."""
    *others, last = text.split("/")
    if not others or not last.split() or not all(other.split() for other in others):
        return None
    kind = last.split()[-1] if len(last.split()) > 1 else "lamp"
    pairs = (*((f"{other} {kind}",) for other in others), (last, f"{last} {kind}"))
    loads = ([each for words in pair if (each := words_within(words)) and each.sort == "load"] for pair in pairs)
    names = tuple(dict.fromkeys(meant[0].name for meant in loads if meant))
    return PartWords("asked", text, text, choices=names) if len(names) > 1 else None


def _two_loads(phrase: Phrase, text: str) -> PartWords | None:
    """Two loads in one name, with nothing between them: 'tail light brake light'."""
    left, names = phrase, []
    for run in runs(phrase):
        meant = _known().get(run)
        if len(run) > 1 and meant is not None and meant.sort == "load" and _holds(left, run):
            names.append(meant.name)
            at = next(n for n in range(len(left)) if left[n : n + len(run)] == run)
            left = (*left[:at], "", *left[at + len(run) :])
    return PartWords("asked", text, text, choices=tuple(dict.fromkeys(names))) if len({*names}) > 1 else None


def _holds(phrase: Phrase, run: Phrase) -> bool:
    return any(phrase[start : start + len(run)] == run for start in range(len(phrase)))


def _relay(phrase: Phrase, text: str) -> PartWords | None:
    """A relay that the unit replaces falls away; any other is a coil of what it feeds."""
    known = _within(phrase, ("load", "falls away", "refused"))
    if known is None or known.sort == "load":
        if known is not None and phrase_of(known.said)[-1:] == ("relay",):
            return known
        return PartWords("coil", known.name if known else "", text)
    return replace(known, sort="load", name=STARTER_SOLENOID.name) if known.name == STARTER_MOTOR.name else known


def _switch(phrase: Phrase, text: str) -> PartWords | None:
    """A switch by what it works; one that the catalogue does not have is still no load."""
    load, button = _load_at_end(phrase), _button(phrase, text)
    if load is not None or button is not None:
        return load or button
    known = _brake(phrase, text) or _within(phrase, ("switch", "asked", "refused"))
    if known is None or (known.sort == "asked" and not {*known.choices} & {part.name for part in SWITCH_PARTS}):
        return PartWords("switch", "", text) if phrase[-1] in SWITCHES else known
    return known


def _tell_tale(phrase: Phrase, text: str) -> PartWords | None:
    """An indicator, a warning or a light of what tells the rider something: 'neutral light'."""
    if phrase[-1] not in LAMP_WORDS or (phrase[-2:] == ("turn", "indicator") and is_plural(text)):
        return None
    before = [word for word in phrase[:-1] if word not in BETWEEN]
    of = next((word for word in reversed(phrase[:-1]) if word in WARNED_OF), None)
    if of is None and phrase[-1] != "telltale":
        return None
    if of is not None and (before[-1] != of or _sided(phrase) or (of == "beam" and phrase[-1] == "lamp")):
        return None
    names = {"turn": INDICATOR_TELL_TALE.name, "beam": MAIN_BEAM_TELL_TALE.name}
    return PartWords("tell-tale", names.get(of or "", text), text)


def _sided(phrase: Phrase) -> list[str]:
    return [side for side, words in zip(SIDES, (LEFT, RIGHT), strict=True) if any(word in words for word in phrase)]


def _side(phrase: Phrase, text: str) -> PartWords | None:
    """An indicator with its side anywhere in the name: 'rear blinker, left'."""
    indicating = TURNS if phrase[-1] in ("turn", *SWITCHES) else INDICATING
    if not any(run in indicating for run in runs(phrase)) or "relay" in phrase:
        return None
    sides = _sided(phrase)
    return PartWords("load", sides[0], text) if len(sides) == 1 else None


def _button(phrase: Phrase, text: str) -> PartWords | None:
    """A button for one side's indicators."""
    side = _side(phrase, text)
    if side is None:
        return None
    name = LEFT_INDICATOR_BUTTON.name if side.name == SIDES[0] else RIGHT_INDICATOR_BUTTON.name
    return PartWords("switch", name, text)


def _brake(phrase: Phrase, text: str) -> PartWords | None:
    """A brake's switch with its end anywhere in the name."""
    if phrase[-1] not in ("switch", "sensor") or not {"brake", "stop"} & set(phrase):
        return None
    if {"stand", "engine"} & set(phrase):
        return None
    front, rear = {"front", "lever"} & set(phrase), {"rear", "pedal", "foot"} & set(phrase)
    if bool(front) == bool(rear):
        return None
    return PartWords("switch", f"{'front' if front else 'rear'} brake switch", text)


def load_like(name: str) -> str:
    """Return the part that a load is called by its name, or nothing."""
    meant = words_within(name)
    return meant.name if meant is not None and meant.sort == "load" else ""


def kept_off_like(name: str) -> str | None:
    """Return what a name means that belongs on no output of a unit, or None."""
    meant = words_within(name)
    return meant.name if meant is not None and meant.sort == "refused" else None

"""What a name in a post means on the bike: by its own words, or by the part that they are words for."""

import re
from collections.abc import Mapping, Sequence
from dataclasses import field

from portloom.base.letters import quoted
from portloom.base.parts.loads import IGNITIONS, LOAD_PART, SIDES
from portloom.base.parts.phrases import is_plural, key_of
from portloom.base.parts.switches import FRONT_BRAKE_SWITCH, REAR_BRAKE_SWITCH, SWITCH_PART
from portloom.base.parts.words import PartWords, words_within
from portloom.base.values import dataclass
from portloom.review.names import KnownNames
from portloom.review.ports import Side

ENDS = ("front", "rear")
PAIRS = (SIDES, (FRONT_BRAKE_SWITCH.name, REAR_BRAKE_SWITCH.name))
"""What people name together: 'indicators', 'brake switches'."""


@dataclass(frozen=True)
class Known:
    """The loads, or the switches, of a bike, and what each is, where its file says so."""

    names: KnownNames
    parts: Mapping[str, str | None]
    groups: Mapping[str, tuple[str, ...]] = field(default_factory=dict)
    """The loads of each share group that has several."""


@dataclass(frozen=True)
class Meant:
    """What a name means."""

    names: tuple[str, ...] = ()
    """All that it means; none where that is not clear."""
    may_be: tuple[str, ...] = ()
    near: tuple[str, ...] = ()
    kept_off: str | None = None
    """What it is that belongs on no port."""
    instead: tuple[str, str] | None = None
    """What it is that can't be there, and what would be right."""


def thing_meant(text: str, known: Known, side: Side) -> Meant:
    """Return what a name means among the loads, on an output, or among the switches, on an input."""
    if text in known.names:
        return Meant((text,))
    words = words_within(text)
    if words is None:
        group = _group(text, known)
        return Meant(group) if group else _by_letters(text, known)
    return refusal(text, words, side) or _by_words(text, words, known, side)


def _by_letters(text: str, known: Known) -> Meant:
    """Return what a name means that has no word of the trade in it: a name of the bike, or a slip for one."""
    meant = known.names.meant(text)
    return Meant(meant.names) if meant.clear else Meant(may_be=meant.names, near=meant.near)


def _group(text: str, known: Known) -> tuple[str, ...]:
    """Return the loads of a share group that is called so."""
    return next((loads for group, loads in known.groups.items() if key_of(group) == key_of(text)), ())


def _by_words(text: str, words: PartWords, known: Known, side: Side) -> Meant:
    """Return what a name means by its very words, else by the part that they are for."""
    spelt, found = known.names.spelt(text), _by_part(text, words, known)
    group = _group(text, known) if is_plural(text) else ()
    if group and set(group) != set(found):  # the lamps of one part, or all that share with them
        return Meant(may_be=(*found, f"all of {', '.join(group)}"))
    several = tuple(name for name, part in known.parts.items() if words.sort == "asked" and part in words.choices)
    if len(several) > 1 and not found:
        return Meant(may_be=several)
    same_kind = words.sort == ("load" if side == "outputs" else "switch")
    if len(spelt) == 1 and not (same_kind and _is_other_part(spelt[0], words, known)):
        return Meant(spelt)
    if found and (len(found) == 1 or is_plural(text) or words.name in SIDES):
        return Meant(found)
    if spelt or found or words.sort == "asked":
        return Meant(may_be=spelt or found or words.choices)
    return _not_there(text, words, known)


def _not_there(text: str, words: PartWords, known: Known) -> Meant:
    """Return what is said of words of the trade for which the bike has nothing."""
    if words.sort == "coil" and words.name:
        return Meant(instead=_no_relay(text, words, known))
    slips = _by_letters(text, known)
    return Meant(near=slips.near or slips.may_be or slips.names)


def _no_relay(text: str, words: PartWords, known: Known) -> tuple[str, str]:
    """Say that nothing on the bike is fed by the relay that a text speaks of: 'horn relay', 'horn (relay)'."""
    fed = next((name for name, part in known.parts.items() if part == words.name), words.name)
    what = f"'{quoted(text)}': the bike's file feeds no {words.name} by a relay"
    return what, f"write '{fed}' where the output feeds it itself; else 'fed: relay' at it in the bike's file"


def refusal(text: str, words: PartWords, side: Side) -> Meant | None:
    """Return why a name can be on no port of a side, as far as its words tell; None where it can."""
    if words.sort == "refused":
        return Meant(kept_off=words.name)
    if words.sort == "asked" and side == "outputs" and not set(words.choices) <= {*LOAD_PART, *SWITCH_PART}:
        return Meant(may_be=words.choices)
    match words.sort, side:
        case "fuse", _:
            return Meant(instead=(f"'{text}': a fuse is no load", "write what it feeds"))
        case "falls away", _:
            return Meant(instead=(f"'{text}' needs no port: {words.why}", "leave it out"))
        case "switch", "outputs":
            return Meant(instead=(f"'{text}' is a switch or a sensor, no load", "put it on an input"))
        case _:
            return None


def _is_other_part(name: str, words: PartWords, known: Known) -> bool:
    """Tell whether a name of the bike is another part than a text speaks of."""
    parts = {known.parts.get(name), words.name}
    return words.sort in ("load", "switch") and None not in parts and len(parts) > 1 and not parts <= {"", *IGNITIONS}


def _by_part(text: str, words: PartWords, known: Known) -> tuple[str, ...]:
    """Return the loads or switches whose part is what a text speaks of; at one end, where it says which."""
    parts: Sequence[str] = words.choices if words.sort == "asked" else (words.name,)
    if words.sort == "coil":
        fed = (f"{name} relay" for name, part in known.parts.items() if part == words.name)
        return tuple(name for name in fed if name in known.names)
    if words.sort == "asked" and len(parts) > 1 and not (parts in PAIRS and is_plural(text)):
        here = tuple(name for name, part in known.parts.items() if part in parts)
        return here if len(here) == 1 else ()
    here = tuple(name for name, part in known.parts.items() if part in parts)
    if not here and words.name in IGNITIONS:  # people call either of them the ignition
        here = tuple(name for name, part in known.parts.items() if part in IGNITIONS)
    said = set(re.findall(r"[^\W_]+", text.casefold()))
    for end in ENDS:
        at_end = tuple(name for name in here if end in name.casefold().split())
        here = at_end if end in said and at_end else here
    return here


def side_of(texts: Sequence[str], loads: KnownNames | None, switches: KnownNames | None) -> Side | None:
    """Return on which side of a unit things belong; None where nobody can tell, or where they disagree."""
    sides = {_side(text, loads, switches) for text in texts} - {None}
    return sides.pop() if len(sides) == 1 else None


def _side(text: str, loads: KnownNames | None, switches: KnownNames | None) -> Side | None:
    """Return where one thing belongs: by its very name, else by its words, else by a name with its words in it."""
    for side, names in (("outputs", loads), ("inputs", switches)):
        if names is not None and text in names:
            return "outputs" if side == "outputs" else "inputs"
    words = words_within(text)
    if words is not None and words.sort != "asked":
        return "inputs" if words.sort == "switch" else "outputs"
    each = {choice in SWITCH_PART for choice in words.choices} if words is not None else set()
    if len(each) == 1:
        return "inputs" if each.pop() else "outputs"
    load, switch = bool(loads and loads.spelt(text)), bool(switches and switches.spelt(text))
    return None if load == switch else "outputs" if load else "inputs"

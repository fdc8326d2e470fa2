"""Words that the catalogue can't take for a part: what is wrong with each, and the ways to put it right.

What is likeliest stands first: of a pair, the one that the bike does not have yet. Common practice, no source.
"""

from collections import Counter
from collections.abc import Iterator, Sequence
from typing import Literal

from portloom.base.figures import with_article
from portloom.base.nearest import and_list, nearest, or_list
from portloom.base.parts.loads import BEAMS, DASH, LOAD_PART
from portloom.base.parts.others import OTHER_WORD
from portloom.base.parts.phrases import key_of
from portloom.base.parts.switches import NEUTRAL_SWITCH, SWITCH_PART
from portloom.base.parts.words import KNOWN_WORDS, PartWords, part_words, phrase_of, vocabulary, words_within
from portloom.inputs.mends import Mend, Way
from portloom.inputs.problems import Flaw
from portloom.inputs.tree import Keyed, Word, entries, word, words

Wanted = Literal["load", "switch"]
LISTS = {"load": ("loads", "later"), "switch": ("inputs",)}
OTHER_LIST = {"load": "inputs", "switch": "loads"}
SLIP = 0.75
"""Share of letters in common from which a word is a slip for a part: a toaster is no hooter."""
LISTED = "'portloom parts' lists them all"


def meant_by(said: str, wanted: Wanted) -> PartWords | None:
    """Return what an entry's ``part`` means; what an input is of a brake is its switch."""
    brake = wanted == "switch" and phrase_of(said)[-1:] == ("brake",)
    return (part_words(f"{said} switch") if brake else None) or part_words(said)


class UnclearParts:
    """What to say of words that are no part, or may be several."""

    def __init__(self, bike: Keyed | None) -> None:
        """Take a bike's tree; each part that was offered first counts as there from then on."""
        self._there = Counter(_parts_of(bike)) if bike else Counter[str]()

    def told(self, said: Word, meant: PartWords | None, entry: Keyed, wanted: Wanted) -> Flaw:
        """Return what is wrong with a word for a part, and what would be right."""
        match meant.sort if meant else "":
            case "asked" if meant is not None:
                return self._asked(said, meant, entry, wanted)
            case "refused" if meant is not None:
                what = f"no output and no input is for a part '{said.text}'"
                return Flaw.at(said, what, f"leave it out: {meant.why}", _out(entry))
            case "falls away" if meant is not None:
                return Flaw.at(said, f"'{said.text}' is no input", f"leave it out: {meant.why}", _out(entry))
            case "load":
                return Flaw.at(said, f"'{said.text}' is a load", "move it under 'loads'", _moved(entry, "loads"))
            case "switch" if meant is not None and meant.name:
                what = f"'{said.text}' is a switch or a sensor"
                return Flaw.at(said, what, "move it under 'inputs'", _moved(entry, "inputs"))
            case _:
                return Flaw.at(said, f"'{said.text}' is no part", *self._no_part(said, entry, wanted))

    def _no_part(self, said: Word, entry: Keyed, wanted: Wanted) -> tuple[str, tuple[Way, ...]]:
        """Say what to write for a fuse, a relay or a tell-tale, which are no parts; else the nearest."""
        meant = words_within(said.text)
        if slipped := _slipped(said.text, wanted):
            right, ways = self._parts(said, [slipped])
            return f"{right}; {LISTED}", ways
        match meant.sort if meant else "", wanted:
            case "fuse", _:
                right = "leave it out: a fuse is no load, and the unit's outputs take the place of fuses"
                return right, _out(entry)
            case "coil", "load":
                right = "leave the relay out where an output is to feed the load itself; where the relay stays, write "
                return f"{right}'fed: relay' at the load that it feeds", _out(entry)
            case "tell-tale", "load":
                shown = _shown(said.text)
                right = (
                    f"write 'part: {DASH.name}' with 'shows: {shown}'; or leave it out, and name what it tells under "
                )
                return f"{right}the 'shows' of a dash", _as_dash(said, entry, shown)
            case "tell-tale", "switch":
                right = "move it under 'loads', for a lamp is a load; what it shows is an input, such as "
                return f"{right}'part: {_shown(said.text)}'", _moved(entry, "loads")
            case _:
                return self._nearest(said, entry, wanted)

    def _nearest(self, said: Word, entry: Keyed, wanted: Wanted) -> tuple[str, tuple[Way, ...]]:
        if within := _within(said.text, wanted):
            return self._parts(said, [within])
        if several := _several(said.text, wanted):
            return self._parts(said, several)
        if near := _near(said.text, wanted):
            right, ways = self._parts(said, [near])
            return f"{right}; {LISTED}", ways
        named = word(entry, "name") is not None
        right = "leave 'part' out" if named else f"write 'name: {said.text}' in its place"
        key = entry.keys["part"]
        mend = Mend(key.line, key.column, "key", "" if named else "name")
        return f"{right}, or take one: {LISTED}", (Way((mend,), "has no part"),)

    def _asked(self, said: Word, meant: PartWords, entry: Keyed, wanted: Wanted) -> Flaw:
        """Ask which part is meant, or say which where the entry's name tells it."""
        what, choices = f"'{said.text}' may be several parts", _told_by_name(meant, entry)
        if meant.choices == BEAMS and any("/" in power.text for power in words(entry, "power")):
            lines = _two_beams(entry)
            right = f"write two loads in its place, one for each filament: {and_list(lines)}"
            added = (Mend(entry.line, entry.column, "append", line, "loads") for line in lines)
            return Flaw.at(said, what, right, (Way((*_out(entry)[0].mends, *added), "is two loads"),))
        here = [choice for choice in choices if choice in _known(wanted)]
        there = [choice for choice in choices if choice in _known("load" if wanted == "switch" else "switch")]
        right, ways = self._parts(said, here) if here else ("", ())
        if there:
            first, more = self._parts(said, there)
            to = OTHER_LIST[wanted]
            right += f"{', or ' if right else ''}move it under '{to}' and {first}"
            ways = ways or tuple(Way((*way.mends, *_moved(entry, to)[0].mends), way.then) for way in more)
        others = [with_article(choice) for choice in choices if choice in OTHER_WORD]
        if others:
            right += f"; or leave it out where it is {or_list(others)}"
        return Flaw.at(said, what, right, ways)

    def _parts(self, said: Word, choices: Sequence[str]) -> tuple[str, tuple[Way, ...]]:
        """Return the lines that say which part it is, the one that is lacking most first."""
        likely = sorted(choices, key=lambda choice: self._there[choice])
        self._there[likely[0]] += 1
        ways = (Way((Mend(said.line, said.column, "word", choice),), f"is {with_article(choice)}") for choice in likely)
        return "write " + or_list(f"'part: {choice}'" for choice in likely), tuple(ways)


def _parts_of(bike: Keyed) -> Iterator[str]:
    """Return the parts that a bike has for certain."""
    wants: tuple[Wanted, ...] = ("load", "switch")
    for wanted in wants:
        for entry in entries(bike, *LISTS[wanted]):
            said = word(entry, "part")
            meant = meant_by(said.text, wanted) if said else None
            if meant is not None and meant.sort == wanted:
                yield meant.name


def _known(wanted: Wanted) -> Sequence[str]:
    return tuple(LOAD_PART) if wanted == "load" else tuple(SWITCH_PART)


def _two_beams(entry: Keyed) -> list[str]:
    """Return a load for each filament of a headlight, the main beam with the larger power of the two."""
    text = next(power.text for power in words(entry, "power") if "/" in power.text)
    unit = "W"
    powers = sorted(
        (half.strip().removesuffix(unit).strip() for half in text.split("/")), key=lambda half: half.zfill(9)
    )
    rest = [
        (key, found.text)
        for key in entry.values
        if key not in ("name", "part", "power") and (found := word(entry, key))
    ]
    more = "".join(f", {key}: {value}" for key, value in rest)
    return [f"{{part: {beam}, power: {power} {unit}{more}}}" for beam, power in zip(BEAMS, powers, strict=False)]


def _out(entry: Keyed) -> tuple[Way, ...]:
    return (Way((Mend(entry.line, entry.column, "out"),)),)


def _moved(entry: Keyed, to: str) -> tuple[Way, ...]:
    return (Way((Mend(entry.line, entry.column, "move", to),), f"is under '{to}'"),)


def _as_dash(said: Word, entry: Keyed, shown: str) -> tuple[Way, ...]:
    part = Mend(said.line, said.column, "word", DASH.name)
    shows = Mend(entry.line, entry.column, "add", shown, "shows")
    return (Way((part, shows), f"is {with_article(DASH.name)}"),)


def _shown(said: str) -> str:
    """Return the switch or sender that a tell-tale is of, as far as its words tell; any where they do not."""
    first = phrase_of(said)[:1]
    return next((name for name in SWITCH_PART if first == phrase_of(name)[:1]), NEUTRAL_SWITCH.name)


def _within(said: str, wanted: Wanted) -> str:
    """Return the part that is named by some of the words, or nothing."""
    meant = words_within(said)
    return meant.name if meant is not None and meant.sort == wanted else ""


def _several(said: str, wanted: Wanted) -> tuple[str, ...]:
    """Return the parts that some of the words may mean, the nearest where another word is a slip for what it says."""
    meant = words_within(said)
    if meant is None or meant.sort != "asked":
        return ()
    choices = tuple(choice for choice in meant.choices if choice in _known(wanted))
    strange = [word for word in phrase_of(said) if word not in phrase_of(meant.said)]
    near = _near(said, wanted)
    slip = near in choices and bool(strange) and all(nearest(word, phrase_of(near), SLIP) for word in strange)
    return (near,) if slip else choices


def _near(said: str, wanted: Wanted) -> str:
    """Return the part of which any word is the nearest, or nothing."""
    known = {" ".join(key_of(text)): text for text in KNOWN_WORDS}
    meant = part_words(known.get(nearest(" ".join(key_of(said)), known, SLIP) or "", ""))
    return meant.name if meant is not None and meant.sort == wanted else ""


def _slipped(said: str, wanted: Wanted) -> str:
    """Return the part of which each word that nobody knows is a slip: 'ignition coli' is no ignition box."""
    strange = [word for word in key_of(said) if word not in vocabulary()]
    near = _near(said, wanted)
    of = {word for text in _called(near) for word in key_of(text)}
    return near if strange and all(nearest(word, of, SLIP) for word in strange) else ""


def _called(name: str) -> Sequence[str]:
    """Return all names of a part."""
    part = LOAD_PART.get(name) or SWITCH_PART.get(name)
    return (name, *part.also) if part else ()


def _told_by_name(meant: PartWords, entry: Keyed) -> tuple[str, ...]:
    """Return the part that the entry's name tells, or all that it may be."""
    name, part = ("".join(found.text for found in words(entry, key)) for key in ("name", "part"))
    told = [found.name for text in (name, f"{name} {part}") if (found := words_within(text)) is not None]
    return next(((one,) for one in told if one in meant.choices), meant.choices)

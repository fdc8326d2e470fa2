"""The words of a file as the catalogue has them: parts, kinds, modes and events in anybody's spelling.

How a word was taken is told, and what may be several things is asked.
"""

from collections.abc import Callable, Collection, Iterable, Sequence
from typing import Literal, get_args

from portloom.base.events import EVENTS, STATES
from portloom.base.nearest import and_list, nearest, or_list, suggest
from portloom.base.parts.loads import BEAMS, DASH, LOAD_PART
from portloom.base.parts.switches import NEUTRAL_SWITCH, SWITCH_PART
from portloom.base.parts.words import KNOWN_WORDS, PartWords, part_words, phrase_of, words_within
from portloom.base.vocabulary import ALSO_KINDS, MODES, Kind
from portloom.inputs.problems import Flaw
from portloom.inputs.tree import Broken, Keyed, Listed, Node, Word, keyed, word, words

Wanted = Literal["load", "switch"]
OF_UNIT = ", or one that the unit's file lists under 'own_modes'"
SLIP = 0.75
"""Share of letters in common from which a word is a slip for a part: a toaster is no hooter."""
KINDS: tuple[str, ...] = get_args(Kind)


class Resolved:
    """What was found wrong, and how words were taken, while a tree's words are resolved."""

    def __init__(self) -> None:
        """Begin with nothing said."""
        self.flaws: list[Flaw] = []
        self.taken: list[str] = []

    def take(self, said: Word, meant: str) -> Word:
        """Return a word as it was taken; it is told where that is more than its capitals."""
        if phrase_of(said.text) != phrase_of(meant):
            self.taken.append(f"'{said.text}' (line {said.line}) is read as '{meant}'")
        return Word(meant, said.line, said.column, said.plain)

    def part(self, entry: Keyed, wanted: Wanted) -> PartWords | None:
        """Return what an entry's ``part`` means; None where it says none, or what can't be taken, which is told."""
        said = word(entry, "part")
        if said is None:
            return None
        meant = _of_brake(said.text) if wanted == "switch" else part_words(said.text)
        if meant is not None and (meant.sort == wanted or (wanted == "load" and meant.sort == "falls away")):
            return meant
        self.flaws.append(Flaw.at(said, *_wrong_part(said.text, meant, entry, wanted)))
        return None

    def entry(self, node: Keyed, **change: Callable[[Node], Node]) -> Keyed:
        """Return an entry with the words under some keys as they were taken."""
        values = {key: change[key](value) if key in change else value for key, value in node.values.items()}
        return Keyed(node.keys, values, node.line, node.column)

    def kind(self, node: Node) -> Node:
        """Return a kind in the file's words; what is none is left for the field to refuse."""
        if not isinstance(node, Word):
            return node
        lowered = node.text.casefold()
        if lowered in KINDS:
            return Word(lowered, node.line, node.column)
        return self.take(node, ALSO_KINDS[lowered]) if lowered in ALSO_KINDS else node

    def modes(self, own: Collection[str], where: str = OF_UNIT) -> Callable[[Node], Node]:
        """Return what takes modes: the known ones and a unit's own, in any capitals; all else is told."""
        known = (*MODES, *own)

        def one(said: Word) -> Node:
            meant = _any_capitals(said.text, known)
            if meant is None:
                more = "" if nearest(said.text, known) else where
                self.flaws.append(Flaw.at(said, f"there is no mode '{said.text}'", suggest(said.text, known) + more))
            return said if meant is None else Word(meant, said.line, said.column)

        return lambda node: each(node, one)

    def times(self, own: Iterable[str]) -> Callable[[Node], Node]:
        """Return what takes states and events in any capitals; what is none is left to be told."""
        known = (*STATES, *EVENTS, *own)

        def one(said: Word) -> Node:
            meant = _any_capitals(said.text, known)
            return said if meant is None else Word(meant, said.line, said.column)

        return lambda node: each(node, one)


def with_known_modes(unit: Keyed) -> tuple[Keyed, tuple[Flaw, ...]]:
    """Return a unit's tree with the modes of its outputs in the usual words or its own, and those that are neither."""
    resolved, outputs = Resolved(), unit.values.get("outputs")
    if not isinstance(outputs, Listed):
        return unit, ()
    modes = resolved.modes([own.text for own in words(unit, "own_modes")], ", or list it under 'own_modes'")
    items = (resolved.entry(one, switch_modes=modes) if isinstance(one, Keyed) else one for one in outputs.items)
    values = {**unit.values, "outputs": Listed(tuple(items), outputs.line, outputs.column)}
    return Keyed(unit.keys, values, unit.line, unit.column), tuple(resolved.flaws)


def with_known_times(bike: Keyed) -> dict[str, Node]:
    """Return what a bike says of states and events beside its loads, as the words were taken."""
    resolved, found = Resolved(), dict[str, Node]()
    own, alongside = keyed(bike, "events"), bike.values.get("alongside")
    times = resolved.times(own.keys if own else ())
    if own:
        names = {name: _any_capitals(name, EVENTS) or name for name in own.keys}
        values = {
            names[name]: resolved.entry(event, **{"in": times, "excludes": times})
            if isinstance(event, Keyed)
            else event
            for name, event in own.values.items()
        }
        found["events"] = Keyed({names[name]: key for name, key in own.keys.items()}, values, own.line, own.column)
    if isinstance(alongside, Listed):
        items = (resolved.entry(one, when=times) if isinstance(one, Keyed) else one for one in alongside.items)
        found["alongside"] = Listed(tuple(items), alongside.line, alongside.column)
    return found


def each(node: Node, change: Callable[[Word], Node]) -> Node:
    """Return a word, or a list of words, each changed."""
    if isinstance(node, Word):
        return change(node)
    if isinstance(node, Listed):
        items = tuple(change(item) if isinstance(item, Word) else item for item in node.items)
        return Listed(items, node.line, node.column)
    return node


def _of_brake(said: str) -> PartWords | None:
    """Return what an input's ``part`` means: what an input is of a brake is its switch."""
    brake = phrase_of(said)[-1:] == ("brake",)
    return (part_words(f"{said} switch") if brake else None) or part_words(said)


def _any_capitals(said: str, known: Sequence[str]) -> str | None:
    return next((word for word in known if word.casefold() == said.casefold()), None)


def _wrong_part(said: str, meant: PartWords | None, entry: Keyed, wanted: Wanted) -> tuple[str, str]:
    """Say what is wrong with a part and what would be right."""
    if meant is None:
        return f"'{said}' is no part", _no_part(said, wanted)
    sentences = {
        "asked": (f"'{said}' may be several parts", _which(meant, entry)),
        "refused": (f"no output and no input is for a part '{said}'", f"leave it out: {meant.why}"),
        "falls away": (f"'{said}' is no input", f"leave it out: {meant.why}"),
        "load": (f"'{said}' is a load", "move it under 'loads'"),
        "switch": (f"'{said}' is a switch or a sensor", "move it under 'inputs'"),
    }
    return sentences.get(meant.sort, (f"'{said}' is no part", _nearest_part(said, wanted)))


def _no_part(said: str, wanted: Wanted) -> str:
    """Say what to write for a fuse, a relay or a tell-tale, of which the catalogue has no part; else the nearest."""
    meant = words_within(said)
    match meant.sort if meant else "", wanted:
        case "fuse", _:
            return "leave it out: a fuse is no load, and the unit's outputs take the place of fuses"
        case "coil", "load":
            return (
                "leave the relay out where an output is to feed the load itself; where the relay stays, write "
                "'fed: relay' at the load that it feeds"
            )
        case "tell-tale", "load":
            one = f"'part: {DASH.name}', 'shows: [{_shown(said)}]'"
            return f"name what it tells under the 'shows' of a dash, or make it one: {one}"
        case "tell-tale", "switch":
            return f"a lamp is a load: move it under 'loads'; what it shows is an input, such as 'part: {_shown(said)}'"
        case _:
            return _nearest_part(said, wanted)


def _shown(said: str) -> str:
    """Return the switch or sender that a tell-tale is of, as far as its words tell; any where they do not."""
    first = phrase_of(said)[:1]
    return next((name for name in SWITCH_PART if first == phrase_of(name)[:1]), NEUTRAL_SWITCH.name)


def _nearest_part(said: str, wanted: Wanted) -> str:
    if within := _within(said, wanted):
        return f"write 'part: {within}'"
    listed = "'portloom parts' lists them all"
    if several := _several(said, wanted):
        return "write " + or_list(f"'part: {choice}'" for choice in several)
    near = _near(said, wanted)
    return f"write 'part: {near}'; {listed}" if near else f"leave 'part' out, or take one: {listed}"


def _within(said: str, wanted: Wanted) -> str:
    """Return the part that is named by some of the words, or nothing."""
    meant = words_within(said)
    return meant.name if meant is not None and meant.sort == wanted else ""


def _several(said: str, wanted: Wanted) -> tuple[str, ...]:
    """Return the parts that some of the words may mean, the nearest where another word is a slip for what it says."""
    meant = words_within(said)
    if meant is None or meant.sort != "asked":
        return ()
    known = LOAD_PART if wanted == "load" else SWITCH_PART
    choices = tuple(choice for choice in meant.choices if choice in known)
    strange = [word for word in phrase_of(said) if word not in phrase_of(meant.said)]
    near = _near(said, wanted)
    slip = near in choices and bool(strange) and all(nearest(word, phrase_of(near), SLIP) for word in strange)
    return (near,) if slip else choices


def _near(said: str, wanted: Wanted) -> str:
    """Return the part of which any word is the nearest, or nothing."""
    meant = part_words(nearest(said, KNOWN_WORDS, SLIP) or "")
    return meant.name if meant is not None and meant.sort == wanted else ""


def _which(meant: PartWords, entry: Keyed) -> str:
    """Say which part is meant, if the entry's name tells it; else all that it may be."""
    if meant.choices == BEAMS and any("/" in power.text for power in words(entry, "power")):
        return "write two loads, one for each filament: " + and_list(f"'part: {choice}'" for choice in meant.choices)
    name, part = ("".join(found.text for found in words(entry, key)) for key in ("name", "part"))
    told = [found.name for text in (name, f"{name} {part}") if (found := words_within(text)) is not None]
    choices = next(((one,) for one in told if one in meant.choices), meant.choices)
    return "write " + or_list(f"'part: {choice}'" for choice in choices)


def may_be(entry: Keyed, wanted: Wanted) -> tuple[str, ...]:
    """Return the parts that an entry may be, where its word for one can't be taken: those asked for, or the nearest."""
    said = word(entry, "part")
    meant = part_words(said.text) if said else None
    if said is None or (meant is not None and meant.sort != "asked"):
        return ()
    known = LOAD_PART if wanted == "load" else SWITCH_PART
    guessed = _several(said.text, wanted) or (_within(said.text, wanted) or _near(said.text, wanted),)
    choices = meant.choices if meant is not None else guessed
    return tuple(name for name in choices if name in known)


def unread(node: Node) -> Broken:
    """Return what stands for a part that can't be taken, which was told."""
    return Broken(node.line, node.column)

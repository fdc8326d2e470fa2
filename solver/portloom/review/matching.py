"""From what a post says to the loads and switches that it means: a name, and the one thing that it can mean."""

import re
from collections.abc import Iterable, Iterator
from dataclasses import dataclass, field, replace
from difflib import SequenceMatcher
from functools import cached_property

from portloom.base.nearest import close_matches, or_list
from portloom.base.parts.words import kept_off_like
from portloom.inputs.problems import Flaw
from portloom.review.figures import SplitText, split_figures
from portloom.review.post import Post, PostedLine, TextCell, quoted
from portloom.review.settings import PostedSettings, beside, main_fuse_said, note

WORD = re.compile(r"[^\W\d_]+|\d+")
LIKE = 0.8
"""Share of letters in common from which a name may be a slip for another."""
LIKE_WORD = 0.7
"""The same for each of its words: 'zebra lamp' is no brake lamp, and 'front brake switch' never the rear one."""


@dataclass(frozen=True)
class NameMatch:
    """What a name may mean: one thing, or none, or several."""

    names: tuple[str, ...]
    near: tuple[str, ...] = ()
    """Where it means nothing: the nearest that it might have been."""

    @property
    def clear(self) -> str | None:
        """The one thing that it means; None where there are several or none."""
        return self.names[0] if len(self.names) == 1 else None


class KnownNames:
    """Names of loads, switches or ports."""

    def __init__(self, names: Iterable[str]) -> None:
        """Take the names as the files have them."""
        self._names = tuple(dict.fromkeys(names))
        self._words = {name: words_of(name) for name in self._names}
        self._known: dict[str, NameMatch] = {}

    def __contains__(self, name: str) -> bool:
        """Tell whether the files have this very name."""
        return name in self._words

    def __iter__(self) -> Iterator[str]:
        """Return each name."""
        return iter(self._names)

    def meant(self, said: str) -> NameMatch:
        """Return what ``said`` means: the very name; the same words however they are joined; the only name with them.

        'Out3' is out 3, and 'dipped' the dipped beam where no other name has that word. A number is never
        left out or read as another.
        """
        if said not in self._known:
            self._known[said] = self._meant(said)
        return self._known[said]

    def _meant(self, said: str) -> NameMatch:
        if said in self._words:
            return NameMatch((said,))
        words = words_of(said)
        if not words:
            return NameMatch(())
        same = tuple(name for name, own in self._words.items() if own == words)
        if same:
            return NameMatch(same)
        part = tuple(name for name, own in self._words.items() if _is_part(words, own))
        if part:
            return NameMatch(part)
        slips = tuple(name for name, own in self._words.items() if _may_be_slip(words, own))
        return NameMatch(slips) if slips else NameMatch((), close_matches(said, self._names))


def words_of(name: str) -> tuple[str, ...]:
    """Return the words and numbers of a name, in lower case, numbers without leading zeros."""
    return tuple(word.lstrip("0") or "0" if word.isdigit() else word for word in WORD.findall(name.casefold()))


def _numbers(words: tuple[str, ...]) -> list[str]:
    return [word for word in words if word.isdigit()]


def _is_part(words: tuple[str, ...], of: tuple[str, ...]) -> bool:
    return set(words) <= set(of) and _numbers(words) == _numbers(of)


def _may_be_slip(words: tuple[str, ...], for_words: tuple[str, ...]) -> bool:
    if _numbers(words) != _numbers(for_words) or not _alike(" ".join(words), " ".join(for_words), LIKE):
        return False
    if len(words) != len(for_words):  # joined or parted otherwise: there are no words to pair
        return True
    return all(_alike(word, other, LIKE_WORD) for word, other in zip(words, for_words, strict=True))


def _alike(one: str, other: str, share: float) -> bool:
    letters = SequenceMatcher(None, one, other)
    return all(ratio() >= share for ratio in (letters.real_quick_ratio, letters.quick_ratio, letters.ratio))


@dataclass(frozen=True)
class WantedNames:
    """The names that a post may use."""

    outputs: KnownNames
    inputs: KnownNames
    loads: KnownNames
    switches: KnownNames
    places: KnownNames
    guests: frozenset[str] = frozenset()
    """Loads fed from others, which may stand on the port of each."""

    @cached_property
    def ports(self) -> KnownNames:
        """Every port, outputs first."""
        return KnownNames((*self.outputs, *self.inputs))

    @cached_property
    def things(self) -> KnownNames:
        """Everything that may be on a port, loads first."""
        return KnownNames((*self.loads, *self.switches))


@dataclass(frozen=True)
class Posted:
    """Who is on which port, by the names of the files, and what could not be taken."""

    outputs: dict[str, list[str]] = field(default_factory=dict)
    inputs: dict[str, list[str]] = field(default_factory=dict)
    """A multiplexer stands here like a port, with the switches on it; and it is on an input itself."""
    place: str | None = None
    turned: bool | None = None
    settings: PostedSettings = field(default_factory=PostedSettings)
    taken: list[tuple[TextCell, str]] = field(default_factory=list)
    """Names that were written otherwise, and how each was taken."""
    unplaced: list[str] = field(default_factory=list)
    """What stands on a port that is not known."""
    kept_off: list[tuple[str, str]] = field(default_factory=list)
    """Ports with what no output may feed, and what that is."""
    flaws: list[Flaw] = field(default_factory=list)
    stands: dict[str, str] = field(default_factory=dict)
    """Where multiplexers stand, as far as the post says so."""


def match(post: Post, wanted: WantedNames) -> Posted:
    """Return what a post means; each name that is unknown, doubled or may mean several is a flaw."""
    posted = Posted(flaws=list(post.flaws))
    for said in post.said:
        _match_line(said, wanted, posted)
    place = None
    if post.place is not None:
        place = clear(post.place, wanted.places.meant(post.place.text), "place", posted)
    turned = None if post.turned is None else post.turned.text.casefold() in ("yes", "true", "turned")
    for name, at in post.stands:
        box = clear(name, wanted.inputs.meant(name.text), "multiplexer", posted)
        posted.stands.update({box: at.text} if box is not None else {})
    return with_main_fuse(post, replace(posted, place=place, turned=turned))


def with_main_fuse(post: Post, posted: Posted) -> Posted:
    """Return the same with the main fuse that was posted; one that can't be read is a flaw."""
    fuse = None if post.main_fuse is None else main_fuse_said(post.main_fuse)
    if isinstance(fuse, Flaw):
        posted.flaws.append(fuse)
        return posted
    return replace(posted, settings=replace(posted.settings, main_fuse=fuse))


def _match_line(said: PostedLine, wanted: WantedNames, posted: Posted) -> None:
    """Note what one line says."""
    beside_port = as_named(said.port, wanted.ports)
    parts = tuple(as_named(thing, wanted.things) for thing in said.things)
    things = tuple(part.name for part in parts if part.name.text)
    port = clear(beside_port.name, _port_meant(beside_port.name, things, wanted), "port", posted)
    if port is None:
        for names in (wanted.loads, wanted.switches):
            posted.unplaced.extend(name for thing in things if (name := names.meant(thing.text).clear))
    elif port in wanted.outputs:
        _take(things, port, wanted.loads, posted.outputs, posted, wanted.guests)
        posted.flaws.extend(note(beside(said, beside_port, parts), port, posted.settings))
    else:
        _take(things, port, wanted.switches, posted.inputs, posted)


def as_named(cell: TextCell, names: KnownNames) -> SplitText:
    """Part a cell into name and figures, unless it is a name just as it stands."""
    whole = names.meant(cell.text).names
    return SplitText(cell, (), (), (), ()) if whole else split_figures(cell)


def _port_meant(port: TextCell, things: tuple[TextCell, ...], wanted: WantedNames) -> NameMatch:
    """What a port's name means; a bare number is an output where loads are on it, an input where switches are."""
    output, source = wanted.outputs.meant(port.text), wanted.inputs.meant(port.text)
    if output.names and source.names:
        loads = any(wanted.loads.meant(thing.text).clear for thing in things)
        switches = any(wanted.switches.meant(thing.text).clear for thing in things)
        if loads != switches:
            return output if loads else source
    return NameMatch((*output.names, *source.names), output.near or source.near)


def _take(
    things: tuple[TextCell, ...],
    port: str,
    names: KnownNames,
    ports: dict[str, list[str]],
    posted: Posted,
    on_several: frozenset[str] = frozenset(),
) -> None:
    """Note what is on a port; but for those that may be on several, a name counts once."""
    held = ports.setdefault(port, [])
    for thing in things:
        meant = names.meant(thing.text)
        what = kept_off_like(thing.text) if ports is posted.outputs and not meant.names else None
        if what is not None:
            posted.kept_off.append((port, what))
            continue
        name = clear(thing, meant, "load" if ports is posted.outputs else "switch", posted)
        if name is not None and (name in on_several or noted_once(thing, name, port, posted)):
            held.append(name)


def clear(said: TextCell, meant: NameMatch, what: str, posted: Posted) -> str | None:
    """Return the one thing that a name means, or note why there is none."""
    if meant.clear is None:
        posted.flaws.append(Flaw(said.line, said.column, *_unclear(quoted(said.text), meant, what)))
    elif meant.clear != said.text:
        posted.taken.append((said, meant.clear))
    return meant.clear


def _unclear(said: str, meant: NameMatch, what: str) -> tuple[str, str]:
    if meant.names:
        return f"'{said}' may be {or_list(meant.names)}", "write which"
    right = f"write {or_list(meant.near)}" if meant.near else "write a name that the files have"
    return f"there is no {what} '{said}'", right


def noted_once(thing: TextCell, name: str, port: str, posted: Posted) -> bool:
    """Tell whether a thing is named for the first time; the second time is a flaw."""
    before = next(_ports_of(name, posted), None)
    if before is None:
        return True
    where = f"on {before} and on {port}" if before != port else f"twice on {port}"
    posted.flaws.append(Flaw(thing.line, thing.column, f"{name} is {where}", "leave one of them out"))
    return False


def _ports_of(name: str, posted: Posted) -> Iterator[str]:
    for ports in (posted.outputs, posted.inputs):
        yield from (port for port, held in ports.items() if name in held)

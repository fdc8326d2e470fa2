"""From what a post says to the loads and switches that it means: a name, and the one thing that it can mean."""

from collections.abc import Iterator, Mapping
from dataclasses import field, replace
from functools import cached_property

from portloom.base.letters import quoted
from portloom.base.nearest import or_list
from portloom.base.parts.others import STARTER_MOTOR
from portloom.base.values import dataclass
from portloom.inputs.problems import Flaw
from portloom.review.feed_lines import is_starter_motor
from portloom.review.figures import SplitText, current_said, split_figures
from portloom.review.meaning import Known, Meant, side_of, thing_meant
from portloom.review.names import KnownNames, NameMatch, words_of
from portloom.review.ports import Side, port_meant
from portloom.review.post import Post, PostedLine, TextCell
from portloom.review.rear_lamps import told_apart
from portloom.review.settings import PostedSettings, beside, main_fuse_said, note
from portloom.review.talk import TALK
from portloom.rules.posted import Doubt


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
    load_parts: Mapping[str, str | None] = field(default_factory=dict)
    switch_parts: Mapping[str, str | None] = field(default_factory=dict)
    """What each is, where the file says so."""
    groups: Mapping[str, tuple[str, ...]] = field(default_factory=dict)
    """The loads of each share group that has several."""

    @cached_property
    def ports(self) -> KnownNames:
        """Every port, outputs first."""
        return KnownNames((*self.outputs, *self.inputs))

    @cached_property
    def things(self) -> KnownNames:
        """Everything that may be on a port, loads first."""
        return KnownNames((*self.loads, *self.switches))

    def known(self, side: Side) -> Known:
        """Return what may be on a side of the unit."""
        if side == "outputs":
            return Known(self.loads, self.load_parts, self.groups)
        return Known(self.switches, self.switch_parts)


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
    no_fuse: bool = False
    """Whether it says that there is no main fuse."""
    aside: list[TextCell] = field(default_factory=list)
    """Lines that say nothing of the plan."""
    doubts: list[Doubt] = field(default_factory=list)
    """The lines that are not clear, and the port that each is about, if that is."""

    def unclear(self, flaw: Flaw, port: str | None = None) -> None:
        """Note what could not be taken."""
        self.flaws.append(flaw)
        self.doubts.append(Doubt(flaw.line, port))


THE_UNIT = "the unit"
"""Where something is of which the post says no port."""


def begun(post: Post, known: KnownNames | None = None) -> Posted:
    """Return what a post says before any name of it is matched; ``known`` are the bike's own, if there is a bike."""
    posted = Posted(no_fuse=post.no_fuse is not None)
    for flaw in post.flaws:
        posted.unclear(flaw)
    posted.kept_off.extend((THE_UNIT, what) for what in post.kept_off)
    for cell in post.aside:
        if known is not None and _speaks_of(cell, known):
            what = f"'{quoted(cell.text)}' does not say what is on which port"
            posted.unclear(Flaw(cell.line, cell.column, what, "write a line a port, or leave it out"))
        else:
            posted.aside.append(cell)
    return posted


def _speaks_of(cell: TextCell, known: KnownNames) -> bool:
    """Tell whether a line has a word of one of the bike's own names, but for those of talk."""
    own = {word for name in known for word in words_of(name)} - TALK
    return not own.isdisjoint(words_of(cell.text))


def match(post: Post, wanted: WantedNames) -> Posted:
    """Return what a post means; each name that is unknown, doubled or may mean several is a flaw."""
    posted = begun(post, wanted.things)
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
        posted.unclear(fuse)
        return posted
    return replace(posted, settings=replace(posted.settings, main_fuse=fuse))


def _match_line(said: PostedLine, wanted: WantedNames, posted: Posted) -> None:
    """Note what one line says."""
    beside_port = as_named(said.port, wanted.ports)
    parts = tuple(as_named(thing, wanted.things) for thing in said.things)
    things = tuple(_by_current(part, said) for part in parts if part.name.text)
    texts = [thing.text for thing in things]
    side = said.side or side_of(texts, wanted.loads, wanted.switches)
    meant = port_meant(beside_port.name.text, wanted.outputs, wanted.inputs, side)
    if len(meant.names) > 1 and not things:
        return  # which of them is free changes nothing
    port = clear(beside_port.name, meant, "port", posted)
    if port is None:
        for names in (wanted.loads, wanted.switches):
            posted.unplaced.extend(name for thing in things if (name := names.meant(thing.text).clear))
    elif port in wanted.outputs:
        _take(things, port, wanted, posted, "outputs")
        for flaw in note(beside(said, beside_port, parts), port, posted.settings):
            posted.unclear(flaw, port)
    else:
        _take(things, port, wanted, posted, "inputs")


def _by_current(part: SplitText, said: PostedLine) -> TextCell:
    """Return the name of a thing; a 'starter' that draws as its motor does is that."""
    drawn = (*part.currents, *(cell for figure in said.figures for cell in split_figures(figure).currents))
    currents = [current_said(cell.text) or 0 for cell in drawn]
    return replace(part.name, text=STARTER_MOTOR.name) if is_starter_motor(part.name.text, currents) else part.name


def as_named(cell: TextCell, names: KnownNames) -> SplitText:
    """Part a cell into name and figures, unless it is a name just as it stands."""
    whole = names.meant(cell.text).names
    return SplitText(cell, (), (), (), ()) if whole else split_figures(cell)


def _take(things: tuple[TextCell, ...], port: str, wanted: WantedNames, posted: Posted, side: Side) -> None:
    """Note what is on a port; but for those that may be on several, a name counts once."""
    ports = posted.outputs if side == "outputs" else posted.inputs
    ports.setdefault(port, [])
    for thing in things:
        several = told_apart(thing) if side == "outputs" and thing.text not in wanted.loads else (thing,)
        for one in several:
            _take_one(thing, thing_meant(one.text, wanted.known(side), side), port, wanted, posted, side)


def _take_one(thing: TextCell, meant: Meant, port: str, wanted: WantedNames, posted: Posted, side: Side) -> None:
    """Note what one name means on a port."""
    if meant.kept_off is not None:
        posted.kept_off.append((port, meant.kept_off))
    elif not meant.names:
        posted.unclear(Flaw(thing.line, thing.column, *not_clear(thing.text, meant, side)), port)
    held = posted.outputs[port] if side == "outputs" else posted.inputs[port]
    for name in meant.names:
        if meant.names != (thing.text,):
            posted.taken.append((thing, name))
        if name in wanted.guests or noted_once(thing, name, port, posted):
            held.append(name)


def not_clear(text: str, meant: Meant, side: Side) -> tuple[str, str]:
    """Say why a name is not clear, and what would be right."""
    if meant.instead is not None:
        return meant.instead
    what = "load" if side == "outputs" else "switch"
    return _unclear(quoted(text), NameMatch(meant.may_be, meant.near), what)


def clear(said: TextCell, meant: NameMatch, what: str, posted: Posted) -> str | None:
    """Return the one thing that a name means, or note why there is none."""
    if meant.clear is None:
        posted.unclear(Flaw(said.line, said.column, *_unclear(quoted(said.text), meant, what)))
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
    posted.unclear(Flaw(thing.line, thing.column, f"{name} is {where}", "leave one of them out"), port)
    return False


def _ports_of(name: str, posted: Posted) -> Iterator[str]:
    for ports in (posted.outputs, posted.inputs):
        yield from (port for port, held in ports.items() if name in held)

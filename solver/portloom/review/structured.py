"""A plan in YAML or JSON: ``outputs`` and ``inputs``, each a port with its names; this program's own JSON is one."""

from collections.abc import Iterable, Iterator, Sequence
from dataclasses import replace
from typing import Literal

from portloom.base.letters import quoted
from portloom.base.values import dataclass
from portloom.inputs.parsing import parse
from portloom.inputs.problems import Flaw, refuse
from portloom.inputs.tree import Keyed, Listed, Node, Word
from portloom.review.columns import with_unit
from portloom.review.feed_lines import kept_off_within, says_no_fuse
from portloom.review.figures import BARE
from portloom.review.post import NOTHING, Post, PostedLine, TextCell, listed_things

SECTIONS: tuple[Literal["outputs"], Literal["inputs"]] = ("outputs", "inputs")
THINGS = ("loads", "load", "inputs", "switches", "switch")
TRIPS = (("trip", ""), ("trip_a", "A"), ("fuse", ""))
SIZES = (("size", ""), ("wire", ""), ("wire_mm2", "mm2"))
DRAWN = (("current", "A"), ("draws", "A"), ("amps", "A"), ("power", "W"), ("watts", "W"), ("lamp", ""))
MAIN_FUSES = (("main fuse", ""), ("main_fuse", ""), ("main_fuse_a", "A"), ("mainfuse", ""), ("main-fuse", ""),
              ("fuse", ""), ("battery fuse", ""), ("battery_fuse", ""))  # fmt: skip
"""Keys, and the unit that a bare number has there."""
SEVERAL_UNITS = Flaw(
    1,
    1,
    "this post is of several units, so nothing in it is judged",
    "give one unit at a time, each with its own ports",
)
RIGHT = "write 'out 1: [dipped beam, horn]'"
INSTEAD = "write it as a load of a port, or as the main fuse, or leave it out"
OF_A_PLAN = frozenset({
    *SECTIONS, *(key for key, _ in MAIN_FUSES), "feed", "multiplexers", "place", "turned", "unit", "bike", "title",
})  # fmt: skip
OF_A_PORT = frozenset({"port", *THINGS, *(key for key, _ in (*TRIPS, *SIZES, *DRAWN))})
"""Keys that are read, or that bear on no rule."""
ITS_OWN = frozenset({"status", "cautions"})
"""Keys of this program's own document, which says much besides."""


def structured_post(text: str, name: str) -> Post:
    """Read a post that is one mapping; raise BadFile where it can't be read as YAML at all."""
    parsed = parse(text, name, "plan")
    if isinstance(parsed.root.values.get("units"), Listed):
        raise refuse(name, [SEVERAL_UNITS])
    own = parsed.root.values.keys() >= ITS_OWN
    flaws = [*parsed.flaws, *(() if own else _not_read(parsed.root))]
    said: list[PostedLine] = []
    for section in SECTIONS:
        node = parsed.root.values.get(section)
        for one in () if node is None else _section(node):
            if isinstance(one, Flaw):
                flaws.append(one)
            else:
                said.append(replace(one, side=section))
    feed = parsed.root.values.get("feed")
    feeds = [node for node in (parsed.root, feed) if isinstance(node, Keyed)]
    fuse = next(filter(None, (_figure(node, MAIN_FUSES) for node in feeds)), None)
    boxes = list(_boxes(parsed.root.values.get("multiplexers")))
    said += [one for box in boxes for one in box.said]
    stands = tuple((box.name, box.at) for box in boxes if box.at is not None)
    place, turned = _cell(parsed.root, "place"), _cell(parsed.root, "turned")
    return Post(tuple(said), place, turned, fuse, tuple(flaws), stands, next(filter(None, map(_no_fuse, feeds)), None),
                () if own else tuple(_kept_off(parsed.root)))  # fmt: skip


def _kept_off(root: Keyed) -> Iterator[str]:
    """Return what is said to be on the unit, beside its ports, that belongs on none."""
    for key, node in root.values.items():
        what = kept_off_within(f"{key} {node.text}") if key not in OF_A_PLAN and isinstance(node, Word) else None
        if what:
            yield what


def _not_read(root: Keyed) -> Iterator[Flaw]:
    """Tell of each key that is not read."""
    yield from _unknown(root, OF_A_PLAN, "the plan")
    feed = root.values.get("feed")
    if isinstance(feed, Keyed):
        yield from _unknown(feed, frozenset(key for key, _ in MAIN_FUSES), "the feed")
    elif feed is not None:
        yield Flaw.at(feed, "what is said of the feed can't be read", "write 'main fuse: 30 A'")
    for section in (root.values.get(name) for name in SECTIONS):
        for port in (port for port in _held_in(section) if isinstance(port, Keyed)):
            if port.values.keys() & {"port", *THINGS}:
                yield from _unknown(port, OF_A_PORT, "a port")


def _unknown(node: Keyed, known: frozenset[str], where: str) -> Iterator[Flaw]:
    for key, word in node.keys.items():
        if key not in known:
            yield Flaw.at(word, f"'{quoted(key)}' is no key of {where}, so it is not read", INSTEAD)


def _held_in(node: Node | None) -> Iterable[Node]:
    if isinstance(node, Listed):
        return node.items
    return node.values.values() if isinstance(node, Keyed) else ()


@dataclass(frozen=True)
class _PostedBox:
    """A multiplexer of a plan: its name, its switches and its input, and where it stands."""

    name: TextCell
    at: TextCell | None
    said: tuple[PostedLine, ...]


def _boxes(node: Node | None) -> Iterator[_PostedBox]:
    """Read the multiplexers of this program's own document: a list of mappings."""
    for item in node.items if isinstance(node, Listed) else ():
        name = _cell(item, "name") if isinstance(item, Keyed) else None
        if isinstance(item, Keyed) and name is not None:
            port, switches = _cell(item, "port"), item.values.get("inputs")
            on_it = tuple(_switch_of(one) for one in switches.items) if isinstance(switches, Listed) else ()
            said = [PostedLine(name, tuple(cell for cell in on_it if cell is not None))]
            said += [PostedLine(port, (name,))] if port is not None else []
            yield _PostedBox(name, _cell(item, "at"), tuple(said))


def _switch_of(node: Node) -> TextCell | None:
    if isinstance(node, Word):
        return _cell_of(node)
    return _cell(node, "input") if isinstance(node, Keyed) else None


def _figure(node: Keyed, keys: Sequence[tuple[str, str]]) -> TextCell | None:
    """Return the first of some figures that stands there."""
    for key, unit in keys:
        found = node.values.get(key)
        if isinstance(found, Word) and found.text.casefold() not in NOTHING and not says_no_fuse(found.text):
            cell = _cell_of(found)
            return with_unit(cell, unit) if BARE.fullmatch(found.text) else cell
        if isinstance(found, Listed | Keyed):
            return TextCell(f"{key}: several", found.line, found.column)  # which nobody can read as one figure
    return None


def _no_fuse(root: Keyed) -> TextCell | None:
    """Return where a post says that there is no main fuse."""
    said = (root.values.get(key) for key, _ in MAIN_FUSES)
    return next((_cell_of(word) for word in said if isinstance(word, Word) and says_no_fuse(word.text)), None)


def _cell(root: Keyed, key: str) -> TextCell | None:
    node = root.values.get(key)
    return _cell_of(node) if isinstance(node, Word) else None


def _section(node: Node) -> Iterator[PostedLine | Flaw]:
    match node:
        case Keyed(keys, values):
            for key, value in values.items():
                yield from _port(keys[key], value)
        case Listed(items):
            for item in items:
                yield from _item(item)
        case _:
            yield Flaw.at(node, "no port is named here", RIGHT)


def _item(item: Node) -> Iterator[PostedLine | Flaw]:
    """Read an entry of a list: a mapping that names its port, or one with a single port."""
    if not isinstance(item, Keyed):
        yield Flaw.at(item, "no port is named here", RIGHT)
        return
    port = item.values.get("port")
    if isinstance(port, Word):
        held = next((item.values[key] for key in THINGS if key in item.values), None)
        yield from _port(port, held, item)
    else:
        for key, value in item.values.items():
            yield from _port(item.keys[key], value)


def _port(port: Word, held: Node | None, beside: Keyed | None = None) -> Iterator[PostedLine | Flaw]:
    """Read what is on a port: a word that may hold several names, or a list with one each; figures stand beside it."""
    if isinstance(held, Keyed) and any(key in held.values for key in THINGS):
        beside, held = held, next(held.values[key] for key in THINGS if key in held.values)
    match held:
        case Word():
            things = listed_things(_cell_of(held))
        case Listed(items):
            things = tuple(_cell_of(item) for item in items if isinstance(item, Word))
            yield from (_no_name(port, item) for item in items if isinstance(item, Keyed | Listed))
        case Keyed():
            things = ()
            yield _no_name(port, held)
        case _:
            things = ()
    if beside is None:
        yield PostedLine(_cell_of(port), things)
        return
    drawn = tuple(cell for key in DRAWN if (cell := _figure(beside, (key,)))) if len(things) == 1 else ()
    yield PostedLine(_cell_of(port), things, _figure(beside, TRIPS), _figure(beside, SIZES), drawn)


def _no_name(port: Word, node: Keyed | Listed) -> Flaw:
    return Flaw.at(node, f"what is on '{port.text}' is not a name", RIGHT)


def _cell_of(word: Word) -> TextCell:
    return TextCell(word.text, word.line, word.column)

"""A plan in YAML or JSON: ``outputs`` and ``inputs``, each a port with its names; this program's own JSON is one."""

from collections.abc import Iterator

from solver.posts.cells import Cell
from solver.posts.lists import listed_things
from solver.posts.post import Post, Said
from solver.reading.parsing import parse
from solver.reading.problems import Flaw
from solver.reading.tree import Keyed, Listed, Node, Word

SECTIONS = ("outputs", "inputs")
THINGS = ("loads", "load", "inputs", "switches", "switch")
RIGHT = "write 'out 1: [dipped beam, horn]'"


def structured_post(text: str, name: str) -> Post:
    """Read a post that is one mapping; raise BadFile where it can't be read as YAML at all."""
    parsed = parse(text, name, "plan")
    flaws = list(parsed.flaws)
    said: list[Said] = []
    for section in SECTIONS:
        node = parsed.root.values.get(section)
        for one in () if node is None else _section(node):
            if isinstance(one, Flaw):
                flaws.append(one)
            else:
                said.append(one)
    return Post(tuple(said), _cell(parsed.root, "place"), _cell(parsed.root, "turned"), tuple(flaws))


def _cell(root: Keyed, key: str) -> Cell | None:
    node = root.values.get(key)
    return _cell_of(node) if isinstance(node, Word) else None


def _section(node: Node) -> Iterator[Said | Flaw]:
    match node:
        case Keyed(keys, values):
            for key, value in values.items():
                yield from _port(keys[key], value)
        case Listed(items):
            for item in items:
                yield from _item(item)
        case _:
            yield Flaw.at(node, "no port is named here", RIGHT)


def _item(item: Node) -> Iterator[Said | Flaw]:
    """Read an entry of a list: a mapping that names its port, or one with a single port."""
    if not isinstance(item, Keyed):
        yield Flaw.at(item, "no port is named here", RIGHT)
        return
    port = item.values.get("port")
    if isinstance(port, Word):
        held = next((item.values[key] for key in THINGS if key in item.values), None)
        yield from _port(port, held)
    else:
        for key, value in item.values.items():
            yield from _port(item.keys[key], value)


def _port(port: Word, held: Node | None) -> Iterator[Said | Flaw]:
    """Read what is on a port: a word that may hold several names, or a list with one each."""
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
    yield Said(_cell_of(port), things)


def _no_name(port: Word, node: Keyed | Listed) -> Flaw:
    return Flaw.at(node, f"what is on '{port.text}' is no name", RIGHT)


def _cell_of(word: Word) -> Cell:
    return Cell(word.text, word.line, word.column)

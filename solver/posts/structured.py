"""A plan in YAML or JSON: ``outputs`` and ``inputs``, each a port with its names; this program's own JSON is one."""

from collections.abc import Iterator

from solver.posts.cells import Cell
from solver.posts.lists import listed_things
from solver.posts.post import Post, Said
from solver.reading.parsing import parse
from solver.reading.problems import Flaw
from solver.reading.tree import Broken, Keyed, Listed, Node, Word

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
    return Cell(node.text, node.line, node.column) if isinstance(node, Word) else None


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
    things: list[Cell] = []
    for node in held.items if isinstance(held, Listed) else (held,):
        match node:
            case Word(text, line, column):
                things += listed_things(Cell(text, line, column)) if node is held else [Cell(text, line, column)]
            case Broken() | None:
                pass
            case _:
                yield Flaw.at(node, f"what is on '{port.text}' is no name", RIGHT)
    yield Said(Cell(port.text, port.line, port.column), tuple(things))

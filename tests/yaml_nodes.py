"""A file as YAML nodes that know where they stand: found, changed and written again, one line an entry."""

import re
from collections.abc import Iterator

import yaml
from yaml.nodes import MappingNode, Node, ScalarNode, SequenceNode

Place = tuple[int, int]
"""Line and column, from 1."""
ELSEWHERE = yaml.Mark("", 0, 10**6, 10**6, "", 0)
"""Where what was not in the file stands."""
LISTS = ("loads", "later", "inputs")


def composed(text: str) -> MappingNode:
    """Return the mapping that a text is."""
    node = yaml.compose(text)
    assert isinstance(node, MappingNode)
    return node


def new_word(text: str) -> ScalarNode:
    """Return a word that was not in the file."""
    return ScalarNode("", text, ELSEWHERE, ELSEWHERE)


def new_entry(text: str) -> MappingNode:
    """Return an entry that was not in the file."""
    entry = composed(text)
    for node in every_node(entry):
        node.start_mark = node.end_mark = ELSEWHERE
    return entry


def at(node: Node) -> Place:
    """Return where a node begins."""
    return node.start_mark.line + 1, node.start_mark.column + 1


def every_node(node: Node) -> Iterator[Node]:
    """Return a node and all in it, keys too."""
    yield node
    if isinstance(node, MappingNode):
        for pair in node.value:
            for one in pair:
                yield from every_node(one)
    elif isinstance(node, SequenceNode):
        for one in node.value:
            yield from every_node(one)


def lists(root: MappingNode) -> dict[str, SequenceNode]:
    """Return the lists of loads and inputs that a file has."""
    pairs = ((key.value, value) for key, value in root.value)
    return {name: value for name, value in pairs if name in LISTS and isinstance(value, SequenceNode)}


def entry_at(root: MappingNode, line: int, column: int | None = None) -> MappingNode | None:
    """Return the load or input in a line, or round a place."""
    for listed in lists(root).values():
        for entry in listed.value:
            start, end = at(entry), (entry.end_mark.line + 1, entry.end_mark.column + 1)
            if isinstance(entry, MappingNode) and start <= (line, column or start[1]) < end:
                return entry
    return None


def listed_in(root: MappingNode, name: str) -> SequenceNode:
    """Return a list of a file, which begins with nothing where the file has none."""
    if name not in lists(root):
        root.value.append((new_word(name), SequenceNode("", [], ELSEWHERE, ELSEWHERE)))
    return lists(root)[name]


def said(entry: MappingNode, key: str) -> ScalarNode | None:
    """Return the word under a key."""
    found = (value for name, value in entry.value if name.value == key)
    return next((value for value in found if isinstance(value, ScalarNode)), None)


def put(entry: MappingNode, key: str, text: str) -> None:
    """Write something under a key, in the place of what is there."""
    new: Node = composed(f"{key}: {text}").value[0][1] if text.startswith("[") else new_word(text)
    old = next((pair for pair in entry.value if pair[0].value == key), None)
    new.start_mark = old[1].start_mark if old else ELSEWHERE
    if old:
        entry.value[entry.value.index(old)] = (old[0], new)
    else:
        entry.value.append((new_word(key), new))


def drop(entry: MappingNode, key: str) -> None:
    """Leave a key out."""
    entry.value = [pair for pair in entry.value if pair[0].value != key]


def written(node: Node, depth: int = 0) -> str:
    """Return YAML nodes as a file, one line for each entry."""
    match node:
        case ScalarNode():
            quoted = depth > 0 and (
                re.search(r"[,\[\]{}#]|: |^$|^[&*!|>%@'\"]", node.value) or node.style in ("'", '"')
            )
            doubled = node.value.replace("'", "''")
            return f"'{doubled}'" if quoted else str(node.value)
        case SequenceNode():
            items = [written(item, depth + 1) for item in node.value]
            return "".join(f"\n  - {item}" for item in items) if depth == 1 and items else f"[{', '.join(items)}]"
        case _:
            pairs = [f"{written(key, depth + 1)}: {written(value, depth + 1)}" for key, value in node.value]
            return f"{{{', '.join(pairs)}}}" if depth else "\n".join(pairs) + "\n"

"""Builds the tree of one document from the events of a YAML parser."""

import re
from collections.abc import Iterable, Iterator, Sequence

from yaml.events import (
    AliasEvent,
    CollectionStartEvent,
    DocumentStartEvent,
    Event,
    MappingEndEvent,
    MappingStartEvent,
    NodeEvent,
    ScalarEvent,
    SequenceEndEvent,
    SequenceStartEvent,
)

from portloom.base.letters import first_hidden, on_one_line, told
from portloom.inputs.problems import Flaw
from portloom.inputs.tree import Broken, Keyed, Listed, Node, Word

WHOLE = re.compile(r"[+-]?[0-9]+")
REST = re.compile(r"[0-9]+(?P<unit>\s*[^\d\s].*)?")
UNIT = re.compile(r"(m|c)?m|mm2|mm²|m?A|m?V|k?W|mW|m?Ah|mohm|ohm|mΩ|Ω|°?C|k?Hz|ms|s|min|h|%|x")

KeyAndValue = tuple[Node, Node]


def rejoin(pairs: Sequence[KeyAndValue]) -> list[KeyAndValue]:
    """Put ``length: 0`` and the empty key ``35 m`` together again, as one broken value."""
    kept: list[KeyAndValue] = []
    for key, value in pairs:
        whole = kept[-1][1] if kept else None
        if isinstance(whole, Word) and isinstance(key, Word) and _cut(whole, key) and _is_empty(value):
            kept[-1] = (kept[-1][0], _told(whole, key))
        else:
            kept.append((key, value))
    return kept


def rejoin_list(items: Sequence[Node]) -> list[Node]:
    """Put ``7,5 A`` in a list together again: a bare number, no space, then digits with a unit."""
    kept: list[Node] = []
    for item in items:
        whole = kept[-1] if kept else None
        if isinstance(whole, Word) and isinstance(item, Word) and _is_one_quantity(whole, item):
            kept[-1] = _told(whole, item)
        else:
            kept.append(item)
    return kept


def _is_one_quantity(whole: Word, rest: Word) -> bool:
    touch = whole.line == rest.line and whole.column + len(whole.text) + 1 == rest.column
    return touch and _cut(whole, rest) and bool(UNIT.fullmatch(_unit(rest)))


def _cut(whole: Word, rest: Word) -> bool:
    plain = whole.plain and rest.plain
    return plain and bool(WHOLE.fullmatch(whole.text) and REST.fullmatch(rest.text))


def _is_empty(value: Node) -> bool:
    return isinstance(value, Broken) and value.empty


def _unit(rest: Word) -> str:
    found = REST.fullmatch(rest.text)
    return (found["unit"] or "").strip() if found else ""


def _told(whole: Word, rest: Word) -> Broken:
    unit = "" if _unit(rest) else " with its unit"
    comma, point = f"{whole.text},{rest.text}", f"{whole.text}.{rest.text}"
    return Broken(whole.line, whole.column, f"decimal comma in '{comma}'", f"write {point}{unit}")


NULLS = ("", "~", "null", "Null", "NULL")  # YAML 1.2, core schema
YAML_TAG = "tag:yaml.org,2002:"
DEEPEST = 16
LONGEST = 2_000
"""Letters of a name or a note; a page holds some three thousand."""
MOST_REPEATED = 20_000
"""Words, lists and mappings that aliases may repeat in one file."""
IN_FULL = "write each entry out in full"
LEAVE_OUT = "give one, or leave the key out"


class Deep(Exception):
    """Raised where the nesting gets absurd, with the event at which it does."""

    def __init__(self, event: Event) -> None:
        super().__init__()
        self.event = event


class Builder:
    """Builds a tree; ``fatal`` are the flaws that leave no tree to judge, ``flaws`` the others."""

    def __init__(self) -> None:
        self.fatal: list[Flaw] = []
        self.flaws: list[Flaw] = []
        self._events: Iterator[Event] = iter(())
        self._marked: dict[str, Node] = {}
        self._repeated = 0

    def document(self, events: Iterable[Event]) -> Node:
        """Return the tree of the one document that ``events`` tell; raise Deep, or the parser's own error."""
        self._events = iter(events)
        root: Node = Broken(1, 1, empty=True)
        documents = 0
        for event in self._events:
            documents += isinstance(event, DocumentStartEvent)
            if documents > 1:
                self._refuse(event, "a second document starts here", "keep one document in a file")
                break
            if isinstance(event, NodeEvent):
                root = self._node(event, 0)
        return root

    def _refuse(self, event: Event, what: str, right: str) -> None:
        self.fatal.append(Flaw(*place(event), what, right))

    def _node(self, event: Event, depth: int) -> Node:
        if depth > DEEPEST:
            raise Deep(event)
        if isinstance(event, AliasEvent):
            return self._repeat(event)
        node = self._fresh(event, depth)
        if isinstance(event, NodeEvent) and event.anchor:
            self._marked[event.anchor] = node
        return node

    def _fresh(self, event: Event, depth: int) -> Node:
        self._check_tag(event)
        match event:
            case ScalarEvent():
                return self._scalar(event)
            case SequenceStartEvent():
                return self._listed(event, depth)
            case MappingStartEvent():
                return self._keyed(event, depth)
            case _:
                return Broken(*place(event))

    def _repeat(self, event: AliasEvent) -> Node:
        """Return the entry that an alias stands for, unless it stands for none or the file gets absurdly large."""
        node = self._marked.get(event.anchor or "")
        if node is None:
            self._refuse(event, f"'*{event.anchor}' refers to no entry before it", IN_FULL)
            return Broken(*place(event))
        self._repeated += size(node)
        if self._repeated > MOST_REPEATED:
            self._refuse(event, f"'*{event.anchor}' makes the file absurdly large", IN_FULL)
            return Broken(*place(event))
        return node

    def _check_tag(self, event: Event) -> None:
        tag = getattr(event, "tag", None)
        if tag:
            self._refuse(event, f"the tag '{tag.replace(YAML_TAG, '!!')}' is not accepted", "take it out")

    def _scalar(self, event: ScalarEvent) -> Word | Broken:
        is_plain = bool(event.implicit[0])
        if is_plain and event.value in NULLS:
            return Broken(*place(event), empty=True)
        text = on_one_line(event.value).strip()
        self._check_letters(event, text)
        return Word(text, *place(event), plain=is_plain)

    def _check_letters(self, event: ScalarEvent, text: str) -> None:
        """Refuse what can't be seen, for it is written as an escape, and absurd lengths."""
        hidden = first_hidden(text)
        if hidden is not None:
            self._refuse(event, f"{told(text[hidden])} in this word can't be seen", "take it out")
        if len(text) > LONGEST:
            self._refuse(event, f"this word has {len(text):,} letters", f"write {LONGEST:,} at most")

    def _listed(self, start: CollectionStartEvent, depth: int) -> Listed:
        items: list[Node] = []
        for event in self._events:
            if isinstance(event, SequenceEndEvent):
                break
            items.append(self._node(event, depth + 1))
        if start.flow_style:
            items = rejoin_list(items)
        return Listed(tuple(_not_null(item) for item in items), *place(start))

    def _keyed(self, start: CollectionStartEvent, depth: int) -> Keyed:
        pairs: list[KeyAndValue] = []
        for event in self._events:
            if isinstance(event, MappingEndEvent):
                break
            pairs.append((self._node(event, depth + 1), self._node(next(self._events), depth + 1)))
        if start.flow_style:
            pairs = rejoin(pairs)
        return self._with_keys(pairs, start)

    def _with_keys(self, pairs: list[KeyAndValue], start: CollectionStartEvent) -> Keyed:
        keys: dict[str, Word] = {}
        values: dict[str, Node] = {}
        for key, value in pairs:
            if isinstance(key, Word) and self._is_new(key, keys):
                keys[key.text] = key
                values[key.text] = _not_null(value, key)
            elif not isinstance(key, Word):
                self.fatal.append(Flaw.at(key, "a key is missing or is not a word", "write KEY: VALUE"))
        return Keyed(keys, values, *place(start))

    def _is_new(self, key: Word, keys: dict[str, Word]) -> bool:
        if key.text == "<<" and key.plain:
            self.fatal.append(Flaw.at(key, "'<<' would merge another mapping into this one", IN_FULL))
            return False
        if key.text in keys:
            what = f"'{key.text}' is here a second time, first in line {keys[key.text].line}"
            self.flaws.append(Flaw.at(key, what, "keep one of the two"))
            return False
        return True


def size(node: Node) -> int:
    """Count the words, lists and mappings in a node; repeated ones count each time."""
    match node:
        case Listed():
            return 1 + sum(size(item) for item in node.items)
        case Keyed():
            return 1 + sum(size(value) for value in node.values.values())
        case _:
            return 1


def place(event: Event) -> tuple[int, int]:
    """Return the line and the column, from 1, where ``event`` starts."""
    mark = event.start_mark
    return (mark.line + 1, mark.column + 1) if mark else (1, 1)


def _not_null(value: Node, key: Word | None = None) -> Node:
    if not isinstance(value, Broken) or not value.empty:
        return value
    if key is None:
        return Broken(value.line, value.column, "this entry of the list is empty", "fill it in, or take it out")
    return Broken(key.line, key.column, f"'{key.text}' has no value", LEAVE_OUT)

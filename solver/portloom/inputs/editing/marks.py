"""A text as nested parts, each of which knows from which character to which it goes."""

from collections.abc import Iterator

import yaml
from yaml.events import (
    AliasEvent,
    CollectionEndEvent,
    CollectionStartEvent,
    Event,
    MappingStartEvent,
    NodeEvent,
    ScalarEvent,
)

from portloom.base.values import dataclass
from portloom.inputs import parsing
from portloom.inputs.building import NULLS
from portloom.inputs.editing.splicing import SPACE, TextLines

BLOCKS = ("|", ">")
"""Styles of a scalar that has lines of its own."""


@dataclass(frozen=True, eq=False)
class MarkedPart:
    """What stands from ``start`` to ``end``; ``anchor`` is its mark for repeating it, which stands before it."""

    start: int
    end: int
    anchor: str


@dataclass(frozen=True, eq=False)
class Alias(MarkedPart):
    """A place that repeats what is marked elsewhere."""

    name: str


@dataclass(frozen=True, eq=False)
class Scalar(MarkedPart):
    """A word."""

    word: str
    style: str

    @property
    def missing(self) -> bool:
        """Whether no value stands here: nothing at all, or a null."""
        return not self.style and self.word in NULLS


@dataclass(frozen=True, eq=False)
class MarkedEntry:
    """An entry of a list, or a key with what it holds; ``mark`` is just after its dash or its colon."""

    start: int
    mark: int | None
    key: str | None
    value: MarkedPart

    @property
    def end(self) -> int:
        """Where the entry ends."""
        return self.value.end


@dataclass(frozen=True, eq=False)
class MarkedGroup(MarkedPart):
    """A list or a mapping: in braces or brackets, in lines (no flow), or a pair in a list that has no braces."""

    keyed: bool
    flow: bool
    braced: bool
    entries: tuple[MarkedEntry, ...]


def marked(page: TextLines) -> MarkedPart:
    """Return the parts of the one document in ``page``, which the reader takes."""
    return _Marker(page).root()


def within(part: MarkedPart) -> Iterator[MarkedPart]:
    """Return ``part`` and every part in it."""
    yield part
    if isinstance(part, MarkedGroup):
        for entry in part.entries:
            yield from within(entry.value)


class _Marker:
    def __init__(self, page: TextLines) -> None:
        self._page = page
        self._events: Iterator[Event] = iter(yaml.parse(page.text, Loader=parsing.LOADER))

    def root(self) -> MarkedPart:
        return self._part(next(event for event in self._events if isinstance(event, NodeEvent)), 0)

    def _part(self, event: Event, at: int) -> MarkedPart:
        """Return the part that ``event`` begins; ``at`` is its place if nothing stands there."""
        match event:
            case AliasEvent():
                return Alias(_begin(event), _end(event), "", event.anchor or "")
            case ScalarEvent():
                return self._scalar(event, at)
            case CollectionStartEvent():
                return self._group(event)
            case _:
                raise TypeError(f"no part begins with {event}")

    def _body(self, event: NodeEvent) -> int:
        start = _begin(event)
        if not event.anchor:
            return start
        return min(self._page.gap(start + 1 + len(event.anchor)), _end(event))

    def _scalar(self, event: ScalarEvent, at: int) -> Scalar:
        style = event.style or ""
        if _begin(event) == _end(event):
            return Scalar(at, at, "", "", style)
        start, end = self._body(event), _end(event)
        if style in BLOCKS:  # their marks run on over the blank lines below
            end = start + len(self._page.text[start:end].rstrip(SPACE))
        return Scalar(start, end, event.anchor or "", event.value.strip(), style)

    def _group(self, event: CollectionStartEvent) -> MarkedGroup:
        start, flow = self._body(event), bool(event.flow_style)
        braced = flow and self._page.text[start] in "[{"
        keyed = isinstance(event, MappingStartEvent)
        entries: list[MarkedEntry] = []
        end = start
        for inner in self._events:
            if isinstance(inner, CollectionEndEvent):
                end = _end(inner) if braced else end
                break
            entries.append(self._pair(inner) if keyed else self._item(inner, end, flow=flow))
            end = entries[-1].end
        return MarkedGroup(start, end, event.anchor or "", keyed, flow, braced, tuple(entries))

    def _item(self, event: Event, after: int, *, flow: bool) -> MarkedEntry:
        start = _begin(event)
        if flow:
            return MarkedEntry(start, None, None, self._part(event, start))
        dash = self._page.gap(after)
        return MarkedEntry(dash, dash + 1, None, self._part(event, dash + 1))

    def _pair(self, event: Event) -> MarkedEntry:
        start = _begin(event)
        key = self._part(event, start)
        colon = self._page.gap(key.end)
        mark = colon + 1 if self._page.text.startswith(":", colon) else None
        value = self._part(next(self._events), key.end if mark is None else mark)
        return MarkedEntry(start, mark, key.word if isinstance(key, Scalar) else None, value)


def _begin(event: Event) -> int:
    return event.start_mark.index if event.start_mark else 0


def _end(event: Event) -> int:
    return event.end_mark.index if event.end_mark else 0

"""Changes where each entry begins a line of its own, after its key or its dash."""

from collections.abc import Collection, Iterator, Mapping, Sequence
from itertools import pairwise

from portloom.inputs.editing import splicing as spelling
from portloom.inputs.editing.marks import BLOCKS, MarkedEntry, MarkedGroup, MarkedPart, Scalar
from portloom.inputs.editing.splicing import Plain, TextLines, TextSplice, cut, paste

STEP = 2
"""Columns by which a list is indented under its key, where no list beside it shows another number."""


def changed(
    page: TextLines, group: MarkedGroup, mark: int | None, removed: Collection[int], added: Sequence[str]
) -> Iterator[TextSplice]:
    """Take the entries at the positions ``removed`` out of ``group`` and put the texts ``added`` at its end.

    ``mark`` is just after the key or the dash that holds the group; the whole file has none.
    """
    kept = [at for at in range(len(group.entries)) if at not in removed]
    if kept:
        yield from _removals(page, group, sorted(removed), kept[0])
        place = page.last(group.entries[kept[-1]].end)
        yield paste(place, "".join(_between(page, group) + text for text in added))
    else:
        yield from _emptied(page, group, mark, _between(page, group).join(added))


def _between(page: TextLines, group: MarkedGroup) -> str:
    """Return what parts one entry of ``group`` from the next: a line break and the spaces before each."""
    return page.newline + " " * _column(page, group)


def _column(page: TextLines, group: MarkedGroup) -> int:
    return group.start - page.first(group.start)


def _removals(page: TextLines, group: MarkedGroup, removed: Sequence[int], first_kept: int) -> Iterator[TextSplice]:
    """Take lines out; what comes first in its group may stand in the line of the dash that holds them all."""
    by_lines = removed
    if first_kept and not page.begins_line(group.start):
        beginning = group.entries[: first_kept + 1]
        if any("#" in page.text[page.last(one.end) : other.start] for one, other in pairwise(beginning)):
            yield cut(len(page.text[: group.start].rstrip(" ")), page.last(beginning[0].end))
            by_lines = removed[1:]
        else:
            yield cut(group.start, beginning[-1].start)
            by_lines = removed[first_kept:]
    yield from (page.lines(group.entries[at].start, group.entries[at].end) for at in by_lines)


def _emptied(page: TextLines, group: MarkedGroup, mark: int | None, text: str) -> Iterator[TextSplice]:
    """Put ``text``, or the sign of an empty list or mapping, in the place of all entries."""
    empty = "{}" if group.keyed else "[]"
    by_lines = group.entries
    if mark is not None and not text and _is_below(page, group, mark):
        yield paste(mark, " " + empty)
    else:
        yield TextSplice(group.start, page.last(group.entries[0].end), text or empty)
        by_lines = by_lines[1:]
    yield from (page.lines(entry.start, entry.end) for entry in by_lines)


def _is_below(page: TextLines, part: MarkedPart, mark: int) -> bool:
    """Whether a block begins in a line after its key or dash, with nothing but comments between."""
    return page.last(mark) < part.start and not part.anchor


def replaced(page: TextLines, entry: MarkedEntry, value: Plain, *, flow: bool) -> Iterator[TextSplice]:
    """Put ``value`` in the place of what ``entry`` holds: in lines of its own if that is so now, else in one line."""
    old, text = entry.value, _in_lines(page, entry.value, value)
    if isinstance(old, MarkedGroup) and not old.flow:
        if text is None and entry.mark is not None and _is_below(page, old, entry.mark):
            yield paste(entry.mark, " " + spelling.inline(value, flow=flow))
            yield page.lines(old.start, old.end)
        else:
            yield TextSplice(old.start, page.last(old.end), text or spelling.inline(value, flow=flow))
    else:
        space = ": " if entry.mark is None and old.start == old.end else " " * (page.text[old.start - 1] in ":-")
        yield from instead(page, old, space + spelling.inline(value, flow=flow))


def instead(page: TextLines, old: MarkedPart, text: str) -> Iterator[TextSplice]:
    """Put ``text`` in the place of ``old``; a comment beside the head of a block scalar stays."""
    if isinstance(old, Scalar) and old.style in BLOCKS:
        yield TextSplice(old.start, old.start + len(page.text[old.start : page.last(old.start)].split()[0]), text)
        yield cut(page.last(old.start), old.end)
    else:
        yield TextSplice(old.start, old.end, text)


def _in_lines(page: TextLines, group: MarkedPart, value: Plain) -> str | None:
    """Return ``value`` with a line for each of its entries, if ``group`` is such a list or mapping as well."""
    if not isinstance(group, MarkedGroup) or group.flow or not value:
        return None
    if group.keyed and isinstance(value, Mapping):
        return _between(page, group).join(pair(page, group, name, held) for name, held in value.items())
    if not group.keyed and not isinstance(value, str | Mapping):
        return _between(page, group).join(item(page, group, each) for each in value)
    return None


def item(page: TextLines, group: MarkedGroup, value: Plain) -> str:
    """Return ``value`` as an entry of the list ``group``, written as its last entry is."""
    if group.flow:
        return spelling.inline(value, flow=True)
    last = group.entries[-1]
    space = page.text[last.mark : last.value.start]
    space = space if space and not space.strip(" ") else " "
    in_lines = isinstance(last.value, MarkedGroup) and last.value.keyed and not last.value.flow
    if in_lines and value and isinstance(value, Mapping):
        between = _between(page, group) + " " * len("-" + space)
        return "-" + space + between.join(spelling.pair(name, held, flow=False) for name, held in value.items())
    return "-" + space + spelling.inline(value, flow=False)


def pair(page: TextLines, group: MarkedGroup, name: str, value: Plain) -> str:
    """Return a key of the mapping ``group`` with what it holds; a list of mappings gets a line for each."""
    if group.flow:
        return spelling.pair(name, value, flow=True)
    if isinstance(value, str | Mapping) or not value or not all(isinstance(each, Mapping) for each in value):
        return spelling.pair(name, value, flow=False)
    between = _between(page, group) + " " * _step(page, group) + "- "
    entries = (between + spelling.inline(each, flow=False) for each in value)
    return spelling.key(name, flow=False) + ":" + "".join(entries)


def _step(page: TextLines, group: MarkedGroup) -> int:
    """Return how many columns the lists in ``group`` are indented."""
    for entry in group.entries:
        inner = entry.value
        if isinstance(inner, MarkedGroup) and not inner.keyed and not inner.flow:
            return _column(page, inner) - _column(page, group)
    return STEP

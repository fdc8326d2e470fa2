"""Changes inside braces and brackets: entries and commas go and come, comments stay."""

from collections.abc import Collection, Iterator, Sequence

from portloom.inputs.editing.marks import MarkedGroup
from portloom.inputs.editing.splicing import SPACE, TextLines, TextSplice, cut, paste


def changed(
    page: TextLines, group: MarkedGroup, removed: Collection[int], added: Sequence[str]
) -> Iterator[TextSplice]:
    """Take the entries at the positions ``removed`` out of ``group`` and put the texts ``added`` at its end."""
    kept = [at for at in range(len(group.entries)) if at not in removed]
    if not kept and "#" not in page.text[group.start : group.end]:
        yield TextSplice(group.start + 1, group.end - 1, ", ".join(added))
        return
    for first, last in _runs(page, group, removed):
        yield from _removal(page, group, (first, last), kept)
    if added and kept:
        yield from _addition(page, group, kept[-1], added)
    elif added:
        space = " " if page.text[group.start + 1] == "#" else ""
        yield paste(group.start + 1, ", ".join(added) + space)


def _comma(page: TextLines, group: MarkedGroup, position: int) -> int | None:
    """Return where the comma after an entry stands, or None after a last one without."""
    at = page.gap(group.entries[position].end)
    return at if page.text[at] == "," else None


def _runs(page: TextLines, group: MarkedGroup, removed: Collection[int]) -> list[tuple[int, int]]:
    """Return the first and the last of those removed entries that follow one another in a line."""
    runs: list[tuple[int, int]] = []
    for at in sorted(removed):
        if runs and runs[-1][1] == at - 1 and not _parted(page, group.entries[at - 1].end, group.entries[at].start):
            runs[-1] = (runs[-1][0], at)
        else:
            runs.append((at, at))
    return runs


def _parted(page: TextLines, one: int, other: int) -> bool:
    return page.last(one) < other


def _removal(page: TextLines, group: MarkedGroup, run: tuple[int, int], kept: Sequence[int]) -> Iterator[TextSplice]:
    start, end = group.entries[run[0]].start, group.entries[run[1]].end
    comma = _comma(page, group, run[1])
    if comma is None and kept:
        yield from _removal_at_end(page, group.entries[kept[-1]].end, start, end)
    elif comma is None:
        yield _with_spaces(page, start, end)
    elif _parted(page, end, comma):
        yield cut(comma, comma + 1)
        yield _with_spaces(page, start, end)
    else:
        yield _with_spaces(page, start, comma + 1)


def _removal_at_end(page: TextLines, before: int, start: int, end: int) -> Iterator[TextSplice]:
    """With the last entries goes the comma after the one at whose end, ``before``, the list now ends."""
    if "#" in page.text[before:start]:
        comma = page.gap(before)
        yield cut(comma, comma + 1)
        yield _with_spaces(page, start, end)
    else:
        yield cut(before, end)


def _with_spaces(page: TextLines, start: int, end: int) -> TextSplice:
    """Take a piece out with the spaces that belong to it; alone in its lines, it goes with them and their comment."""
    if page.ends_line(end):
        before = page.before(start)
        return page.lines(start, end) if page.begins_line(start) else cut(start - _spaces(before[::-1]), end)
    return cut(start, end + _spaces(page.after(end)))


def _spaces(text: str) -> int:
    return len(text) - len(text.lstrip(SPACE))


def _addition(page: TextLines, group: MarkedGroup, position: int, added: Sequence[str]) -> Iterator[TextSplice]:
    """Put entries behind the one at ``position``; where that has lines of its own, so have they."""
    last = group.entries[position]
    comma = _comma(page, group, len(group.entries) - 1) and _comma(page, group, position)
    at = last.end if comma is None else comma + 1
    space, place = " ", at
    if page.begins_line(last.start):
        space = page.newline + page.before(last.start)
        place = page.last(at) if page.last(at) < group.end else at
    if comma is not None:
        yield paste(place, "".join(f"{space}{text}," for text in added))
    else:
        yield paste(last.end, ",")
        yield paste(place, ",".join(space + text for text in added))

"""Changes a file's text: what is asked for and nothing else, so comments, order and spacing stay."""

from collections.abc import Iterable, Iterator, Sequence
from dataclasses import field
from functools import lru_cache

import yaml

from portloom.base.values import dataclass
from portloom.inputs import parsing
from portloom.inputs.editing import block_style as lined
from portloom.inputs.editing import flow_style as bracketed
from portloom.inputs.editing import splicing as spelling
from portloom.inputs.editing.edits import (
    Append,
    CannotEdit,
    Edit,
    EditPlace,
    Put,
    Remove,
    as_read,
    find,
    outcome,
    spoken,
)
from portloom.inputs.editing.marks import MarkedEntry, MarkedGroup, MarkedPart, Scalar, marked
from portloom.inputs.editing.splicing import Plain, TextLines, TextSplice, spliced
from portloom.inputs.parsing import parse
from portloom.inputs.problems import BadFile
from portloom.inputs.tree import plain


@dataclass(frozen=True)
class PlacedEdit:
    """An edit and the place that it changes; ``values`` are all that are to be appended there."""

    edit: Edit
    place: EditPlace
    values: list[Plain]


@dataclass
class _Job:
    """All that comes and goes in one list or mapping, which ``holder`` holds ``depth`` steps into the file."""

    holder: MarkedEntry
    group: MarkedGroup
    depth: int
    removed: list[int] = field(default_factory=list)
    added: list[str] = field(default_factory=list)


class EditDraft:
    """Takes changes to ``page`` one by one and gives the splices for all of them."""

    def __init__(self, page: TextLines) -> None:
        self._page = page
        self._jobs: dict[int, _Job] = {}
        self._replaced: list[tuple[int, TextSplice]] = []

    def take(self, change: PlacedEdit) -> None:
        """Take one more change; raise Unchangeable if there is nothing that could be changed so."""
        place = change.place
        match change.edit:
            case Put():
                self._put(place, change.values[0])
            case Append():
                self._append(place, change.values)
            case Remove():
                self._remove(place)

    def splices(self) -> list[TextSplice]:
        """Return the splices; where two put something in at one place, what is deeper in the file comes first."""
        found = list(self._replaced)
        for job in self._jobs.values():
            found += ((job.depth, splice) for splice in self._made(job))
        return [splice for _, splice in sorted(found, key=lambda pair: -pair[0])]

    def _put(self, place: EditPlace, value: Plain) -> None:
        entry = place.chain[-1]
        if place.new is None:
            self._replace(place, lined.replaced(self._page, entry, value, flow=place.flow))
            return
        job = self._job(place, entry)
        job.added.append(lined.pair(self._page, job.group, place.new, value))

    def _append(self, place: EditPlace, values: Sequence[Plain]) -> None:
        entry = place.chain[-1]
        match entry.value:
            case _ if place.new is not None or _is_missing(entry.value):
                self._put(place, values)
            case MarkedGroup(keyed=False) as group:
                job = self._job(place, entry)
                job.added.extend(lined.item(self._page, group, value) for value in values)
            case Scalar() as word if not place.alone:
                self._replace(place, lined.instead(self._page, word, self._grown(word, values, flow=place.flow)))
            case _:
                raise CannotEdit(f"{spoken(place.path)} is not a list that can be added to")

    def _remove(self, place: EditPlace) -> None:
        if place.new is not None:
            raise CannotEdit(f"there is no {spoken(place.path)}")
        if place.alone:
            self._put(place, [])
            return
        job = self._job(place, place.parent)
        job.removed.append(job.group.entries.index(place.chain[-1]))

    def _replace(self, place: EditPlace, splices: Iterable[TextSplice]) -> None:
        self._replaced += ((len(place.chain) - 1, splice) for splice in splices)

    def _grown(self, word: Scalar, values: Sequence[Plain], *, flow: bool) -> str:
        """Return the list that begins with ``word``, as it is spelled now if it may stand in brackets like that."""
        stays = flow or word.style in ("'", '"')
        first = self._page.text[word.start : word.end] if stays else spelling.inline(word.word, flow=True)
        return "[" + ", ".join([first, *(spelling.inline(value, flow=True) for value in values)]) + "]"

    def _job(self, place: EditPlace, holder: MarkedEntry) -> _Job:
        group = holder.value
        if not isinstance(group, MarkedGroup) or (group.flow and not group.braced):
            raise CannotEdit(f"{spoken(place.path)} is in a pair without braces: write them first")
        return self._jobs.setdefault(id(group), _Job(holder, group, place.chain.index(holder)))

    def _made(self, job: _Job) -> Iterator[TextSplice]:
        if job.group.flow:
            return bracketed.changed(self._page, job.group, job.removed, job.added)
        return lined.changed(self._page, job.group, job.holder.mark, job.removed, job.added)


def _is_missing(part: MarkedPart) -> bool:
    return isinstance(part, Scalar) and part.missing


__all__ = ["Append", "CannotEdit", "Edit", "Plain", "Put", "Remove", "edited"]

BYTE_ORDER_MARK = "\ufeff"
UNSAFE = "the changed text would not be read as it should be, so it is left as it is"


def edited(text: str, edits: Sequence[Edit]) -> str:
    """Return ``text`` with all ``edits`` made, whose paths lead through the tree of ``text`` as it is now.

    Spaces at the ends of words are left out, as the reader leaves them out. Each Append to a list adds one more
    entry. Raise TypeError if a value is not made of text. Raise Unchangeable if a place is not there, is repeated
    elsewhere or is changed twice, or if the text would not be read back as it should be.
    """
    edits = [as_read(edit) for edit in edits]
    before, page, root = _opened(text, parsing.LOADER)
    draft = EditDraft(page)
    for change in _changes(root, edits):
        draft.take(change)
    result = text[: len(text) - len(page.text)] + spliced(page.text, draft.splices())
    if repr(_tree(result, UNSAFE)) != repr(outcome(before, edits)):  # as text: the order of keys counts too
        raise CannotEdit(UNSAFE)
    return result


@lru_cache(maxsize=1)
def _opened(text: str, _loader: type[yaml.BaseLoader]) -> tuple[object, TextLines, MarkedPart]:
    """Return what a text says, and the text with its parts: one text is opened once, however many changes are tried."""
    page = TextLines(text.removeprefix(BYTE_ORDER_MARK))
    return _tree(text, "the text can't be read as it is"), page, marked(page)


def _tree(text: str, trouble: str) -> object:
    try:
        return plain(parse(text, "text", "bike").root)
    except BadFile as error:
        raise CannotEdit(trouble) from error


def _changes(root: MarkedPart, edits: Sequence[Edit]) -> list[PlacedEdit]:
    """Return one change for each place; raise Unchangeable if two edits are after the same one."""
    changes: dict[tuple[str | int, ...], PlacedEdit] = {}
    for edit in edits:
        place = find(root, edit.path)
        known = changes.get(place.path)
        if known and not (isinstance(edit, Append) and isinstance(known.edit, Append)):
            raise CannotEdit(f"{spoken(edit.path)} is changed twice")
        values = [] if isinstance(edit, Remove) else [edit.value]
        changes[place.path] = PlacedEdit(edit, place, [*(known.values if known else ()), *values])
    for path in changes:
        above = [changes[path[:count]] for count in range(len(path)) if path[:count] in changes]
        if any(not isinstance(change.edit, Append) for change in above):
            raise CannotEdit(f"{spoken(path)} is changed twice: alone, and with what it is in")
    return list(changes.values())

"""Changes a file's text: what is asked for and nothing else, so comments, order, spacing and quotes stay."""

from collections.abc import Sequence
from functools import lru_cache

import yaml

from solver.editing.drafting import Change, Draft
from solver.editing.edits import Append, Edit, Put, Remove, Unchangeable, as_read, outcome
from solver.editing.marks import Part, marked
from solver.editing.places import find, spoken
from solver.editing.spelling import Plain
from solver.editing.splicing import Page, spliced
from solver.reading import parsing
from solver.reading.parsing import parse
from solver.reading.problems import BadFile
from solver.reading.tree import plain

__all__ = ["Append", "Edit", "Plain", "Put", "Remove", "Unchangeable", "edited"]

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
    draft = Draft(page)
    for change in _changes(root, edits):
        draft.take(change)
    result = text[: len(text) - len(page.text)] + spliced(page.text, draft.splices())
    if repr(_tree(result, UNSAFE)) != repr(outcome(before, edits)):  # as text: the order of keys counts too
        raise Unchangeable(UNSAFE)
    return result


@lru_cache(maxsize=1)
def _opened(text: str, _loader: type[yaml.BaseLoader]) -> tuple[object, Page, Part]:
    """Return what a text says, and the text with its parts: one text is opened once, however many changes are tried."""
    page = Page(text.removeprefix(BYTE_ORDER_MARK))
    return _tree(text, "the text can't be read as it is"), page, marked(page)


def _tree(text: str, trouble: str) -> object:
    try:
        return plain(parse(text, "text", "bike").root)
    except BadFile as error:
        raise Unchangeable(trouble) from error


def _changes(root: Part, edits: Sequence[Edit]) -> list[Change]:
    """Return one change for each place; raise Unchangeable if two edits are after the same one."""
    changes: dict[tuple[str | int, ...], Change] = {}
    for edit in edits:
        place = find(root, edit.path)
        known = changes.get(place.path)
        if known and not (isinstance(edit, Append) and isinstance(known.edit, Append)):
            raise Unchangeable(f"{spoken(edit.path)} is changed twice")
        values = [] if isinstance(edit, Remove) else [edit.value]
        changes[place.path] = Change(edit, place, [*(known.values if known else ()), *values])
    for path in changes:
        above = [changes[path[:count]] for count in range(len(path)) if path[:count] in changes]
        if any(not isinstance(change.edit, Append) for change in above):
            raise Unchangeable(f"{spoken(path)} is changed twice: alone, and with what it is in")
    return list(changes.values())

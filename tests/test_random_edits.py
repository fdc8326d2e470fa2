"""Editing files in random styles: what is asked for comes true, and no other line changes.

The readers that judge it, and the edits on plain trees, are those of edit_twin.py.
"""

import re
from collections.abc import Iterator, Sequence
from random import Random
from unittest import mock

import pytest
import yaml
from hypothesis import given, settings
from hypothesis import strategies as st

from edit_twin import Steps, applied, check_read
from hostile_words import BARE_WORDS, IN_QUOTES
from portloom.base.letters import first_hidden
from portloom.inputs import parsing
from portloom.inputs.editing.editing import Append, CannotEdit, Edit, Put, Remove, edited
from scribe import Scribe, Tree
from slices import of_trials


def _is_seen(word: str) -> bool:
    """Tell whether a file may say a word: no end of a line, nothing that can't be seen."""
    return first_hidden(word) is None and not re.search("[\t\n\r\x85\u2028\u2029]", word)


WORDS = (st.sampled_from([*BARE_WORDS, *IN_QUOTES]) | st.text(max_size=6).filter(_is_seen)).map(str.strip)
TREES: st.SearchStrategy[Tree] = st.recursive(
    WORDS, lambda below: st.lists(below, max_size=4) | st.dictionaries(WORDS, below, max_size=4), max_leaves=12
)
FILES: st.SearchStrategy[dict[str, Tree]] = st.dictionaries(WORDS, TREES, min_size=1, max_size=5)
NEW = "a new: key"


def within(tree: Tree, path: Steps = ()) -> Iterator[tuple[Steps, Tree]]:
    """Return the path of everything in ``tree``, and what is there."""
    yield path, tree
    if not isinstance(tree, str):
        steps: Sequence[str | int] = list(tree) if isinstance(tree, dict) else range(len(tree))
        for step in steps:
            yield from within(tree[step], (*path, step))  # type: ignore[index]


def possible(path: Steps, there: Tree, value: Tree) -> Iterator[Edit]:
    """Return every edit that can be made where ``there`` is; the whole file stays."""
    if isinstance(there, dict):
        yield from (Put((*path, NEW), value), Append((*path, NEW), value))
    if path and not isinstance(there, dict):
        yield Append(path, value)
    if path and isinstance(there, str):
        yield from (Put((*path, 0), value), Remove((*path, 0)))
    if path:
        yield from (Put(path, value), Remove(path), Remove(path))


def target(edit: Edit, tree: dict[str, Tree]) -> Steps:
    """Return the path of an edit, without a step to the one entry of a word."""
    *above, last = edit.path
    return tuple(above) if last == 0 and isinstance(dict(within(tree))[tuple(above)], str) else edit.path


def clash(tree: dict[str, Tree], one: Edit, other: Edit) -> bool:
    """Whether two edits are after the same place, or one after what the other is in."""
    (short, upper), (long, _) = sorted(
        [(target(each, tree), each) for each in (one, other)], key=lambda pair: len(pair[0])
    )
    if short == long:
        return not (isinstance(one, Append) and isinstance(other, Append))
    return long[: len(short)] == short and not isinstance(upper, Append)


def some_edits(random: Random, tree: dict[str, Tree], value: Tree) -> list[Edit]:
    """Return one to five edits of ``tree`` that do not clash."""
    chosen: list[Edit] = []
    every = [edit for path, there in within(tree) for edit in possible(path, there, value)]
    for edit in random.choices(every, k=random.choice([1, 1, 2, 3, 5])):
        if not any(clash(tree, edit, other) for other in chosen):
            chosen.append(edit)
    return chosen


def below(paths: Sequence[Steps], top: Steps) -> bool:
    """Whether one of ``paths`` leads to ``top`` or into it."""
    return any(path[: len(top)] == top for path in paths)


def may_change(tree: dict[str, Tree], edits: Sequence[Edit], braced: Sequence[Steps], paths: Sequence[Steps]) -> bool:
    """Whether a line that says what is at ``paths`` may change: in all others not one sign does."""
    found = dict(within(tree))
    gone = [edit.path for edit in edits if isinstance(edit, Remove) and edit.path in found]
    for edit in edits:
        path = target(edit, tree)
        if path not in found or (isinstance(edit, Append) and not isinstance(found[path], str)):
            group = path if path in found else path[:-1]
            changes = group in braced and below(paths, group)
        elif edit.path in gone:
            changes = below(paths, path) or (path[:-1] in braced and below(paths, path[:-1]))
        else:
            changes = below(paths, path)
        if changes:
            return True
    return any(joined(found[path[:-1]], path[:-1], gone, paths) for path in gone)


def joined(group: Tree, path: Steps, gone: Sequence[Steps], paths: Sequence[Steps]) -> bool:
    """Whether what goes may change another line: what comes first now moves up to the dash of all of its group.

    If nothing is left, an empty list or mapping is written after the dash or the key of the group.
    """
    steps: Sequence[str | int] = list(group) if isinstance(group, dict) else range(len(group))
    kept = [(*path, step) for step in steps if (*path, step) not in gone]
    if not kept:
        return path in paths
    return (*path, steps[0]) in gone and below(paths, kept[0])


def lost(tree: dict[str, Tree], edits: Sequence[Edit], owner: Steps) -> bool:
    """Whether a comment goes with what it is in."""
    ends = [target(edit, tree) for edit in edits if not isinstance(edit, Append)]
    return any(owner[: len(end)] == end for end in ends)


@of_trials(80, 400)
def test_random_files(count: int) -> None:
    """Whatever is changed is read back as it should be; other lines and the comments in them stay to the letter."""
    words = st.sampled_from(["\n", "\r\n"]), st.sampled_from(["", "\ufeff"]), st.booleans()
    settings(max_examples=count, deadline=None)(given(FILES, TREES, st.integers(0, 2**32), *words)(change_a_file))()


def change_a_file(tree: dict[str, Tree], value: Tree, seed: int, newline: str, start: str, ended: bool) -> None:  # noqa: FBT001
    """Change a random file by random edits."""
    random = Random(seed)
    scribe = Scribe(random)
    scribe.file(tree)
    edits = some_edits(random, tree, value)
    text = start + (scribe.text if ended else scribe.text.removesuffix("\n")).replace("\n", newline)
    result = edited(text, edits)
    check_read(result, applied(tree, edits))
    with mock.patch.object(parsing, "LOADER", yaml.BaseLoader):
        assert edited(text, edits) == result
    said = iter(result.removeprefix("\ufeff").replace("\r\n", "\n").split("\n"))
    stays = [
        line
        for line, paths in scribe.lines()[: None if ended else -1]
        if not may_change(tree, edits, scribe.braced, paths)
    ]
    assert [line for line in stays if line not in said] == []
    assert [
        comment for comment, owner in scribe.comments if comment not in result and not lost(tree, edits, owner)
    ] == []
    assert result.startswith(start)
    assert newline not in text or "\n" not in result.replace(newline, "")


@of_trials(25, 100)
def test_random_clashes(count: int) -> None:
    """Two edits are made together unless they are after the same place, or one after what the other is in."""
    settings(max_examples=count, deadline=None)(given(FILES, TREES, st.integers(0, 2**32))(make_two_edits))()


def make_two_edits(tree: dict[str, Tree], value: Tree, seed: int) -> None:
    """Make two random edits of a random file."""
    random = Random(seed)
    scribe = Scribe(random)
    scribe.file(tree)
    one, other = (some_edits(random, tree, value)[0] for _ in range(2))
    if clash(tree, one, other):
        with pytest.raises(CannotEdit, match="changed twice"):
            edited(scribe.text, [one, other])
    else:
        check_read(edited(scribe.text, [one, other]), applied(tree, [one, other]))

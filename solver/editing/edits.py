"""What may be changed in a file, and what that makes of its plain dicts, lists and words."""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace

from solver.editing.spelling import Plain
from solver.reading.source import Step
from solver.reading.tree import UNREADABLE


@dataclass(frozen=True)
class Put:
    """Set what stands at ``path`` to ``value``; a key that its mapping lacks becomes the last one."""

    path: tuple[Step, ...]
    value: Plain


@dataclass(frozen=True)
class Append:
    """Put ``value`` at the end of the list at ``path``; a word becomes a list, and a missing key a list of one."""

    path: tuple[Step, ...]
    value: Plain


@dataclass(frozen=True)
class Remove:
    """Take out the entry of a list, or the key with what it holds, at ``path``."""

    path: tuple[Step, ...]


Edit = Put | Append | Remove


class Unchangeable(Exception):
    """What can't be changed in a text, in one sentence."""


def as_read(edit: Edit) -> Edit:
    """Return ``edit`` with its words as the reader takes them: without spaces at the ends.

    Raise TypeError if something in its value is no text, list or mapping.
    """
    path = tuple(step.strip() if isinstance(step, str) else step for step in edit.path)
    if isinstance(edit, Remove):
        return replace(edit, path=path)
    return replace(edit, path=path, value=_as_read(edit.value))


def _as_read(value: Plain) -> Plain:
    match value:
        case str():
            return value.strip()
        case Mapping():
            return {key.strip(): _as_read(held) for key, held in value.items()}
        case Sequence():
            return [_as_read(item) for item in value]
        case _:
            raise TypeError(f"{value!r} is neither text nor a list nor a mapping")


def outcome(before: object, edits: Sequence[Edit]) -> object:
    """Return the plain data ``before`` with ``edits`` made, whose paths lead through ``before``.

    Raise Unchangeable if one of them leads nowhere.
    """
    return _outcome(before, [(edit.path, edit) for edit in edits])


_Led = Sequence[tuple[tuple[Step, ...], Edit]]
_NOTHING: tuple[object, ...] = ()
"""Stands where a key is missing."""


def _outcome(node: object, led: _Led) -> object:
    here = [edit for path, edit in led if not path]
    if here:
        return _changed(_outcome(node, [(path, edit) for path, edit in led if path]), here)
    if not isinstance(node, list) and any(path[0] == 0 for path, _ in led):
        return _in_list_of_one(node, led)
    if isinstance(node, dict):
        new = {path[0]: _NOTHING for path, _ in led if path[0] not in node}
        return {step: _outcome(held, _below(step, led)) for step, held in (node | new).items() if not _goes(step, led)}
    if isinstance(node, list):
        return [_outcome(held, _below(step, led)) for step, held in enumerate(node) if not _goes(step, led)]
    if led:
        raise Unchangeable("what is to be changed can't be read as it is")
    return node


def _changed(node: object, edits: Sequence[Edit]) -> object:
    values: list[object] = [edit.value for edit in edits if not isinstance(edit, Remove)]
    if any(isinstance(edit, Put) for edit in edits):
        return values[-1]
    if node is _NOTHING or node is UNREADABLE:
        return values
    return [*node, *values] if isinstance(node, list) else [node, *values]


def _in_list_of_one(node: object, led: _Led) -> object:
    if _goes(0, led):
        return []
    return _outcome(node, [(path[1:] if path[0] == 0 else path, edit) for path, edit in led])


def _below(step: object, led: _Led) -> _Led:
    return [(path[1:], edit) for path, edit in led if path[0] == step]


def _goes(step: object, led: _Led) -> bool:
    return any(isinstance(edit, Remove) and path == (step,) for path, edit in led)

"""What may be changed in a file, where a change leads, and why nothing can be changed there."""

from collections.abc import Mapping, Sequence
from dataclasses import replace

from portloom.base.values import dataclass
from portloom.inputs.editing.marks import Alias, MarkedEntry, MarkedGroup, MarkedPart, within
from portloom.inputs.editing.splicing import Plain
from portloom.inputs.tree import UNREADABLE, PathStep


@dataclass(frozen=True)
class Put:
    """Set what stands at ``path`` to ``value``; a key that its mapping lacks becomes the last one."""

    path: tuple[PathStep, ...]
    value: Plain


@dataclass(frozen=True)
class Append:
    """Put ``value`` at the end of the list at ``path``; a word becomes a list, and a missing key a list of one."""

    path: tuple[PathStep, ...]
    value: Plain


@dataclass(frozen=True)
class Remove:
    """Take out the entry of a list, or the key with what it holds, at ``path``."""

    path: tuple[PathStep, ...]


Edit = Put | Append | Remove


class CannotEdit(Exception):
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


_Led = Sequence[tuple[tuple[PathStep, ...], Edit]]
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
        raise CannotEdit("what is to be changed can't be read as it is")
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


@dataclass(frozen=True)
class EditPlace:
    """Where a path leads: ``chain`` holds the entries on the way, from the whole file to the last that is there.

    ``new`` is the key that the mapping at its end lacks. ``alone``: the last step goes to a single word that stands
    for a list of one; ``path`` leaves such steps out.
    """

    path: tuple[PathStep, ...]
    chain: tuple[MarkedEntry, ...]
    new: str | None
    alone: bool

    @property
    def parent(self) -> MarkedEntry:
        """The entry that holds the list or mapping in which this place is."""
        return self.chain[-1] if self.new is not None else self.chain[-2]

    @property
    def flow(self) -> bool:
        """Whether this place is inside braces or brackets."""
        return isinstance(self.parent.value, MarkedGroup) and self.parent.value.flow


def find(root: MarkedPart, path: Sequence[PathStep]) -> EditPlace:
    """Return the place to which ``path`` leads; raise Unchangeable if it leads nowhere or is repeated elsewhere."""
    place = _found(root, path)
    if place.new is None and len(place.chain) == 1:
        raise CannotEdit("the whole file can't be changed at once")
    marks = {part.anchor for entry in place.chain for part in (entry.value,)}
    if place.new is None:
        marks |= {part.anchor for part in within(place.chain[-1].value)}
    repeated = sorted(marks & {part.name for part in within(root) if isinstance(part, Alias)})
    if repeated:
        raise CannotEdit(f"{spoken(path)} can't be changed, as '*{repeated[0]}' repeats it elsewhere")
    return place


def _found(root: MarkedPart, path: Sequence[PathStep]) -> EditPlace:
    chain, taken, alone = [MarkedEntry(root.start, None, None, root)], list[PathStep](), False
    for count, step in enumerate(path, 1):
        part = chain[-1].value
        if isinstance(part, Alias):
            raise CannotEdit(f"{spoken(path[: count - 1])} repeats what is marked elsewhere as '&{part.name}'")
        alone = step == 0 and not _is_list(part)
        if alone:
            continue
        taken.append(step)
        entry = _entry(part, step)
        if (
            entry is None
            and isinstance(step, str)
            and isinstance(part, MarkedGroup)
            and part.keyed
            and count == len(path)
        ):
            return EditPlace(tuple(taken), tuple(chain), step, alone=False)
        if entry is None:
            raise CannotEdit(f"there is no {spoken(path[:count])}")
        chain.append(entry)
    return EditPlace(tuple(taken), tuple(chain), None, alone)


def _is_list(part: MarkedPart) -> bool:
    return isinstance(part, MarkedGroup) and not part.keyed


def _entry(part: MarkedPart, step: PathStep) -> MarkedEntry | None:
    if not isinstance(part, MarkedGroup) or part.keyed is isinstance(step, int):
        return None
    if isinstance(step, int):
        return part.entries[step] if 0 <= step < len(part.entries) else None
    return next((entry for entry in part.entries if entry.key == step), None)


def spoken(path: Sequence[PathStep]) -> str:
    """Return ``path`` in words, from the inside out: 'avoid' of entry 3 of 'loads'; entries count from 1."""
    steps = [f"'{step}'" if isinstance(step, str) else f"entry {step + 1}" for step in reversed(path)]
    return " of ".join(steps) or "the file"

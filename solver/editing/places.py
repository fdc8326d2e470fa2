"""Where in a text's parts a path leads, and why nothing can be changed there."""

from collections.abc import Sequence
from dataclasses import dataclass

from solver.editing.edits import Unchangeable
from solver.editing.marks import Alias, Entry, Group, Part, within
from solver.reading.source import Step


@dataclass(frozen=True)
class Place:
    """Where a path leads: ``chain`` holds the entries on the way, from the whole file to the last that is there.

    ``new`` is the key that the mapping at its end lacks. ``alone``: the last step goes to a single word that stands
    for a list of one; ``path`` leaves such steps out.
    """

    path: tuple[Step, ...]
    chain: tuple[Entry, ...]
    new: str | None
    alone: bool

    @property
    def parent(self) -> Entry:
        """The entry that holds the list or mapping in which this place is."""
        return self.chain[-1] if self.new is not None else self.chain[-2]

    @property
    def flow(self) -> bool:
        """Whether this place is inside braces or brackets."""
        return isinstance(self.parent.value, Group) and self.parent.value.flow


def find(root: Part, path: Sequence[Step]) -> Place:
    """Return the place to which ``path`` leads; raise Unchangeable if it leads nowhere or is repeated elsewhere."""
    place = _found(root, path)
    if place.new is None and len(place.chain) == 1:
        raise Unchangeable("the whole file can't be changed at once")
    marks = {part.anchor for entry in place.chain for part in (entry.value,)}
    if place.new is None:
        marks |= {part.anchor for part in within(place.chain[-1].value)}
    repeated = sorted(marks & {part.name for part in within(root) if isinstance(part, Alias)})
    if repeated:
        raise Unchangeable(f"{spoken(path)} can't be changed, as '*{repeated[0]}' repeats it elsewhere")
    return place


def _found(root: Part, path: Sequence[Step]) -> Place:
    chain, taken, alone = [Entry(root.start, None, None, root)], list[Step](), False
    for count, step in enumerate(path, 1):
        part = chain[-1].value
        if isinstance(part, Alias):
            raise Unchangeable(f"{spoken(path[: count - 1])} repeats what is marked elsewhere as '&{part.name}'")
        alone = step == 0 and not _is_list(part)
        if alone:
            continue
        taken.append(step)
        entry = _entry(part, step)
        if entry is None and isinstance(step, str) and isinstance(part, Group) and part.keyed and count == len(path):
            return Place(tuple(taken), tuple(chain), step, alone=False)
        if entry is None:
            raise Unchangeable(f"there is no {spoken(path[:count])}")
        chain.append(entry)
    return Place(tuple(taken), tuple(chain), None, alone)


def _is_list(part: Part) -> bool:
    return isinstance(part, Group) and not part.keyed


def _entry(part: Part, step: Step) -> Entry | None:
    if not isinstance(part, Group) or part.keyed is isinstance(step, int):
        return None
    if isinstance(step, int):
        return part.entries[step] if 0 <= step < len(part.entries) else None
    return next((entry for entry in part.entries if entry.key == step), None)


def spoken(path: Sequence[Step]) -> str:
    """Return ``path`` in words, from the inside out: 'avoid' of entry 3 of 'loads'; entries count from 1."""
    steps = [f"'{step}'" if isinstance(step, str) else f"entry {step + 1}" for step in reversed(path)]
    return " of ".join(steps) or "the file"

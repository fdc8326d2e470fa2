"""What the builder notes of loads and switches: printed beside each wherever it is listed, bearing on nothing."""

from collections.abc import Iterable

from portloom.base.bike import Bike
from portloom.base.values import dataclass

NotesOf = tuple[tuple[str, str], ...]
"""Names, each with its note: of those that have one."""


def notes_of_loads(bike: Bike, names: Iterable[str]) -> NotesOf:
    """Return the notes of some loads of a bike, in the order in which they are named."""
    known = {load.name: load.note for load in bike.loads if load.note is not None}
    return tuple((name, known[name]) for name in names if name in known)


def notes_of_switches(bike: Bike, names: Iterable[str]) -> NotesOf:
    """Return the notes of some inputs of a bike, in the order in which they are named."""
    known = {switch.name: switch.note for switch in bike.inputs if switch.note is not None}
    return tuple((name, known[name]) for name in names if name in known)


@dataclass(frozen=True)
class Notes:
    """All notes of a bike."""

    loads: NotesOf
    switches: NotesOf


def notes_of(bike: Bike) -> Notes:
    """Return all notes of a bike, in the order of its file."""
    return Notes(
        notes_of_loads(bike, (load.name for load in bike.loads)),
        notes_of_switches(bike, (switch.name for switch in bike.inputs)),
    )


def in_brackets(name: str, notes: NotesOf) -> str:
    """Return what is noted of a thing, to be put behind it: ' (keep its plug)'; nothing where nothing is."""
    note = dict(notes).get(name)
    return "" if note is None else f" ({note})"


def as_sentences(notes: NotesOf) -> str:
    """Return notes to be put behind other sentences: ' Note on horn: keep its plug.'."""
    return "".join(f" Note on {name}: {note.rstrip('.')}." for name, note in notes)


def noted(names: Iterable[str], notes: NotesOf) -> str:
    """Write names one after the other, each with its note in brackets: 'horn (keep its plug), fan'."""
    return ", ".join(each_noted(names, notes))


def each_noted(names: Iterable[str], notes: NotesOf) -> list[str]:
    """Return names, each with its note in brackets."""
    known = dict(notes)
    return [f"{name} ({known[name]})" if name in known else name for name in names]

"""Two values of any shape side by side: every leaf that differs, each with what it is about.

Entries of a list go by their names, not by where they stand. What nobody has named here is told all the same, by the
keys under which it lies.
"""

from collections.abc import Callable, Iterator, Sequence
from typing import Any

from portloom.documents.amounts import Json
from portloom.documents.difference.canonical import PLACED, pairs, same
from portloom.documents.difference.change import WIRE, Change, Kind

NAMED_BY: dict[str, tuple[str, ...]] = {
    "fed": ("name", "kind"), "returns": ("name", "kind"), "other_wires": ("name", "kind"), "multiplexers": ("name",),
    "battery_leads": ("name",), "shown": ("dash", "lamp", "shows"), "cases": ("case",), "legs": ("leg",),
    "protection": ("wire",), "lamps": ("load",), "cranking": ("at",), "riding": ("state",), "resting": ("state",),
    "banks": ("bank",), "set_aside": ("rule",), "room_for": ("load",),
}  # fmt: skip
"""By which keys the entries of a list are known."""
BY_NAME = ("drops_v", "drop_cases")
"""Keys that hold a figure for each load, under its name."""


def changed(kind: Kind, part: str, subject: str, key: str, old: Any, new: Any) -> Iterator[Change]:
    """Return what differs between two values, leaf by leaf; ``key`` is that under which they stand."""
    if same(old, new):
        return
    if _are_mappings(old, new):
        old, new = old or {}, new or {}
        for inner in dict.fromkeys((*sorted(old), *sorted(new))):
            about, of = (_within(subject, inner), key) if key in BY_NAME else (subject, inner)
            if inner not in PLACED:
                yield from changed(kind, part, about, of, old.get(inner), new.get(inner))
    elif _are_entries(old, new) and key in NAMED_BY:
        for name, before, after in pairs(old or [], new or [], name_of(key)):
            yield from changed(kind, part, _within(subject, name), key, _stripped(key, before), _stripped(key, after))
    else:
        yield Change(kind, part, subject, key, old, new)


def _stripped(key: str, entry: Json | None) -> Json | None:
    """Return an entry without what names it."""
    return _without(entry, (*NAMED_BY[key], "number")) or entry


def _are_mappings(old: Any, new: Any) -> bool:
    """Tell whether two values are taken apart: both hold figures, or the only one of them a single figure."""
    if isinstance(old, dict) and isinstance(new, dict):
        return True
    alone = new if old is None else old if new is None else None
    return isinstance(alone, dict) and len(alone) == 1


def _within(subject: str, name: str) -> str:
    return f"{subject}, {name}" if subject and name != subject else name


def _are_entries(*lists: Any) -> bool:
    return any(lists) and all(
        held is None or (isinstance(held, list) and all(isinstance(entry, dict) for entry in held)) for held in lists
    )


def name_of(key: str) -> Callable[[Json], str]:
    """Return what names the entries of a list."""

    def name(entry: Json) -> str:
        told = ", ".join(dict.fromkeys(filter(None, (_word(entry.get(by)) for by in NAMED_BY[key]))))
        told = f"bank {told}" if key == "banks" else told
        number = entry.get("number")
        return told if number is None or number == 1 else f"{told} {number}"

    return name


def _word(value: Any) -> str:
    if isinstance(value, list):
        return " and ".join(map(str, value))
    return "" if value is None else str(value)


def entries(
    part: str, old: Sequence[Json], new: Sequence[Json], but: Sequence[str] = (), ending: str = ""
) -> Iterator[Change]:
    """Return what differs between two lists of things with a wire each, but for some keys of theirs."""
    for name, before, after in pairs(old, new, name_of(part)):
        yield from wired(part, f"{name}{ending}", _stripped(part, before), _stripped(part, after), but)


def wired(part: str, subject: str, old: Json | None, new: Json | None, but: Sequence[str] = ()) -> Iterator[Change]:
    """Return what differs between two things with a wire each, but for some keys."""
    yield from wire(part, subject, old, new)
    yield from changed("figure", part, subject, part, *(_without(entry, (*WIRE, *but)) for entry in (old, new)))


def wire(part: str, subject: str, old: Json | None, new: Json | None) -> Iterator[Change]:
    """Return how a wire differs; what has no length yet on either side has none."""
    before, after = (_wire_of(entry) for entry in (old, new))
    if not same(before, after):
        yield Change("wire", part, subject, "wire", before, after)


def _wire_of(entry: Json | None) -> Json | None:
    found = {key: entry[key] for key in WIRE if key in entry} if entry else {}
    return found or None


def _without(entry: Json | None, keys: Sequence[str]) -> Json | None:
    kept = {key: value for key, value in entry.items() if key not in keys} if entry else {}
    return kept or None

"""One text for all that says the same: order is none of it, nor where in a file a thing is written."""

import json
import re
from collections import Counter
from collections.abc import Callable, Iterable, Iterator, Sequence
from decimal import Decimal
from typing import Any, TypeVar

from portloom.documents.amounts import Json

Entry = TypeVar("Entry")
DIGITS = re.compile(r"\d+")
PLACED = ("where",)
"""Keys that tell where in a file something is written, which is nothing about the bike."""


def canonical(value: Any) -> str:
    """Return a text that two values share where they say the same, and only there."""
    return json.dumps(_plain(value), sort_keys=True)


def _plain(value: Any) -> Any:
    match value:
        case dict():
            return {key: _plain(held) for key, held in value.items() if held is not None and key not in PLACED}
        case list() | tuple():
            return sorted((_plain(held) for held in value), key=lambda held: json.dumps(held, sort_keys=True))
        case Decimal():
            return ["number", str(value.normalize() if value else 0)]
    return value


def same(old: Any, new: Any) -> bool:
    """Tell whether two values say the same."""
    return _is_equal(old, new) or canonical(old) == canonical(new)


def _is_equal(old: Any, new: Any) -> bool:
    """Tell soon whether two values are equal as they stand; a yes is never a one, as it is for Python."""
    if type(old) is not type(new):
        return False
    if isinstance(old, dict):
        return old.keys() == new.keys() and all(_is_equal(held, new[key]) for key, held in old.items())
    if isinstance(old, list):
        return len(old) == len(new) and all(map(_is_equal, old, new))
    return bool(old == new)


def natural(name: str) -> tuple[str, str]:
    """Return by what names are put in order: 'out 2' before 'out 10'."""
    return DIGITS.sub(_long, name), name


def _long(digits: re.Match[str]) -> str:
    return digits[0].zfill(12)


Pair = tuple[str, Entry | None, Entry | None]
"""What both are called; the old one; the new one."""


def pairs(old: Sequence[Json], new: Sequence[Json], name: Callable[[Json], str]) -> Iterator[Pair[Json]]:
    """Return entries of one name side by side, in the order of names; of several of a name equal ones first."""
    names = {name(entry) for entry in (*old, *new)}
    for one in sorted(names, key=natural):
        before, after = _alone([e for e in old if name(e) == one], [e for e in new if name(e) == one])
        for at in range(max(len(before), len(after))):
            yield one, before[at] if at < len(before) else None, after[at] if at < len(after) else None


def _alone(old: Iterable[Json], new: Iterable[Json]) -> tuple[list[Json], list[Json]]:
    """Return what is on one side alone, each in an order of its own."""
    before: dict[str, list[Json]] = {}
    after: dict[str, list[Json]] = {}
    for entries, by_text in ((old, before), (new, after)):
        for entry in entries:
            by_text.setdefault(canonical(entry), []).append(entry)
    return _beyond(before, after), _beyond(after, before)


def _beyond(these: dict[str, list[Json]], those: dict[str, list[Json]]) -> list[Json]:
    return [entry for text in sorted(these) for entry in these[text][len(those.get(text, ())) :]]


def only_in(these: Sequence[str], those: Sequence[str]) -> list[str]:
    """Return the words that stand in the first and not in the second, or there less often."""
    return list((Counter(these) - Counter(those)).elements())

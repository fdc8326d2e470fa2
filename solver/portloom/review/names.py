"""Names of loads, switches, ports and places: the one thing that a name can mean."""

import re
from collections.abc import Iterable, Iterator
from difflib import SequenceMatcher

from portloom.base.nearest import close_matches
from portloom.base.values import dataclass

WORD = re.compile(r"[^\W\d_]+|\d+")
LIKE = 0.8
"""Share of letters in common from which a name may be a slip for another."""
LIKE_WORD = 0.7
"""The same for each of its words: 'zebra lamp' is no brake lamp, and 'front brake switch' never the rear one."""


@dataclass(frozen=True)
class NameMatch:
    """What a name may mean: one thing, or none, or several."""

    names: tuple[str, ...]
    near: tuple[str, ...] = ()
    """Where it means nothing: the nearest that it might have been."""

    @property
    def clear(self) -> str | None:
        """The one thing that it means; None where there are several or none."""
        return self.names[0] if len(self.names) == 1 else None


class KnownNames:
    """Names of loads, switches or ports."""

    def __init__(self, names: Iterable[str]) -> None:
        """Take the names as the files have them."""
        self._names = tuple(dict.fromkeys(names))
        self._words = {name: words_of(name) for name in self._names}
        self._known: dict[str, NameMatch] = {}

    def __contains__(self, name: str) -> bool:
        """Tell whether the files have this very name."""
        return name in self._words

    def __iter__(self) -> Iterator[str]:
        """Return each name."""
        return iter(self._names)

    def meant(self, said: str) -> NameMatch:
        """Return what ``said`` means: the very name; the same words however they are joined; the only name with them.

        'Out3' is out 3, and 'dipped' the dipped beam where no other name has that word. A number is never
        left out or read as another.
        """
        if said not in self._known:
            self._known[said] = self._meant(said)
        return self._known[said]

    def spelt(self, said: str) -> tuple[str, ...]:
        """Return what ``said`` means by its very words, no letter of them otherwise."""
        if said in self._words:
            return (said,)
        words = words_of(said)
        same = tuple(name for name, own in self._words.items() if own == words)
        return same or tuple(name for name, own in self._words.items() if words and _is_part(words, own))

    def _meant(self, said: str) -> NameMatch:
        words, spelt = words_of(said), self.spelt(said)
        if spelt or not words:
            return NameMatch(spelt)
        slips = tuple(name for name, own in self._words.items() if _may_be_slip(words, own))
        return NameMatch(slips) if slips else NameMatch((), close_matches(said, self._names))


def words_of(name: str) -> tuple[str, ...]:
    """Return the words and numbers of a name, in lower case, numbers without leading zeros."""
    return tuple(word.lstrip("0") or "0" if word.isdigit() else word for word in WORD.findall(name.casefold()))


def _numbers(words: tuple[str, ...]) -> list[str]:
    return [word for word in words if word.isdigit()]


def _is_part(words: tuple[str, ...], of: tuple[str, ...]) -> bool:
    return set(words) <= set(of) and _numbers(words) == _numbers(of)


def _may_be_slip(words: tuple[str, ...], for_words: tuple[str, ...]) -> bool:
    if _numbers(words) != _numbers(for_words) or not _alike(" ".join(words), " ".join(for_words), LIKE):
        return False
    if len(words) != len(for_words):  # joined or parted otherwise: there are no words to pair
        return True
    return all(_alike(word, other, LIKE_WORD) for word, other in zip(words, for_words, strict=True))


def _alike(one: str, other: str, share: float) -> bool:
    letters = SequenceMatcher(None, one, other)
    return all(ratio() >= share for ratio in (letters.real_quick_ratio, letters.quick_ratio, letters.ratio))

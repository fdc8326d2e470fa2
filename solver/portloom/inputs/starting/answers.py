"""Answers as they are kept: under the key of each question the words of its answer, lists and tables in one line."""

from collections.abc import Iterable, Mapping

Answers = Mapping[str, str]
"""What is answered, by the keys of the questions."""
NONE = "none"
"""The answer where nothing of a list is there."""


def several(answers: Answers, key: str) -> tuple[str, ...]:
    """Return the words of a list's answer, none where it is not answered."""
    return listed(answers.get(key, NONE))


def listed(text: str) -> tuple[str, ...]:
    """Return the words of a list: 'horn, fan'."""
    words = (word.strip() for word in text.split(","))
    return tuple(word for word in words if word and word.casefold() != NONE)


def as_list(words: Iterable[str]) -> str:
    """Return words as the answer of a list."""
    return ", ".join(words) or NONE


def rows(answers: Answers, key: str) -> dict[str, str]:
    """Return what a table's answer says otherwise than is usual, by row."""
    return tabled(answers.get(key, ""))


def tabled(text: str) -> dict[str, str]:
    """Return the rows of a table as it is kept: 'horn: 4 A; fan: 6 A'."""
    pairs = (part.partition(":") for part in text.split(";"))
    return {row.strip(): said.strip() for row, colon, said in pairs if colon}


def as_table(said: Mapping[str, str]) -> str:
    """Return rows as the answer of a table."""
    return "; ".join(f"{row}: {value}" for row, value in said.items())

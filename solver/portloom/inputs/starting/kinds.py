"""How an answer is read and checked at once: one line says what would be right, and nothing is guessed."""

import re
from collections.abc import Callable, Mapping, Sequence
from typing import Protocol

from portloom.base.copper import BY_SIZE
from portloom.base.letters import first_hidden, on_one_line, quoted
from portloom.base.nearest import and_list, nearest, or_list
from portloom.base.parts.phrases import key_of
from portloom.base.quantities import Measure, QuantityError
from portloom.base.sizes import parse_size
from portloom.base.values import dataclass
from portloom.inputs.checks.wires import not_sold
from portloom.inputs.starting.answers import NONE, as_list, as_table, listed, tabled

LONGEST_NAME = 60
SPACED = re.compile(r"(?<=[\d.])\s*(?=[^\d\s.,+-])")
"""Between an amount and its unit."""


class NotRight(ValueError):
    """An answer that can't be taken; its text is one line of what is wrong, and what would be right."""


class Kind(Protocol):
    """How the answer of one question is read."""

    def read(self, said: str, before: str) -> str:
        """Return an answer as it is kept; ``before`` is the one that stands. Raise NotRight."""

    def still(self, kept: str) -> str | None:
        """Return what is left of an answer that was kept, after others have changed; None where nothing is."""

    def lacking(self, kept: str) -> str:
        """Say what is still to be said, and how; '' where the answer is complete."""


class _Whole:
    """An answer that is taken whole, or not at all."""

    def lacking(self, kept: str) -> str:  # noqa: ARG002 - nothing ever is
        return ""

    def read(self, said: str, before: str) -> str:
        raise NotImplementedError

    def still(self, kept: str) -> str | None:
        try:
            return self.read(kept, "")
        except NotRight:
            return None


@dataclass(frozen=True)
class Name(_Whole):
    """A name of the builder's own."""

    def read(self, said: str, before: str) -> str:  # noqa: ARG002 - as every kind
        """Return the name."""
        name = on_one_line(said)
        if not name or first_hidden(name) is not None:
            raise NotRight("a name is wanted here; write one in plain letters")
        if len(name) > LONGEST_NAME:
            raise NotRight(f"this name has {len(name)} letters; write at most {LONGEST_NAME}")
        return name


@dataclass(frozen=True)
class Choice:
    """A word that may be the answer, and what it says."""

    word: str
    says: str = ""


@dataclass(frozen=True)
class OneOf(_Whole):
    """One of some words, by its number, too."""

    choices: tuple[Choice, ...]

    def read(self, said: str, before: str) -> str:  # noqa: ARG002 - as every kind
        """Return the word."""
        return chosen(said, [choice.word for choice in self.choices])


def chosen(said: str, known: Sequence[str], means: Callable[[str], str | None] = lambda _: None) -> str:
    """Return the one of ``known`` that is said, or its number is; ``means`` knows more words. Raise NotRight."""
    text = said.strip()
    if text.isascii() and text.isdigit():
        if 0 < int(text) <= len(known):
            return known[int(text) - 1]
        raise NotRight(f"there is no number {quoted(text)} here; write 1 to {len(known)}, or the word")
    key = key_of(text)
    found = next((word for word in known if key and key_of(word) == key), None) or means(text)
    if found is None or found not in known:
        raise _not_known(text, known)
    return found


FEW = 6
"""Words that are all told: of 'pulled' and 'released' none is offered for 'pushed', where the wrong one could hurt."""


def _not_known(text: str, known: Sequence[str]) -> NotRight:
    near = nearest(text, known)
    right = f"write {or_list(known)}" if len(known) <= FEW else f"write '{near}'" if near else "write its number"
    return NotRight(f"'{quoted(text)}' is not one of these; {right}")


@dataclass(frozen=True)
class SomeOf(_Whole):
    """Some of some words; with + or - before them they are added to those that stand, or taken from them."""

    choices: tuple[Choice, ...]
    means: Callable[[str], str | None] = lambda _: None
    """Returns the one of the words that others mean; may raise NotRight."""
    wrong: Callable[[Sequence[str]], str] = lambda _: ""
    """Returns what is wrong with words that can't be together, and what would be right."""
    least: int = 0

    def read(self, said: str, before: str) -> str:
        """Return the words in their order here."""
        known = [choice.word for choice in self.choices]
        taken = set(listed(before)) if any(part[:1] in "+-" for part in listed(said)) else set()
        for part in listed(said):
            word = chosen(part.lstrip("+- "), known, self.means)
            taken = taken - {word} if part.startswith("-") else taken | {word}
        words = [word for word in known if word in taken]
        if len(words) < self.least:
            raise NotRight(f"at least one is needed; write {or_list(known)}")
        if wrong := self.wrong(words):
            raise NotRight(wrong)
        return as_list(words)


@dataclass(frozen=True)
class Amount(_Whole):
    """An amount with its unit, within what a motorcycle has."""

    measure: Measure
    least: str
    most: str

    def read(self, said: str, before: str) -> str:  # noqa: ARG002 - as every kind
        """Return the amount as it is written in files."""
        return amount(said, self.measure, self.least, self.most)


@dataclass(frozen=True)
class Or(_Whole):
    """An answer of another kind, or one word in its place."""

    kind: Kind
    word: str

    def read(self, said: str, before: str) -> str:
        """Return the word, or what the other kind reads."""
        return self.word if said.strip().casefold() == self.word else self.kind.read(said, before)


@dataclass(frozen=True)
class Words(_Whole):
    """Words of the maker's own."""

    def read(self, said: str, before: str) -> str:
        """Return the words, each once."""
        return as_list(dict.fromkeys(Name().read(word, before) for word in listed(said)))


def amount(said: str, measure: Measure, least: str, most: str) -> str:
    """Return an amount within two others, its unit one blank after it; raise NotRight."""
    text = SPACED.sub(" ", said.strip(), count=1)
    try:
        value = measure.parse(text)
    except QuantityError as error:
        raise NotRight(str(error)) from error
    if not measure.parse(least) <= value <= measure.parse(most):
        raise NotRight(f"{quoted(text)} is out of range; write {least} to {most}")
    return text


def bought_size(said: str) -> str:
    """Return a size of wire as it is written in files; raise NotRight where nobody sells it, or it is none."""
    try:
        size = parse_size(SPACED.sub(" ", said.strip(), count=1))
    except QuantityError as error:
        raise NotRight(str(error)) from error
    if size not in BY_SIZE:
        raise NotRight("; ".join(not_sold(size)))
    return size.label


@dataclass(frozen=True)
class Sizes(_Whole):
    """Sizes of wire."""

    def read(self, said: str, before: str) -> str:  # noqa: ARG002 - as every kind
        """Return the sizes, each once."""
        sizes = [bought_size(word) for word in listed(said)]
        if not sizes:
            raise NotRight("at least one size is needed; write such as 1 mm2, 2.5 mm2")
        return as_list(dict.fromkeys(sizes))


@dataclass(frozen=True)
class Cell:
    """What stands in a row of a table: what is usual, and how another word is read."""

    usual: str
    read: Callable[[str], str]
    """Returns it as it is kept; raises NotRight."""


@dataclass(frozen=True)
class Table:
    """Rows that have what is usual; only what differs is said, and kept."""

    cells: Mapping[str, Cell]
    example: str
    words: tuple[str, ...] = ()
    """What may stand in any row, where these are few."""

    def read(self, said: str, before: str) -> str:
        """Return the rows that differ, with those that differed before."""
        if said.strip().casefold() == NONE:
            return ""
        new = dict(self._row(part) for part in _several(said) if part.strip())
        kept = tabled(before) | new
        return as_table({row: kept[row] for row in self.cells if row in kept})

    def still(self, kept: str) -> str | None:
        """Return the rows that are still there and still right."""
        return as_table(
            {row: said for row, said in tabled(kept).items() if row in self.cells and self._takes(row, said)}
        )

    def lacking(self, kept: str) -> str:  # noqa: ARG002 - each row has what is usual
        """Say nothing: what is not said is usual."""
        return ""

    def rows(self, kept: str) -> dict[str, str]:
        """Return each row with what is said, or usual."""
        said = tabled(kept)
        return {row: said.get(row, cell.usual) for row, cell in self.cells.items()}

    def _takes(self, row: str, said: str) -> bool:
        try:
            return self.cells[row].read(said) == said
        except NotRight:
            return False

    def _row(self, part: str) -> tuple[str, str]:
        name, colon, said = part.partition(":")
        if not colon:
            name, said = self._parted(part.strip())
        row = chosen_row(name, list(self.cells))
        if not said.strip():
            raise NotRight(f"nothing is said of '{row}'; {self._right()}")
        try:
            return row, self.cells[row].read(said.strip())
        except NotRight as wrong:
            raise NotRight(f"{row}: {wrong}") from wrong

    def _parted(self, text: str) -> tuple[str, str]:
        """Return the row and what is said of it, where no colon parts them: 'horn 4 A', 'horn at radiator'."""
        lowered = text.casefold()
        rows = sorted((row for row in self.cells if lowered.startswith(f"{row.casefold()} ")), key=len)
        if not rows:
            raise NotRight(f"'{quoted(text)}' does not say which row, and what; {self._right()}")
        return rows[-1], re.sub(r"^\s*(at|in|is|=)\s+", "", text[len(rows[-1]) :])

    def _right(self) -> str:
        return f"write it such as '{self.example}'"


def _several(said: str) -> list[str]:
    """Return the rows that are said: parted by ';', or by commas where each names its row: 'horn: 4 A, dash: 1 A'."""
    parts = said.split(",")
    return parts if ";" not in said and all(":" in part for part in parts) else said.split(";")


def chosen_row(name: str, known: Sequence[str]) -> str:
    """Return the row that is meant; raise NotRight."""
    key = key_of(name)
    found = next((row for row in known if key_of(row) == key), None)
    if found is None:
        near = nearest(name.strip(), known)
        alike = [row for row in known if key and key_of(row)[-len(key) :] == key]
        right = f"write '{near}'" if near else f"the rows are those above, such as '{known[0]}'"
        if len(alike) > 1:
            each = and_list(f"'{row}: ...'" for row in alike)
            right = f"write {each}"
        raise NotRight(f"there is no row '{quoted(name.strip())}'; {right}")
    return found

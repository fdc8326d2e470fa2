"""What is wrong in a file, where it stands, and what would be right."""

from collections.abc import Iterable
from dataclasses import dataclass
from typing import NamedTuple, Protocol, Self

from portloom.inputs.mends import Way


@dataclass(frozen=True, order=True)
class Problem:
    """One mistake in one file; line and column count from 1."""

    file: str
    line: int
    column: int
    what: str
    right: str

    def __str__(self) -> str:
        """Return ``FILE:LINE:COLUMN: what; what would be right``."""
        joint = " " if self.what.endswith("?") else "; "
        return f"{self.file}:{self.line}:{self.column}: {self.what}{joint}{self.right}"


class BadFile(Exception):
    """A file that can't be read; ``problems`` holds every mistake in it, by line and column."""

    def __init__(self, problems: Iterable[Problem]) -> None:
        """Take the problems, in any order; the same one told twice counts once."""
        self.problems: tuple[Problem, ...] = tuple(sorted(dict.fromkeys(problems)))
        super().__init__("\n".join(str(problem) for problem in self.problems))


class Placed(Protocol):
    """Anything that stands somewhere in a file."""

    @property
    def line(self) -> int:
        """The line, from 1."""

    @property
    def column(self) -> int:
        """The column, from 1."""


class Flaw(NamedTuple):
    """A mistake before its file's name is known."""

    line: int
    column: int
    what: str
    right: str
    ways: tuple[Way, ...] = ()
    """What becomes of the tree by doing what is right, as ``right`` offers it; empty where more is to be asked."""

    @classmethod
    def at(cls, where: Placed, what: str, right: str, ways: tuple[Way, ...] = ()) -> Self:
        """Put a mistake where ``where`` stands."""
        return cls(where.line, where.column, what, right, ways)

    @property
    def told(self) -> tuple[int, int, str, str]:
        """All of it that is told."""
        return self.line, self.column, self.what, self.right


def refuse(file: str, flaws: Iterable[Flaw]) -> BadFile:
    """Return the error that tells all ``flaws`` of ``file``."""
    return BadFile(Problem(file, *flaw.told) for flaw in flaws)

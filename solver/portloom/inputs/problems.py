"""What is wrong in a file, where it stands, and what would be right."""

from collections.abc import Iterable, Iterator
from dataclasses import field
from typing import TYPE_CHECKING, NamedTuple, Protocol, Self

from portloom.base.letters import on_one_line, shown
from portloom.base.values import dataclass

if TYPE_CHECKING:  # a call that is wrong is told before anything that files need is loaded
    from portloom.inputs.mends import Way


@dataclass(frozen=True, order=True)
class Problem:
    """One mistake in one file; line and column count from 1, and are 0 of what stands in no file: a call, a name."""

    file: str
    line: int
    column: int
    what: str
    right: str
    topic: str = field(default="", compare=False)
    """The topic of ``portloom help`` that has more on it; empty where none has."""

    def __str__(self) -> str:
        """Return ``FILE:LINE:COLUMN: what; what would be right`` on one line, cut in its middle where it is absurd.

        Line and column are left out where there are none.
        """
        what, right = _told(self.what), _told(self.right)
        joint = " " if what.endswith("?") else "; "
        place = f":{self.line}:{self.column}" if self.line else ""
        return f"{_told(self.file)}{place}: {what}{joint}{right}"


LONGEST = 1_600
"""Letters of what is wrong, and of what would be right. A word that is quoted stands before its judgement."""


def _told(text: str) -> str:
    line = on_one_line(text)
    return shown(line if len(line) <= LONGEST else f"{line[: LONGEST // 2]} ... {line[-LONGEST // 2 :]}")


MOST = 200
"""Mistakes that are told at once."""


class BadFile(Exception):
    """A file that can't be read; ``problems`` holds every mistake in it, by line and column."""

    def __init__(self, problems: Iterable[Problem]) -> None:
        """Take the problems, in any order; the same one told twice counts once."""
        self.problems: tuple[Problem, ...] = tuple(sorted(dict.fromkeys(problems)))
        super().__init__("\n".join(map(str, self._first())))

    @property
    def topics(self) -> tuple[str, ...]:
        """The topics of ``portloom help`` that have more on what is told, each once."""
        return tuple(dict.fromkeys(problem.topic for problem in self._first() if problem.topic))

    def _first(self) -> Iterator[Problem]:
        """Return what is told at once: of hundreds of mistakes the first ones, and how many more there are."""
        yield from self.problems[:MOST]
        for problem in self.problems[MOST : MOST + 1]:
            what = f"from here on {len(self.problems) - MOST:,} more are not told"
            yield Problem(problem.file, problem.line, problem.column, what, "mend those above first")


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
    ways: "tuple[Way, ...]" = ()
    """What becomes of the tree by doing what is right, as ``right`` offers it; empty where more is to be asked."""
    topic: str = ""
    """The topic of ``portloom help`` that has more on it."""

    @classmethod
    def at(cls, where: Placed, what: str, right: str, ways: "tuple[Way, ...]" = ()) -> Self:
        """Put a mistake where ``where`` stands."""
        return cls(where.line, where.column, what, right, ways)

    @property
    def told(self) -> tuple[int, int, str, str]:
        """All of it that is told."""
        return self.line, self.column, self.what, self.right


def refuse(file: str, flaws: Iterable[Flaw]) -> BadFile:
    """Return the error that tells all ``flaws`` of ``file``."""
    return BadFile(Problem(file, *flaw.told, flaw.topic) for flaw in flaws)


def not_there(name: str, what: str, right: str, topic: str = "") -> BadFile:
    """Return the error about a file that can't be opened, or a name that means none: no line of it is wrong."""
    return BadFile([Problem(name, 0, 0, what, right, topic)])


def about(topic: str, flaws: Iterable[Flaw]) -> Iterator[Flaw]:
    """Return flaws that point to a topic of ``portloom help``, those that point to none yet to this one."""
    return (flaw if flaw.topic else flaw._replace(topic=topic) for flaw in flaws)

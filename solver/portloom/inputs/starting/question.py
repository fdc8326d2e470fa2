"""One question: what is asked, what is usual, how the answer is read, and what it writes into the file."""

from collections.abc import Callable, Iterable, Iterator

from portloom.base.values import dataclass
from portloom.inputs.starting.answers import Answers, several
from portloom.inputs.starting.kinds import Kind
from portloom.inputs.starting.lines import Line


@dataclass(frozen=True)
class Question:
    """A question of a table, by which a file is made."""

    key: str
    """Its name among the answers."""
    about: str
    """What it belongs to, as its head says."""
    asks: str
    kind: Callable[[Answers], Kind]
    """How it is read, which may hang on answers before it."""
    helps: str = ""
    """What helps to answer it."""
    usual: Callable[[Answers], str | None] = lambda _: None
    """What Enter takes; None where only the builder can say it."""
    asked: bool = False
    """Whether it is never taken silently: a wrong guess could hurt, or nobody would work a load."""
    when: Callable[[Answers], bool] = lambda _: True
    """Whether it is asked at all."""
    writes: Callable[[Answers], Iterable[Line]] = lambda _: ()
    """What comes into the file, when all is answered."""
    gate: str = ""
    """The list that must name it: most bikes have nothing of it, and are not asked."""

    def is_asked(self, answers: Answers) -> bool:
        """Tell whether it is asked, by the answers before it."""
        return (not self.gate or self.key in several(answers, self.gate)) and self.when(answers)


Questions = tuple[Question, ...]


def lines_of(table: Questions, answers: Answers) -> Iterator[Line]:
    """Return what answers write into the file, as far as they are given."""
    return (line for question in table if question.key in answers for line in question.writes(answers))

"""The asking itself, apart from what is asked: forth, back, and on from earlier answers."""

from collections.abc import Iterator, Mapping

from portloom.base.values import dataclass
from portloom.inputs.starting.added import Added
from portloom.inputs.starting.answers import Answers
from portloom.inputs.starting.kinds import Kind, NotRight, Table
from portloom.inputs.starting.ports import Groups
from portloom.inputs.starting.question import Question, Questions

STAYING = (Table, Added, Groups)
"""What is shown again with what was said, until Enter takes all of it."""


@dataclass(frozen=True)
class Asked:
    """A question as it stands, with all that is answered before it."""

    question: Question
    number: int
    """From 1."""
    kind: Kind
    usual: str | None
    """What may be taken where nothing is said."""
    standing: str | None
    """What Enter takes: what was said so far, as far as it is still right, else the usual."""
    answer: str | None
    """What was answered, where it is complete and still right."""


def asked_in_turn(table: Questions, given: Answers) -> Iterator[Asked]:
    """Return each question that is asked, with what is said to it; where nothing is, the usual counts for the next."""
    so_far: dict[str, str] = {}
    number = 0
    for question in table:
        if not question.is_asked(so_far):
            continue
        number += 1
        kind, said = question.kind(so_far), given.get(question.key)
        usual, left = question.usual(so_far), None if said is None else kind.still(said)
        answer = None if left is None or kind.lacking(left) else left
        asked = Asked(question, number, kind, usual, usual if left is None else left, answer)
        yield asked
        taken = usual if answer is None else answer
        if taken is not None:
            so_far[question.key] = taken


class Walk:
    """A walk through the questions of a table: forth by each answer, back by a word."""

    def __init__(self, table: Questions, given: Answers) -> None:
        """Begin where ``given`` ends."""
        self._table = table
        self._given = dict(given)
        self._asked: list[Asked] = []
        self._asked_by: dict[str, str] | None = None
        self._at = self._first()

    @property
    def now(self) -> Asked | None:
        """The question that is to be answered; None where all are."""
        return next((one for one in self._all() if one.question.key == self._at), None)

    @property
    def of(self) -> int:
        """How many questions there are, as far as the answers tell."""
        return len(self._all())

    @property
    def answers(self) -> dict[str, str]:
        """What is answered, in the order of the questions; of those alone that are asked."""
        return {one.question.key: one.answer for one in self._all() if one.answer is not None}

    @property
    def said(self) -> dict[str, str]:
        """What is said so far, half an answer too, in the order of the questions; of those alone that are asked."""
        return {one.question.key: one.standing or "" for one in self._all() if one.question.key in self._given}

    def say(self, text: str) -> None:
        """Take an answer, '' for the one that stands or is usual, and go on; raise NotRight with a line to show."""
        now = self.now
        if now is None:
            return
        before = now.standing
        if not text.strip():
            if before is None:
                raise NotRight("nothing is usual here; look, or measure, and write what it is")
            if lacking := now.kind.lacking(before):
                raise NotRight(lacking)
            self._given[now.question.key] = before
            self._on()
            return
        self._given[now.question.key] = now.kind.read(text, before or "")
        if not isinstance(now.kind, STAYING):
            self._on()

    def back(self) -> bool:
        """Go to the question before; False where there is none."""
        keys = [one.question.key for one in self._all()]
        before = keys[: keys.index(self._at)] if self._at in keys else keys
        if not before:
            return False
        self._at = before[-1]
        return True

    def _first(self) -> str | None:
        """Return the first question that is open, or a table just before it: the rest of that may not be seen yet."""
        asked = self._all()
        at = next((one.number for one in asked if one.answer is None), len(asked) + 1)
        before = asked[at - 2] if at > 1 else None
        if before is not None and isinstance(before.kind, STAYING):
            return before.question.key
        return asked[at - 1].question.key if at <= len(asked) else None

    def _on(self) -> None:
        """Go to the next question; at the end, to any that is open since an answer was changed."""
        asked = self._all()
        keys = [one.question.key for one in asked]
        after = keys.index(self._at) + 1 if self._at in keys else 0
        still_open = [one for one in asked if one.answer is None]
        self._at = next((one.question.key for one in (*asked[after : after + 1], *still_open)), None)

    def _all(self) -> list[Asked]:
        if self._asked_by != self._given:
            self._asked, self._asked_by = list(asked_in_turn(self._table, self._given)), dict(self._given)
        return self._asked


@dataclass(frozen=True)
class Answered:
    """Answers to all questions, or which are open."""

    answers: Mapping[str, str]
    open: tuple[Asked, ...]


def answered(table: Questions, given: Answers, *, usual: bool) -> Answered:
    """Return all answers; with ``usual`` what may be taken silently stands for what is not given."""
    answers: dict[str, str] = {}
    missing: list[Asked] = []
    for one in asked_in_turn(table, given):
        said = one.answer
        if said is None and usual and not one.question.asked:
            said = None if one.usual is None or one.kind.lacking(one.usual) else one.usual
        if said is None:
            missing.append(one)
        else:
            answers[one.question.key] = said
    return Answered(answers, tuple(missing))

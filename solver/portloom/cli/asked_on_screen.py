"""How a question looks on a screen: its number, what is asked, what may be said, and what Enter takes."""

from collections.abc import Iterator, Mapping, Sequence
from itertools import chain
from textwrap import wrap

from portloom.inputs.starting.added import Added
from portloom.inputs.starting.answers import listed
from portloom.inputs.starting.kinds import OneOf, Or, Sizes, SomeOf, Table, Words
from portloom.inputs.starting.ports import Groups
from portloom.inputs.starting.walk import Asked

WIDEST = 100
"""Columns after which a line is no longer read at a glance."""
FEW = 10
"""Rows that stand below each other; more stand in two columns, where there is room."""
HIGH = 21
"""Lines of a question that leave room for a slip of two lines and the prompt, on a screen of 24."""
GAP = 2
BACK = "  ('back' goes back)"


def shown_on_screen(asked: Asked, of: int, width: int) -> list[str]:
    """Return the lines of a question, ``of`` being how many there are; none is wider than ``width``."""
    width = min(width, WIDEST) - 1  # the last column may bring a line of its own
    question = asked.question
    above = [
        f"question {asked.number} of {of}, {question.about}{BACK if asked.number > 1 else ''}",
        *wrap(question.asks, width),
    ]
    below = [*_points(asked, width), *wrap(question.helps, width), *wrap(_enter(asked), width)]
    return [*above, *_rows(asked, width, HIGH - len(above) - len(below)), *below]


def _points(asked: Asked, width: int) -> list[str]:
    words = asked.kind.words if isinstance(asked.kind, Table | Added) else ()
    return wrap(f"Points: {', '.join(words)}.", width) if words else []


def _rows(asked: Asked, width: int, high: int) -> list[str]:
    """Return the rows of a question, as far as it may be in ``high`` lines."""
    standing = asked.standing
    match asked.kind:
        case OneOf(choices):
            return _numbered([(choice.word, choice.says) for choice in choices], (standing,), width)
        case SomeOf(choices=choices):
            return _numbered([(choice.word, choice.says) for choice in choices], listed(standing or ""), width)
        case Table() as table:
            rows = table.rows(standing or "")
            lines = _in_columns(_said(rows), width)
            return _by_word(rows, width) if len(lines) > high else lines
        case Added() as added:
            return _wrapped(_said(added.rows(standing or "")), width)
        case Groups() as groups:
            rows = groups.rows(standing or "")
            lines = _wrapped(_said(rows), width)
            return _by_word(rows, width) if len(lines) > high else lines
        case _:
            return []


def _said(rows: Mapping[str, str]) -> list[str]:
    return [f"  {row}: {said}" for row, said in rows.items()]


def _by_word(rows: Mapping[str, str], width: int) -> list[str]:
    """Return the rows by what is said of them, which takes fewer lines: '  tail: brake lamp, tail lamp'."""
    words = dict.fromkeys(rows.values())
    each = {word: ", ".join(row for row, said in rows.items() if said == word) for word in words}
    return _wrapped(_said(each), width)


def _wrapped(lines: Sequence[str], width: int) -> list[str]:
    return [*chain(*(wrap(line, width, subsequent_indent="      ") for line in lines))]


def _numbered(choices: Sequence[tuple[str, str]], standing: Sequence[str | None], width: int) -> list[str]:
    longest = max(len(word) for word, _ in choices)
    rows = [
        f"{'*' if word in standing else ' '}{number:>2} {word:<{longest if says else 0}}  {says}".rstrip()
        for number, (word, says) in enumerate(choices, 1)
    ]
    return _in_columns(rows, width)


def _in_columns(rows: Sequence[str], width: int) -> list[str]:
    """Return rows below each other, or where they are many and short, in two columns."""
    half = -(-len(rows) // 2)
    left, right = rows[:half], [*rows[half:], ""][:half]
    wide = max(map(len, left), default=0) + GAP
    if len(rows) <= FEW or wide + max(map(len, right)) > width:
        return list(rows)
    return [f"{one:<{wide}}{other}".rstrip() for one, other in zip(left, right, strict=True)]


def _enter(asked: Asked) -> str:
    """Say what Enter takes, and how else to answer."""
    return " ".join(filter(None, _how(asked)))


def _how(asked: Asked) -> Iterator[str]:
    standing = asked.standing
    match asked.kind:
        case Table(example=example):
            yield f"Enter: all as it stands. Else what differs: '{example}'."
        case Added(example=example):
            yield "Enter: all as it stands." if standing else "Enter: none."
            yield f"Write such as '{example}'."
        case Groups(example=example) as groups:
            stands = not groups.defines and not groups.lacking(standing or "")
            yield "Enter: all as it stands." if stands or standing else ""
            yield f"Write such as '{example}'."
        case SomeOf():
            yield "Enter: those with a *." if listed(standing or "") else "Enter: none."
            yield "Else numbers or words with commas; '+3' adds, '-3' leaves out."
        case OneOf():
            yield f"Enter: {standing}. Else a number or a word." if standing else "Write the number or the word."
        case Sizes() | Words() | Or():
            yield f"Enter: {standing}."
        case _:
            yield f"Enter: {standing}." if standing else "Write it with its unit."

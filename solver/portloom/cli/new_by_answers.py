"""``portloom new`` where answers make the file: read, asked for, or taken as usual where that may be done silently."""

import sys
from collections.abc import Callable, Iterable, Iterator
from os import path as names
from pathlib import Path
from shutil import get_terminal_size
from textwrap import fill
from typing import TYPE_CHECKING

import typer

from portloom.base.nearest import and_list
from portloom.base.unit import Unit
from portloom.base.values import dataclass
from portloom.cli.asked_on_screen import WIDEST
from portloom.cli.asking import Stopped, ask, ask_name
from portloom.cli.new import NewCall, somebody_is_there
from portloom.cli.progress import waiting
from portloom.cli.screen import note, on_stdout, usage_error
from portloom.cli.shell_words import as_typed
from portloom.cli.written import check_new, write_new_file
from portloom.inputs.files import bike_from_text, bundled_units, find_unit, read_unit
from portloom.inputs.parsing import file_text
from portloom.inputs.problems import BadFile, Problem
from portloom.inputs.starting.added import Added
from portloom.inputs.starting.answers import Answers
from portloom.inputs.starting.bike.file import OF_BIKE, bike_file, measure_first
from portloom.inputs.starting.kept import place_beside, read_answers
from portloom.inputs.starting.kinds import Amount, OneOf, SomeOf, Table
from portloom.inputs.starting.ports import Groups
from portloom.inputs.starting.question import Questions
from portloom.inputs.starting.unit.file import OF_UNIT, not_told, unit_file
from portloom.inputs.starting.unit.like import Like, usual_as
from portloom.inputs.starting.walk import Asked, answered

if TYPE_CHECKING:  # nobody who is asked waits for the solver
    from portloom.comparing.cheapest import NoneTakes


@dataclass(frozen=True)
class FileByAnswers:
    """A file that answers make: what is asked, its text, and what is told once it is written."""

    table: Questions
    text: Callable[[Answers], str]
    closing: Callable[[Path, Answers], Iterable[str]]


def _after_a_bike(file: Path, answers: Answers) -> Iterator[str]:
    """Say what is to be measured, and how it is planned: on the cheapest bundled unit that takes it."""
    yield "Measure first:"
    yield from (f"  {number}. {what}" for number, what in enumerate(measure_first(answers), 1))
    with waiting("trying the bundled units"):
        unit = _cheapest(bike_file(answers))
    if isinstance(unit, Unit):
        yield f"The cheapest bundled unit that takes it is the {unit.unit}. Its plan:"
        yield f"  portloom plan {as_typed(str(file))} --unit {unit.unit}"
    else:
        yield f"No bundled unit takes all of it; the {unit.largest}: {unit.reason}. What would help:"
        yield f"  portloom why {as_typed(str(file))} --unit {unit.largest}"


def _cheapest(text: str) -> "Unit | NoneTakes":
    from portloom.comparing.cheapest import cheapest_that_takes  # noqa: PLC0415 - the solver takes a second to load

    bike = bike_from_text(text, "the new file")
    return cheapest_that_takes(bike, [read_unit(file) for _, file in bundled_units()])


def _after_a_unit(file: Path, answers: Answers, like: Like | None) -> Iterator[str]:
    """Say what its sheet left open, and how a bike is planned on it."""
    left = list(not_told(answers))
    if left:
        yield "Not told by its sheet, so ask its maker for:"
        yield from (f"  {number}. {what}" for number, what in enumerate(left, 1))
    keys = like.not_taken_over() if like else ()
    if like and keys:
        yield f"Not taken over from the {like.name}, as nothing asks for it: {and_list(keys)}."
    yield "To plan a bike on it:"
    yield f"  portloom plan my-bike.yaml --unit {as_typed(str(file))}"


def _of(call: NewCall) -> FileByAnswers:
    """Return what is asked for a call; raise BadFile where it names a unit that is none."""
    if call.what == "bike":
        if call.like is not None:
            what = "--like is for a unit that is like another, and this is a bike"
            raise usage_error("new", what, "leave it out: the first questions ask which frame it is like")
        return FileByAnswers(OF_BIKE, bike_file, _after_a_bike)
    like = _like(call.like) if call.like is not None else None
    table = usual_as(OF_UNIT, like.answers) if like else OF_UNIT
    return FileByAnswers(table, unit_file, lambda file, answers: _after_a_unit(file, answers, like))


def _like(name: str) -> Like:
    file = find_unit(name)
    read_unit(file)
    return Like(file_text(file), str(file))


def by_answers(call: NewCall) -> int:
    """Make the file, and return the exit code; raise BadFile where answers are wrong or missing."""
    made = _of(call)
    given = read_answers(call.answers, call.what, made.table) if call.answers else {}
    found = answered(made.table, given, usual=call.yes)
    if found.open and (call.yes or not somebody_is_there()):
        raise _missing(call, found.open)
    if found.open:
        return _asked(call, made, given)
    _write(call.out, made, found.answers)
    return 0


def _asked(call: NewCall, made: FileByAnswers, given: Answers) -> int:
    """Ask for what is not answered, and write the file."""
    out = call.out or ask_name(_free_name(call.what), lambda file: _wrong_name(call, file))
    keep = place_beside(out)
    given = _kept_before(call, made, keep) or given
    like = f" --like {as_typed(call.like)}" if call.like else ""
    go_on = f"portloom new {call.what} --out {as_typed(str(out))}{like}"
    _say(f"Each answer is kept in {keep}. Ctrl-C stops; go on later with:\n  {go_on}")
    try:
        answers = ask(call.what, made.table, given, keep, go_on)
    except Stopped:
        note(f"stopped: your answers are kept in {keep}; go on with:\n  {go_on}")
        return 2
    _write(out, made, answers)
    return 0


def _kept_before(call: NewCall, made: FileByAnswers, keep: Path) -> Answers:
    """Return the answers that were kept when the asking was stopped; raise BadFile where others are given, too."""
    if not names.lexists(keep):
        return {}
    if call.answers is not None and not call.answers.samefile(keep):
        what = f"there are answers in {keep} already, which would be lost"
        raise usage_error("new", what, "leave --answers out to go on with those, or give another name after --out")
    kept = read_answers(keep, call.what, made.table)
    _say(f"Gone on with from {keep}; 'back' goes back to what you answered.")
    return kept


def _free_name(what: str) -> str:
    """Return a name for the new file under which nothing is yet."""
    tried = (f"my-{what}{number}.yaml" for number in ("", *(f"-{number}" for number in range(2, 10_000))))
    return next(name for name in tried if not names.lexists(name))


def _wrong_name(call: NewCall, file: Path) -> str:
    """Say what is wrong with the name of a new file, '' where nothing is."""
    if file.suffix not in (".yaml", ".yml"):
        return f"write a name that ends in .yaml, such as my-{call.what}.yaml"
    try:
        check_new("new", "--out", file)
    except BadFile as bad:
        return f"{bad.problems[0].what}; {bad.problems[0].right}"
    return ""


def _write(out: Path | None, made: FileByAnswers, answers: Answers) -> None:
    if out is None:
        with on_stdout():
            typer.echo(made.text(answers), nl=False)
        return
    write_new_file(out, made.text(answers))
    note(f"{out} is written")
    for line in made.closing(out, answers):
        note(_as_wide(line))


def _missing(call: NewCall, missing: Iterable[Asked]) -> BadFile:
    """Return what is told where answers are missing and nobody can be asked: all of them at once."""
    where = str(call.answers) if call.answers else "--answers"
    return BadFile(Problem(where, 0, 0, _told(one), _right(one, yes=call.yes), "files") for one in missing)


def _told(one: Asked) -> str:
    question, mark, _ = one.question.asks.partition("?")
    return f"'{one.question.key}' is not answered: {question}{mark}"


def _right(one: Asked, *, yes: bool) -> str:
    """Say what to write for an answer, and what --yes would take."""
    words = ", ".join(choice.word for choice in one.kind.choices) if isinstance(one.kind, OneOf | SomeOf) else ""
    match one.kind:
        case OneOf():
            said = f"WORD', the word one of {words}"
        case SomeOf():
            said = f"[WORD, WORD]', the words out of {words}"
        case Table(example=example):
            said = f"{{{example}}}', or {{}} where all is as usual"
        case Added(example=example):
            said = f"{{{example}}}', or {{}} where there is none"
        case Groups(example=example):
            said = f"{{{example}}}'"
        case Amount(measure=measure):
            said = f"{one.usual or measure.example}', with yours"
        case _:
            said = f"{one.usual}', with yours"
    more = "" if yes or one.question.asked or one.usual is None else "; --yes takes what is usual"
    return f"write '{one.question.key}: {said}{more}"


def _say(text: str) -> None:
    sys.stdout.write(f"{text}\n")


def _as_wide(line: str) -> str:
    """Return a line as wide as the screen, if there is one; what is to be typed stays as it is."""
    if line.startswith("  portloom ") or not sys.stderr.isatty():
        return line
    return fill(line, min(get_terminal_size().columns, WIDEST) - 1, subsequent_indent="     ")

"""Asks at a terminal what a new file needs; each answer is kept at once, so that the asking can be stopped anywhere."""

import sys
from collections.abc import Callable
from pathlib import Path
from shutil import get_terminal_size
from textwrap import wrap

from portloom.base.letters import shown
from portloom.cli.asked_on_screen import shown_on_screen
from portloom.cli.screen import CannotWrite
from portloom.cli.stopping import say_when_stopped
from portloom.disk.whole_file import replace
from portloom.inputs.starting.answers import Answers
from portloom.inputs.starting.kept import answers_text
from portloom.inputs.starting.kinds import NotRight
from portloom.inputs.starting.question import Questions
from portloom.inputs.starting.walk import Walk

BACK = ("back", "<")
PROMPT = "> "


class Stopped(Exception):
    """The end of what is typed came before the last answer."""


def ask(what: str, table: Questions, given: Answers, keep: Path, go_on: str) -> dict[str, str]:
    """Return the answers to all questions of a table, from the first that ``given`` lacks on.

    They are kept in the file ``keep``, answer by answer; ``go_on`` is the call that goes on from there. Raise Stopped
    where nothing more is typed, and CannotWrite where they can't be kept.
    """
    walk = Walk(table, given)
    say_when_stopped(f"your answers are kept in {keep}; go on with:\n  {go_on}")
    _keep(keep, answers_text(what, table, walk.said))
    while not _done(walk):
        _keep(keep, answers_text(what, table, walk.said))
    say_when_stopped("")
    return walk.answers


def _done(walk: Walk) -> bool:
    """Ask one question, or whether all is said; return whether it is."""
    now = walk.now
    if now is None:
        said = _typed([f"All {walk.of} questions are answered. Enter writes the file; 'back' goes back."])
        return not (said.casefold() in BACK and walk.back())
    _show(shown_on_screen(now, walk.of, get_terminal_size().columns))
    _answer(walk)
    return False


def _answer(walk: Walk) -> None:
    """Take what is typed until it is an answer."""
    while True:
        said = _typed([])
        if said.casefold() in BACK:
            if walk.back():
                return
            _wrong("this is the first question")
            continue
        try:
            walk.say(said)
        except NotRight as wrong:
            _wrong(str(wrong))
        else:
            return


def ask_name(usual: str, wrong: Callable[[Path], str]) -> Path:
    """Return the name of the new file that is typed; ``wrong`` says what is wrong with one, '' where nothing is."""
    _show([f"What is the new file to be called? Enter: {usual}."])
    while True:
        file = Path(_typed([]) or usual)
        if not (what := wrong(file)):
            return file
        _wrong(what)


def _show(lines: list[str]) -> None:
    sys.stdout.write("".join(f"{line}\n" for line in ("", *lines)))


def _wrong(text: str) -> None:
    sys.stdout.write("".join(f"{line}\n" for line in wrap(f"! {shown(text)}", get_terminal_size().columns - 1)))


def _typed(lines: list[str]) -> str:
    """Return a line that is typed below some others, without blanks at its ends."""
    if lines:
        _show(lines)
    sys.stdout.write(PROMPT)
    sys.stdout.flush()
    typed = sys.stdin.readline()
    if not typed:
        sys.stdout.write("\n")
        raise Stopped
    return typed.strip()


def _keep(file: Path, text: str) -> None:
    try:
        replace(file, text.encode())
    except OSError as error:
        raise CannotWrite(f"can't keep the answers in {file}: {error.strerror}") from error

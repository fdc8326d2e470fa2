"""The one place where what went wrong in a call becomes a message and an exit code."""

import gc
import os
import sys
from io import StringIO, TextIOWrapper
from pathlib import Path
from typing import NoReturn

import typer

from portloom.base.clock import TimeIsUp
from portloom.cli.commands import app
from portloom.cli.limit import begin
from portloom.cli.screen import CannotWrite, Exit, let_go, note
from portloom.inputs.problems import BadFile

UsageError: type[typer.BadParameter] = typer.BadParameter.__mro__[1]
"""What the command line raises for a call that is wrong; where that class lives has changed from version to version."""


def main() -> None:
    """Run the command line; whatever goes wrong ends in one clear message and its exit code."""
    begin()
    _ready_streams()
    try:
        sys.exit(_called())
    except BadFile as bad:
        _stop(_with_topics(bad), Exit.BAD_INPUT)
    except TimeIsUp:
        _stop("UNKNOWN: the time limit was reached while the files were read and set up; allow more time", Exit.LIMIT)
    except UsageError as wrong:
        _stop(_usage(wrong), Exit.BAD_INPUT)
    except OSError as error:  # a full disk, no permission: nothing of it is the program's
        _stop(f"portloom: {_of_system(error)}", Exit.BAD_INPUT)
    except Exception as error:  # noqa: BLE001 - a traceback is never shown to a user
        what = str(error) or type(error).__name__
        _stop(f"portloom: an error in the program, not in your files: {what}", Exit.FAILED_CHECK)
    finally:
        gc.freeze()  # the end needs no last collections: a fifth of a short command's time


def _called() -> int:
    """Run the call; return its exit code."""
    try:
        return app(standalone_mode=False) or Exit.DONE
    except SystemExit as end:
        if end.code == 1:  # typer's answer where whoever reads its help has had enough
            return Exit.DONE
        raise


def _usage(wrong: typer.BadParameter) -> str:
    text = StringIO()
    wrong.show(text)
    return text.getvalue().rstrip("\n") + _units_to_name(wrong)


def _units_to_name(wrong: typer.BadParameter) -> str:
    """Name the units there are where none is named."""
    missing = "--unit" in getattr(getattr(wrong, "param", None), "opts", ()) and not wrong.message
    if not missing and getattr(wrong, "option_name", None) != "--unit":
        return ""
    from portloom.base.nearest import or_list  # noqa: PLC0415 - seldom needed
    from portloom.inputs.profiles import bundled_units  # noqa: PLC0415 - as above

    names = or_list(name for name, _ in bundled_units())
    return f"\nGive a profile's file, or a bundled unit's name: {names}.\nMore: portloom help units"


def _with_topics(bad: BadFile) -> str:
    """Return what is wrong, and which topics have more on it."""
    more = ", ".join(f"portloom help {topic}" for topic in bad.topics)
    return f"{bad}\nMore: {more}" if more else str(bad)


def _of_system(error: OSError) -> str:
    if isinstance(error, CannotWrite):
        return str(error)
    if error.filename is not None:
        return f"can't read or write {error.filename}: {error.strerror}"
    let_go(sys.stdout)  # whatever is printed before a command runs, such as its help
    return f"can't write to stdout: {error.strerror or error}"


def _ready_streams() -> None:
    """Write to nowhere where stdout or stderr is closed, and '?' for letters that they can't take."""
    for name in ("stdout", "stderr"):
        stream = getattr(sys, name)
        if stream is None:
            setattr(sys, name, Path(os.devnull).open("w", encoding="utf-8"))  # noqa: SIM115 - open to the end
        elif isinstance(stream, TextIOWrapper):
            stream.reconfigure(errors="replace")


def _stop(message: str, code: Exit) -> NoReturn:
    """End with a code, and say why where anything can be said."""
    note(message)
    sys.exit(code)

"""The command, run in this process on files in a folder of its own."""

import gc
import json
import sys
from collections.abc import Iterator, Sequence
from contextlib import contextmanager, redirect_stderr, redirect_stdout
from io import StringIO
from pathlib import Path
from tempfile import TemporaryDirectory
from typing import Any
from unittest.mock import patch

from portloom.cli.main import main
from portloom.inputs.problems import BadFile, Problem

PLANNED, NO_PLAN, REFUSED = 0, 1, 2
"""Exit codes."""


class Unfinished(Exception):
    """The command ended with neither a plan nor a proof that there is none."""


class Command:
    """Calls of ``portloom`` on a bike's and a unit's text, which it reads from files."""

    def __init__(self, folder: Path) -> None:
        """Take a folder for the files."""
        self._folder, self._bike = folder, folder / "bike.yaml"

    def why(self, bike: str, unit: str, *wish: str) -> dict[str, Any]:
        """Return what ``portloom why --json --proof`` prints, of a wish or of all; raise BadFile."""
        return dict(json.loads(self._run("why", bike, [unit], *wish, "--json", "--proof")[1]))

    def check(self, post: str, bike: str, unit: str, *options: str) -> dict[str, Any]:
        """Return what ``portloom check --json`` prints of a post's text; raise BadFile."""
        file = self._folder / "post.txt"
        file.write_text(post, "utf-8")
        return dict(json.loads(self._run("check", bike, [unit], *options, "--json", post=str(file))[1]))

    def plan(self, bike: str, unit: str) -> dict[str, Any]:
        """Return what ``portloom plan --json`` prints; raise BadFile."""
        return dict(json.loads(self.printed(bike, unit)))

    def printed(self, bike: str, *units: str, built: str | None = None) -> str:
        """Return the same as its text, on one unit or two, or with what was printed of the loom; raise BadFile."""
        if built is None:
            return self._run("plan", bike, units, "--json")[1]
        file = self._folder / "built.json"
        file.write_text(built, "utf-8")
        return self._run("plan", bike, units, "--json", "--built", str(file))[1]

    def sheets(self, bike: str, unit: str) -> dict[str, str]:
        """Return the texts that ``portloom sheets`` writes for a bike, by their names; raise BadFile."""
        out = self._folder / "sheets"
        self._run("sheets", bike, [unit], "--out", str(out), "--force")
        return {file.name: file.read_text("utf-8-sig") for file in sorted(out.iterdir())}

    def fits(self, bike: str, unit: str) -> bool:
        """Tell whether ``portloom plan`` ends with a plan, or with the proof that there is none; raise BadFile."""
        return self._run("plan", bike, [unit])[0] == PLANNED

    def _run(
        self, command: str, bike: str, units: Sequence[str], *options: str, post: str | None = None
    ) -> tuple[object, str]:
        self._bike.write_text(bike, "utf-8")
        files = [self._folder / f"unit{number or ''}.yaml" for number in range(len(units))]
        for file, unit in zip(files, units, strict=True):
            file.write_text(unit, "utf-8")
        named = [word for file in files for word in ("--unit", str(file))]
        sys.argv = ["portloom", command, *filter(None, [post]), str(self._bike), *named, *options]
        out, talk = StringIO(), StringIO()
        with redirect_stdout(out), redirect_stderr(talk):
            code = _ended()
        if code == REFUSED:
            raise BadFile([Problem(command, 1, 1, talk.getvalue().splitlines()[0], "")])
        if code not in (PLANNED, NO_PLAN):
            raise Unfinished(f"{command} ended with {code}: {talk.getvalue()}")
        return code, out.getvalue()


def _ended() -> object:
    """Run the command; return its exit code."""
    try:
        main()
    except SystemExit as end:
        return end.code
    finally:
        gc.unfreeze()  # it spares its end the collections, which many calls in one process can't do without
    return None


def _no_questions(*_: object) -> Iterator[Any]:
    return iter(())


@contextmanager
def command() -> Iterator[Command]:
    """Lend the command. All is as users run it but for two things: it takes one core, and asks no question.

    Random bikes leave open what stops the engine and what works a lamp; nothing that is judged hangs on these.
    """
    unasked = patch("portloom.inputs.files.questions", _no_questions)
    with TemporaryDirectory() as folder, unasked, patch("os.cpu_count", lambda: 1), patch("sys.argv", sys.argv):
        yield Command(Path(folder))

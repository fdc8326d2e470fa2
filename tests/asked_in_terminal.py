"""Somebody who answers the questions of ``portloom new`` in a real terminal, slips and all."""

import shlex
from collections.abc import Mapping, Sequence
from pathlib import Path

from conftest import BIN
from portloom.inputs.starting.question import Questions
from terminal import Terminal

CTRL_C = "^C"
"""Typed where the asking is stopped, to be gone on with by the call that it tells."""
GO_ON = "go on with:"


class Asked:
    """What was seen while all questions were answered."""

    def __init__(
        self, what: str, table: Questions, said: Mapping[str, Sequence[str]], folder: Path,
        environment: Mapping[str, str], columns: int,
    ) -> None:  # fmt: skip
        """Answer each question by what is ``said`` to it, line after line; Enter where nothing is left to say."""
        self._left = {key: list(lines) for key, lines in said.items()}
        self._asks = {question.asks: question.key for question in table}
        self._in = folder, environment, columns
        self.seen = ""
        self.calls = [f"portloom new {what}"]
        self.screens: list[str] = []
        self.code = self._answer_all()

    def _answer_all(self) -> int:
        folder, environment, columns = self._in
        while True:
            words = shlex.split(self.calls[-1])
            terminal = Terminal([str(BIN / words[0]), *words[1:]], folder, environment, columns)
            stopped = self._answer(terminal)
            self.seen += f"$ {self.calls[-1]}\n{terminal.text}"
            code = terminal.end()
            if not stopped:
                return code
            assert code == 130
            self.calls.append(stopped)

    def _answer(self, terminal: Terminal) -> str:
        """Answer until the end; return the call that goes on, where it is stopped."""
        shown, key = terminal.screen(), ""
        while shown.endswith("> "):
            self.screens.append(shown)
            key = self._key(shown, key)
            line = self._left[key].pop(0) if self._left.get(key) else ""
            if line == CTRL_C:
                end = terminal.press(b"\x03")
                return end.rpartition(GO_ON)[2].strip()
            shown = terminal.type(line)
        return ""

    def _key(self, shown: str, before: str) -> str:
        """Return the key of the question that is asked now: the one before, where only a slip is told."""
        flat = " ".join(shown.split())
        if "What is the new file to be called?" in flat:
            return "file"
        if "questions are answered." in flat:
            return "end"
        return next((key for asks, key in self._asks.items() if f" {asks} " in flat and "question " in flat), before)

    @property
    def unsaid(self) -> dict[str, list[str]]:
        """What was never typed: nobody asked."""
        return {key: lines for key, lines in self._left.items() if lines}

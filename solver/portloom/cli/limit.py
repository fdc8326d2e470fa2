"""How much of a time limit is left: it holds from the start of the command, so loading and reading count."""

from time import monotonic

from portloom.base.clock import Clock
from portloom.cli import LOADED


class _Call:
    """When the call began: when the command was loaded, for the first in a process."""

    def __init__(self) -> None:
        self.began = LOADED
        self._first = True

    def begin(self) -> None:
        if not self._first:
            self.began = monotonic()
        self._first = False


_call = _Call()


def begin() -> None:
    """Note that a call begins."""
    _call.begin()


def clock_of(limit: float | None) -> Clock:
    """Return the clock of the call, with a limit in seconds."""
    return Clock(limit, _call.began)


def left_of(limit: float | None) -> float | None:
    """Return the seconds of a limit that are left, None without one."""
    return clock_of(limit).left()


def seconds_gone() -> float:
    """Return how long the call has been going on."""
    return monotonic() - _call.began

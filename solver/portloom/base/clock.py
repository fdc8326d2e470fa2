"""The time that is left of a limit, and what is given up where it is over."""

from collections.abc import Iterator
from contextlib import contextmanager
from threading import Event, Lock, Thread, get_ident
from time import monotonic
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    import ctypes


class TimeIsUp(BaseException):
    """A limit was reached in the middle of something that was not finished; like an interrupt, no error."""


class Clock:
    """The time that is left of a limit, if there is one."""

    def __init__(self, seconds: float | None, since: float | None = None) -> None:
        """Start the clock; ``since`` is when it was started already, by ``time.monotonic``."""
        self._end = None if seconds is None else (monotonic() if since is None else since) + seconds
        self._held: set[int] = set()
        """The threads in which an alarm is set."""

    def left(self) -> float | None:
        """Return the seconds left, None without a limit."""
        return None if self._end is None else max(0.0, self._end - monotonic())

    @contextmanager
    def held(self, *, unless: bool = False) -> Iterator[None]:
        """Break off what is done inside once no time is left, ``unless`` it is short; raises TimeIsUp.

        Only Python's own steps are broken off, in the thread that this is asked in. What is done inside must leave
        nothing behind that is used after it was broken off. What is short is done to its end, so that the same is
        told of it however slow the machine is.
        """
        left, thread = self.left(), get_ident()
        if left is None or unless or thread in self._held:
            yield
            return
        if left == 0:
            raise TimeIsUp
        alarm = _Alarm(left)
        self._held.add(thread)
        try:
            yield
        finally:
            try:
                alarm.off()
            finally:  # the alarm may be heard only now
                self._held.discard(thread)


NO_LIMIT = Clock(None)


class _Alarm:
    """Raises TimeIsUp in the thread that sets it, unless it is off before."""

    def __init__(self, seconds: float) -> None:
        import ctypes  # noqa: PLC0415 - only where there is a limit

        self._ctypes = ctypes
        self._thread = get_ident()
        self._lock = Lock()
        self._on = True
        self._off = Event()
        Thread(target=self._wait, args=(seconds,), daemon=True).start()

    def _wait(self, seconds: float) -> None:
        if self._off.wait(seconds):
            return
        with self._lock:
            if self._on:
                self._on = False
                self._raise(self._ctypes.py_object(TimeIsUp))

    def off(self) -> None:
        """Take care that it rings no more: one that rang and was not heard yet is not."""
        self._off.set()
        with self._lock:
            rang, self._on = not self._on, False
        if rang:
            self._take_back()

    def _take_back(self) -> None:
        """Hear an exception that was not raised yet: raised once more, as there is one at most, and caught.

        One that is only unset leaves Python looking for it at each step, and for ever where calls are traced (3.11).
        """
        try:
            self._raise(self._ctypes.py_object(TimeIsUp))
            while True:
                pass
        except TimeIsUp:
            return

    def _raise(self, what: "ctypes.py_object[type[BaseException]]") -> None:
        """Raise an exception in the thread before its next step."""
        self._ctypes.pythonapi.PyThreadState_SetAsyncExc(self._ctypes.c_ulong(self._thread), what)

"""What some tests need and Windows lacks, a mark each: there they are skipped by name, and say why.

``tests/test_unix_marks.py`` holds that whatever needs one of these has its mark.
"""

import sys

import pytest

if sys.platform != "win32":
    from resource import RUSAGE_CHILDREN, getrusage

WINDOWS = sys.platform == "win32"


def _needs(what: str, *, there: bool = not WINDOWS) -> pytest.MarkDecorator:
    return pytest.mark.skipif(not there, reason=f"needs {what}, as this system has none")


terminal = _needs("a pseudo-terminal")
shell = _needs("a Unix shell")
signals = _needs("signals that end a process from outside")
forks = _needs("fork, or what is done between it and the program's start")
links = _needs("links, file modes and named pipes")
usage = _needs("the processor's time of other processes")
linux = _needs("Linux's full disks, capabilities and cores", there=sys.platform == "linux")
MARKS = ("terminal", "shell", "signals", "forks", "links", "usage", "linux")
"""Their names, as tests bear them: ``@unix.terminal``."""


def used() -> float:
    """Return the seconds that ended children have run on a core."""
    children = getrusage(RUSAGE_CHILDREN)
    return children.ru_utime + children.ru_stime

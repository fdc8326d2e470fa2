"""What is not broken off, and by whom: one command at a time writes into a folder, and is ended only after it."""

import os
import sys
from collections.abc import Iterator
from contextlib import contextmanager, suppress
from pathlib import Path
from threading import RLock

if sys.platform != "win32":
    from fcntl import LOCK_EX, flock

WRITING = RLock()
"""Held while files are written and put in their places; an interrupted command ends once nobody holds it."""


@contextmanager
def writing_into(folder: Path) -> Iterator[None]:
    """Wait until no other command writes into a folder, and keep out others until the end; raise OSError.

    What lies there half-written was left by a command that was killed: a lock ends with its process, however that ends.
    On Windows, and on drives where nothing can be locked, nobody is kept out.
    """
    if sys.platform == "win32":
        with WRITING:
            yield
        return
    handle = os.open(folder, os.O_RDONLY)
    try:
        with suppress(OSError):
            flock(handle, LOCK_EX)
        with WRITING:
            yield
    finally:
        os.close(handle)

"""Where things are written: data to stdout, talk to stderr."""

import os
import sys
from collections.abc import Iterator
from contextlib import contextmanager
from threading import Timer

from rich.console import Console

from solver.sheets.layout import WIDTH, Page

PATIENCE = 1.0
"""Seconds after which long work shows that it goes on."""


def page() -> Page:
    """Give the page on stdout: 100 columns at most, and just 100 where it is no screen."""
    width = min(WIDTH, os.get_terminal_size(sys.stdout.fileno()).columns) if sys.stdout.isatty() else WIDTH
    return Page(Console(width=width, highlight=False))


@contextmanager
def waiting(doing: str) -> Iterator[None]:
    """Show that work goes on after a second, on stderr, if that is a screen."""
    if not sys.stderr.isatty():
        yield
        return
    status = Console(stderr=True).status(doing)
    timer = Timer(PATIENCE, status.start)
    timer.daemon = True
    timer.start()
    try:
        yield
    finally:
        timer.cancel()
        status.stop()

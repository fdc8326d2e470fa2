"""What opens a file in the browser."""

from collections.abc import Callable
from pathlib import Path

from playwright.sync_api import Page

Opened = Callable[[Path], Page]

"""What opens a file in the browser, and what writes an example's sheets."""

from collections.abc import Callable
from pathlib import Path

from playwright.sync_api import Page

Opened = Callable[[Path], Page]

FolderOf = Callable[[str, str], Path]
"""From a bike's and a unit's name to the folder of its sheets."""

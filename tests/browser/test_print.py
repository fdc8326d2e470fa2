"""The pages as Chromium prints them on A4: as many as there should be, none empty, none that ends with a heading."""

import re
from collections.abc import Callable
from functools import cache
from pathlib import Path
from typing import NamedTuple

import pypdfium2
import pytest
from playwright.sync_api import Browser

from portloom.report.html.pages import PAGES

pytest_plugins = ("chromium", "folders")
A4 = (595, 842)
"""In points of a 72nd of an inch. Source: ISO 216: 210 x 297 mm."""
HEADS = "[...document.querySelectorAll('h1,h2,h3,thead')].map(one => one.textContent)"


class Printed(NamedTuple):
    """A page as it is printed, without what may break or space a line."""

    size: tuple[int, int]
    text: str
    heads: tuple[str, ...]
    """All headings and tables' heads of the file."""


Print = Callable[[Path], list[Printed]]


@pytest.fixture(scope="session")
def printed(browser: Browser) -> Print:
    """Return what prints a file."""
    page = browser.new_page()

    @cache
    def sheets(file: Path) -> list[Printed]:
        page.goto(file.as_uri())
        heads = tuple(map(squeezed, page.evaluate(HEADS)))
        made = pypdfium2.PdfDocument(page.pdf(prefer_css_page_size=True))
        return [
            Printed((round(one.get_width()), round(one.get_height())), squeezed(text_of(one)), heads) for one in made
        ]

    return sheets


def text_of(page: pypdfium2.PdfPage) -> str:
    """Return the text of a page."""
    return str(page.get_textpage().get_text_range())


def squeezed(text: str) -> str:
    """Leave out all that may break or space a line."""
    return re.sub(r"\s", "", text)


@pytest.mark.parametrize("name", PAGES)
def test_every_printed_page_is_a4_and_bears_something(folder: Path, printed: Print, name: str) -> None:
    for sheet in printed(folder / name):
        assert sheet.size == A4
        assert sheet.text


@pytest.mark.parametrize("name", PAGES)
def test_no_printed_page_ends_with_a_heading(folder: Path, printed: Print, name: str) -> None:
    """What a heading or a table's head stands over begins on the same page."""
    sheets = printed(folder / name)
    assert sheets[0].heads
    assert [head for sheet in sheets for head in sheet.heads if sheet.text.endswith(head)] == []


def test_the_next_owner_gets_one_page(folder: Path, printed: Print) -> None:
    """By itself, and as the last page of the job sheet, on which nothing else is."""
    assert len(printed(folder / "next-owner.html")) == 1
    begin = [sheet.text.startswith("Forthenextowner") for sheet in printed(folder / "job-sheet.html")]
    assert begin == [False] * (len(begin) - 1) + [True]


def test_each_sheet_of_labels_is_a_page(folder: Path, printed: Print) -> None:
    assert len(printed(folder / "labels.html")) == len(list(folder.glob("labels-*.svg")))

"""The sheets in a real browser: no complaint, no network, reachable, and what belongs together lights up together.

Accessibility: axe-core's rules (WCAG 2.2 A and AA, and its good practices), from the registry's axe-playwright-python.
"""

from pathlib import Path
from typing import Literal

import pytest
from axe_playwright_python.sync_playwright import Axe
from pages import FolderOf, Opened
from playwright.sync_api import Page

from laid_bikes import FITTING
from portloom.report.html.pages import PAGES

pytest_plugins = ("chromium", "folders")
SMALLEST = next(example for example in FITTING if example[0] == "bare-single")


@pytest.mark.parametrize("name", PAGES)
def test_everybody_can_use_a_page(folder: Path, opened: Opened, name: str) -> None:
    """No rule of accessibility is broken; contrast, which takes longest, is measured below."""
    assert broken(opened(folder / name), {"rules": {"color-contrast": {"enabled": False}}}) == []


@pytest.mark.parametrize("scheme", ["light", "dark"])
@pytest.mark.parametrize("name", PAGES)
def test_everybody_can_tell_the_colours(
    folder_of: FolderOf, opened: Opened, name: str, scheme: Literal["light", "dark"]
) -> None:
    """Contrast, in light and in dark; the pages of every bike have one style, so the shortest pages do."""
    page = opened(folder_of(*SMALLEST) / name)
    page.emulate_media(color_scheme=scheme)
    assert broken(page, {"runOnly": ["cat.color"]}) == []


def broken(page: Page, asked: dict[str, object]) -> list[tuple[str, str]]:
    """Return the rules that a page breaks, of all or of those that are asked, with the first thing that breaks each."""
    found = Axe().run(page, options={**asked, "resultTypes": ["violations"]})
    assert found.response["passes"]
    return [(one["id"], one["nodes"][0]["html"]) for one in found.response["violations"]]


@pytest.mark.parametrize("name", PAGES)
def test_a_page_fits_a_phone(folder: Path, opened: Opened, name: str) -> None:
    """At 390 px nothing but what scrolls by itself is wider than the screen."""
    page = opened(folder / name)
    page.set_viewport_size({"width": 390, "height": 800})
    assert page.evaluate("document.documentElement.scrollWidth") <= 390


def test_pictures_are_legible_on_a_phone(folder: Path, opened: Opened) -> None:
    """No letter is lower than a line of 11 px; what is wider than the screen scrolls within its figure."""
    page = opened(folder / "job-sheet.html")
    page.set_viewport_size({"width": 390, "height": 800})
    high = page.evaluate("[...document.querySelectorAll('figure text')].map(one => one.getBoundingClientRect().height)")
    assert len(high) > 50
    assert min(high) >= 11


def test_pointing_at_a_port_lights_it(folder: Path, opened: Opened) -> None:
    """A row lights up under the pointer and under the keyboard's focus; elsewhere nothing does."""
    page = opened(folder / "job-sheet.html")
    row = page.locator("tr[data-lit]").first
    dark = row.evaluate("one => getComputedStyle(one).backgroundColor")
    row.hover()
    lit = row.evaluate("one => getComputedStyle(one).backgroundColor")
    assert lit != dark
    page.mouse.move(0, 0)
    row.focus()
    assert row.evaluate("one => getComputedStyle(one).backgroundColor") == lit


def test_pointing_at_a_row_lights_its_wires_in_the_pictures(folder: Path, opened: Opened) -> None:
    """The wires of the row's circuit, over the frame and in the diagram; no others."""
    page = opened(folder / "job-sheet.html")
    row = page.locator("tr[data-lit]").first
    circuit = row.get_attribute("data-lit")
    row.hover()
    lit = page.evaluate(
        """() => [...document.querySelectorAll("g[data-circuit]")].map(
            one => [one.dataset.circuit, getComputedStyle(one.querySelector("path")).stroke])"""
    )
    bright = {name for name, stroke in lit if stroke == "rgb(179, 107, 0)"}
    assert bright == {circuit}
    assert len({name for name, _ in lit}) > 3

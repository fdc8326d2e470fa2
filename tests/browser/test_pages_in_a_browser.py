"""The sheets in a real browser: no complaint, no network, reachable, and so many pages of A4 as they should be.

Accessibility: axe-core's rules (WCAG 2.2 A and AA, and its good practices), from the registry's axe-playwright-python.
"""

import re
from pathlib import Path

import pytest
from axe_playwright_python.sync_playwright import Axe
from pages import Opened

from outcomes import EXAMPLES, PROFILES
from solver.folders.write import write_folder
from solver.pages.bundle import PAGES, bundle
from solver.planning import Planned, plan
from solver.reading.bike import read_bike
from solver.reading.unit import read_unit
from solver.wiring.lists import lists_of

pytest_plugins = ("chromium",)
CALLS = (("harbour-trail", "eleven-way"), ("dressed-tourer", "eleven-way"), ("bare-single", "six-way"))
PAGE = re.compile(rb"/Type\s*/Page\b")


@pytest.fixture(scope="module", params=CALLS, ids=lambda call: call[0])
def folder(request: pytest.FixtureRequest, tmp_path_factory: pytest.TempPathFactory) -> Path:
    """Give the folder of an example's sheets."""
    bike, unit = request.param
    answer = plan(read_bike(EXAMPLES / f"{bike}.yaml"), read_unit(PROFILES / f"{unit}.yaml"))
    assert isinstance(answer, Planned)
    made = tmp_path_factory.mktemp(bike) / "sheets"
    write_folder(made, bundle(answer.plan, answer.laid, lists_of(answer.laid)))
    return made


@pytest.mark.parametrize("name", PAGES)
def test_everybody_can_use_a_page(folder: Path, opened: Opened, name: str) -> None:
    """No rule of accessibility is broken, in light and in dark."""
    found = Axe().run(opened(folder / name))
    assert [(one["id"], one["nodes"][0]["html"]) for one in found.response["violations"]] == []


@pytest.mark.parametrize("name", PAGES)
def test_a_page_fits_a_phone(folder: Path, opened: Opened, name: str) -> None:
    """At 390 px nothing but what scrolls by itself is wider than the screen."""
    page = opened(folder / name)
    page.set_viewport_size({"width": 390, "height": 800})
    assert page.evaluate("document.documentElement.scrollWidth") <= 390


def test_the_next_owner_gets_one_page(folder: Path, opened: Opened) -> None:
    """Printed on A4, the record is one page."""
    printed = opened(folder / "next-owner.html").pdf(format="A4", prefer_css_page_size=True)
    assert len(PAGE.findall(printed)) == 1


def test_the_job_sheet_ends_with_the_next_owners_page(folder: Path, opened: Opened) -> None:
    """The last part begins on a page of its own, and no page of the print is wider than A4."""
    page = opened(folder / "job-sheet.html")
    page.emulate_media(media="print")
    assert page.evaluate("getComputedStyle(document.querySelector('.own-page')).breakBefore") == "page"
    printed = page.pdf(format="A4", prefer_css_page_size=True)
    assert set(re.findall(rb"/MediaBox\s*\[0 0 ([\d.]+ [\d.]+)\]", printed)) == {b"594.95996 841.91998"}


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

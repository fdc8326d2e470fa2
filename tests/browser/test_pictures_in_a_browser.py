"""Pictures as a browser shows them, in the fonts that their letters were reckoned for: nothing on top of anything.

Source: SVG 2, 4.6.4: an element's bounding box is what getBBox gives; here as Chromium reckons it.
"""

from functools import cache
from itertools import chain, combinations
from typing import NamedTuple

import pytest
from folders import EVERY_TIME
from playwright.sync_api import Browser

from hostile_bikes import hostile_bike
from hostile_words import TAKEN
from laid_bikes import FITTING, solved
from pictured import EXAMPLE_PLANS, pictured_example, pictures
from portloom.report.svg.lettering import Style, width
from portloom.report.svg.paging import WIDE

pytest_plugins = ("chromium",)
FONTS = ("DejaVu Sans", "Liberation Sans", "sans-serif")
MEASURE = """
() => [...document.querySelectorAll("svg")].map(svg => {
  const edge = svg.getBoundingClientRect();
  const texts = [...svg.querySelectorAll("text")].map(text => {
    const box = text.getBoundingClientRect();
    const bold = Number(getComputedStyle(text).fontWeight) > 500;
    return [text.textContent, box.left - edge.left, box.top - edge.top, box.width, box.height,
            Number(text.getAttribute("font-size")), bold];
  });
  return [svg.parentNode.title, svg.id, edge.width, edge.height, texts];
})
"""


class Seen(NamedTuple):
    """A text as the browser shows it, in units of the picture."""

    words: str
    left: float
    top: float
    wide: float
    high: float
    size: int
    bold: bool


Page = tuple[str, str, float, float, list[Seen]]


@cache
def hostile_pictures() -> tuple[str, ...]:
    """Return the pictures of a bike that bears hostile names, some of 200 letters."""
    words = tuple(dict.fromkeys(word.strip() for word in TAKEN if word.strip()))
    found = solved(*hostile_bike(words[-16:]))
    assert found is not None
    return tuple(chain.from_iterable(pictures(found).values()))


FEW = [plan for plan in FITTING if plan[0] in EVERY_TIME]
MORE = [plan for plan in EXAMPLE_PLANS if plan not in FEW]


@pytest.fixture(
    scope="module", params=[pytest.param(FEW, id="few"), pytest.param(MORE, id="more", marks=pytest.mark.long)]
)
def pages(request: pytest.FixtureRequest, browser: Browser, tmp_path_factory: pytest.TempPathFactory) -> list[Page]:
    """Show pictures of examples and of hostile names in every font, on one page of the browser; give what it shows."""
    every = [svg for plan in request.param for svg in chain.from_iterable(pictured_example(*plan).values())]
    every += hostile_pictures()
    divs = [
        f"<div title='{font}' style='width:{WIDE}px' class='f{number}'>{svg.split('?>', 1)[1]}</div>"
        for number, font in enumerate(FONTS)
        for svg in every
    ]
    style = "".join(f".f{number} svg {{ font-family: '{font}' }}" for number, font in enumerate(FONTS))
    file = tmp_path_factory.mktemp("browser") / "pictures.html"
    head = f"<!DOCTYPE html><html lang='en'><meta charset='utf-8'><title>pictures</title><style>{style}</style>"
    file.write_text(f"{head}{''.join(divs)}", "utf-8")
    shown = browser.new_page(viewport={"width": 800, "height": 1200})
    shown.goto(file.as_uri())
    found = shown.evaluate(MEASURE)
    return [(font, name, wide, high, [Seen(*text) for text in texts]) for font, name, wide, high, texts in found]


def meet(one: Seen, other: Seen) -> bool:
    """Tell whether two texts lie on each other, by more than half a unit."""
    return (
        one.left + one.wide > other.left + 0.5
        and other.left + other.wide > one.left + 0.5
        and one.top + one.high > other.top + 0.5
        and other.top + other.high > one.top + 0.5
    )


def test_all_pictures_are_shown(pages: list[Page]) -> None:
    """As wide as the page gives them, with text in each."""
    assert len(pages) > 3 * len(FONTS) * len(FEW)
    assert all(wide == WIDE and texts for _, _, wide, _, texts in pages)


def test_no_text_lies_on_another(pages: list[Page]) -> None:
    for font, name, _, _, texts in pages:
        assert not [(font, name, one, other) for one, other in combinations(texts, 2) if meet(one, other)]


def test_no_text_is_cut_off(pages: list[Page]) -> None:
    for _, _, wide, high, texts in pages:
        for text in texts:
            assert text.left >= 0
            assert text.top >= 0
            assert text.left + text.wide <= wide
            assert text.top + text.high <= high


def test_no_text_is_wider_than_reckoned(pages: list[Page]) -> None:
    """Whichever of the fonts shows it; but for what a browser rounds: a unit, and half a per cent."""
    for font, _, _, _, texts in pages:
        for text in texts:
            reckoned = width(text.words, Style(text.size, bold=text.bold))
            assert text.wide <= 1.005 * reckoned + 1, (font, text)

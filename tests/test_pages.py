"""The pages of a plan: HTML that a strict parser takes, that loads and runs nothing, and shows every name as it is.

Strict parser: html5lib (HTML Living Standard, 'Parse errors'). Contrast: WCAG 2.2, 'relative luminance' and success
criterion 1.4.3. What no parser and no sum can tell, a browser does in ``tests/browser``.
"""

import re
from collections.abc import Iterator
from functools import cache
from itertools import product
from unicodedata import category
from xml.etree.ElementTree import Element

import html5lib
import pytest
from hypothesis import given
from hypothesis import strategies as st

from hostile_words import HOSTILE
from laid_bikes import FITTING
from outcomes import EXAMPLES, PROFILES
from portloom.base.letters import shown
from portloom.inputs.files import unit_from_text
from portloom.planning.plan import Planned, coloured_lists, plan
from portloom.report.html.markup import DARK, LIGHT, tag
from portloom.report.html.pages import PAGES, bundle
from portloom.report.html.written import name_of
from slices import later
from unasked import bike_from_text

SPACE = "{http://www.w3.org/1999/xhtml}"
ODD = "</td><script>alert(1)</script> & \"'<b>é😀"


@cache
def sheets(bike: str, unit: str) -> dict[str, str]:
    """Return the files of an example's best plan, as text."""
    text = (EXAMPLES / f"{bike}.yaml").read_text("utf-8")
    return sheets_of(text, (PROFILES / f"{unit}.yaml").read_text("utf-8"))


def sheets_of(bike: str, unit: str) -> dict[str, str]:
    """Return the files of a bike's best plan, as text."""
    answer = plan(bike_from_text(bike, "bike"), unit_from_text(unit, "unit"))
    assert isinstance(answer, Planned)
    return {
        name: content.decode()
        for name, content in bundle(answer.plan, answer.laid, coloured_lists(answer.laid)).items()
    }


def parsed(text: str) -> Element:
    """Parse a page; any error in it is raised."""
    root: Element = html5lib.HTMLParser(strict=True).parse(text)
    return root


def elements(text: str, name: str) -> Iterator[Element]:
    """Return a page's elements of one name."""
    return parsed(text).iter(f"{SPACE}{name}")


EACH = pytest.mark.parametrize(
    ("call", "name"), [*product(FITTING[1:2], PAGES), *later([*product((FITTING[0], FITTING[2]), PAGES)])], ids=str
)
"""Three bikes are enough here: what a browser and a validator make of every bike's pages is in ``tests/browser``."""


@EACH
def test_a_page_is_right_and_names_its_language(call: tuple[str, str], name: str) -> None:
    """The strict parser finds nothing wrong; every id is there once; the title and the language are given."""
    text = sheets(*call)[name]
    root = parsed(text)
    ids = [one.get("id") for one in root.iter() if one.get("id")]
    assert len(ids) == len(set(ids))
    assert root.get("lang") == "en"
    assert next(title.text for title in root.iter(f"{SPACE}title"))


@EACH
def test_a_page_loads_nothing_and_runs_nothing(call: tuple[str, str], name: str) -> None:
    """No script, no address that leads anywhere but within the page."""
    root = parsed(sheets(*call)[name])
    assert {one.tag.removeprefix(SPACE) for one in root.iter() if isinstance(one.tag, str)}.isdisjoint(
        {"script", "link", "iframe", "img", "object", "embed"}
    )
    addresses = [one.get(key) for one in root.iter() for key in ("src", "href", "action") if one.get(key)]
    assert all(address.startswith("#") for address in addresses if address)
    assert not any(key.startswith("on") for one in root.iter() for key in one.attrib)
    assert "url(" not in sheets(*call)[name]
    assert "@import" not in sheets(*call)[name]


@EACH
def test_links_lead_somewhere(call: tuple[str, str], name: str) -> None:
    """Each link on a page is to an id that is there."""
    root = parsed(sheets(*call)[name])
    ids = {one.get("id") for one in root.iter()}
    assert all((one.get("href") or "#")[1:] in ids for one in root.iter(f"{SPACE}a"))


@EACH
def test_every_table_has_a_name_and_headers(call: tuple[str, str], name: str) -> None:
    """A caption, a header over each column, one before each row, as many cells as columns."""
    for table in elements(sheets(*call)[name], "table"):
        assert table.find(f"{SPACE}caption") is not None
        heads = next(iter(table.iter(f"{SPACE}thead"))).findall(f".//{SPACE}th")
        assert all(head.get("scope") == "col" and "".join(head.itertext()).strip() for head in heads)
        for row in next(iter(table.iter(f"{SPACE}tbody"))).findall(f"{SPACE}tr"):
            assert [cell.tag for cell in row] == [f"{SPACE}th", *[f"{SPACE}td"] * (len(heads) - 1)]
            assert row[0].get("scope") == "row"


@pytest.mark.parametrize(
    "call", [FITTING[1], *(pytest.param(call, marks=pytest.mark.long) for call in (FITTING[0], *FITTING[2:]))], ids=str
)
def test_cautions_are_on_every_page(call: tuple[str, str]) -> None:
    """Battery off first, main fuse at the battery, no lighting or brake circuit defeated, local codes."""
    for name in PAGES:
        text = " ".join("".join(parsed(sheets(*call)[name]).itertext()).split())
        for caution in ("Battery off first", "Main fuse at the battery", "Never defeat a lighting", "local codes"):
            assert caution in text, name


def test_names_from_a_file_stay_words() -> None:
    """A load called like markup is shown as it is written, on every page."""
    text = (EXAMPLES / "bare-single.yaml").read_text("utf-8")
    quoted = '"' + ODD.replace('"', '\\"') + '"'
    odd = re.sub(r"(?<=\{)part: horn(?=,)", lambda _: f"name: {quoted}, part: horn", text)
    assert odd != text
    files = sheets_of(odd, (PROFILES / "six-way.yaml").read_text("utf-8"))
    for name in PAGES:
        root = parsed(files[name])
        assert not list(root.iter(f"{SPACE}script"))
        assert ODD in "".join(root.itertext()), name


@given(st.one_of(st.sampled_from(HOSTILE), st.text()))
def test_any_words_are_escaped(words: str) -> None:
    """Whatever a name is, a parser reads it back; letters that HTML may not hold are shown by their numbers."""
    made = f"<!doctype html><title>t</title>{tag('p', words, title=words).markup}"
    (found,) = elements(made, "p")
    for read in ("".join(found.itertext()), found.get("title")):
        assert read == shown(words)
        assert all(x in "\t\n" or category(x) not in {"Cc", "Cs"} for x in read)


@given(st.text(), st.text())
def test_other_words_have_other_names(one: str, other: str) -> None:
    """What ids are made of tells any two titles apart, and holds nothing that a style rule stumbles over."""
    assert (name_of(one) == name_of(other)) == (one == other)
    assert re.fullmatch(r"[A-Za-z0-9_-]+", name_of(one))


def _luminance(colour: str) -> float:
    """Source: WCAG 2.2, definition of relative luminance."""
    parts = [int(colour[at : at + 2], 16) / 255 for at in (1, 3, 5)]
    red, green, blue = (part / 12.92 if part <= 0.04045 else ((part + 0.055) / 1.055) ** 2.4 for part in parts)
    return 0.2126 * red + 0.7152 * green + 0.0722 * blue


@pytest.mark.parametrize("colours", [LIGHT, DARK], ids=["light", "dark"])
@pytest.mark.parametrize("text", ["text", "quiet", "warn"])
@pytest.mark.parametrize("ground", ["ground", "raised", "lit"])
def test_text_can_be_read_on_its_ground(colours: dict[str, str], text: str, ground: str) -> None:
    """A contrast of 4.5 to 1 at least, in both schemes, lit up or not."""
    light, dark = sorted((_luminance(colours[text]), _luminance(colours[ground])), reverse=True)
    assert (light + 0.05) / (dark + 0.05) >= 4.5

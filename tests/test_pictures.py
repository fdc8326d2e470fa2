"""Pictures: well-formed, nothing on top of each other, all there once; the bikes are made up.

Sources: W3C, XML 1.0 (what is well-formed, by Python's ElementTree) and SVG 2 (viewBox, title, desc); WAI-ARIA 1.2
(role img); ISO 216 (an A4 page is 210 mm by 297 mm).
"""

import subprocess
import sys
from collections import Counter
from collections.abc import Iterator
from dataclasses import replace
from hashlib import sha256
from itertools import chain
from xml.etree import ElementTree as ET

import pytest
from hypothesis import assume, given, settings
from hypothesis import strategies as st

from hostile_bikes import hostile_bike
from hostile_words import TAKEN
from laid_bikes import solved
from oracle.random_bikes import FAMILIES, random_case
from outcomes import EXAMPLES, PROFILES, ROOT
from picture_measures import outside, overlapping, seen, struck
from pictured import EXAMPLE_PLANS, pictured_example, pictures, solved_example
from portloom.base.bike import Colour
from portloom.documents.draw_up import draw_up
from portloom.documents.wiring.pieces import wiring_of
from portloom.explaining.solved import Solved
from portloom.inputs.files import read_unit
from portloom.inputs.problems import BadFile
from portloom.job.job import Job
from portloom.report.svg.circuit import charging, circuit_pictures
from portloom.report.svg.paging import svg_text
from portloom.report.svg.svg import shown
from slices import FEW, first_of, of_trials
from unasked import bike_from_text

EACH_EXAMPLE = first_of(("bike", "unit"), sorted(EXAMPLE_PLANS), 1)
SOME = settings(max_examples=8, deadline=None, derandomize=True, database=None)
WORDS = tuple(dict.fromkeys(word.strip() for word in TAKEN if word.strip()))
A4 = (210 - 20, 297 - 20)
"""What margins of 10 mm leave of an A4 page, in millimetres."""


def check_pages(pages: dict[str, tuple[str, ...]]) -> None:
    """No text lies on another, on a line or beyond the paper, and each page fits A4 at the width of the page."""
    for svg in chain.from_iterable(pages.values()):
        page = seen(svg)
        assert not overlapping(page)
        assert not outside(page)
        assert not struck(page)
        assert page.size.bottom / page.size.right <= A4[1] / A4[0]


def roots(pages: dict[str, tuple[str, ...]], picture: str) -> Iterator[ET.Element]:
    """Return the pages of a picture as trees."""
    return map(ET.fromstring, pages[picture])


def known_as(pages: dict[str, tuple[str, ...]], picture: str, name: str, class_: str) -> Counter[str]:
    """Return how often each value of an attribute comes in a picture, on elements of a class."""
    parts = chain.from_iterable(root.iter() for root in roots(pages, picture))
    return Counter(part.get(name, "") for part in parts if name in part.attrib and class_ in part.get("class", ""))


@EACH_EXAMPLE
def test_nothing_lies_on_anything_in_the_examples(bike: str, unit: str) -> None:
    check_pages(pictured_example(bike, unit))


@of_trials(2, 8)
def test_random_bikes(count: int) -> None:
    """Nothing lies on anything, and the circuit diagram has each wire once."""
    some = settings(SOME, max_examples=count)
    some(given(seed=st.sampled_from(FEW), family=st.sampled_from(FAMILIES))(draw_a_bike))()


def draw_a_bike(seed: int, family: str) -> None:
    """Draw the pictures of a random bike."""
    try:
        found = solved(*random_case(seed, family))
    except BadFile:
        found = None
    assume(found is not None)
    assert found is not None
    pages = pictures(found)
    check_pages(pages)
    wires = Counter(wire.key for wire in wiring_of(found.laid).ours)
    assert known_as(pages, "circuit", "data-wire", "wire") == wires


@pytest.mark.parametrize("first", range(0, len(WORDS), 8))
def test_any_names_are_shown_whole_and_harm_nothing(first: int) -> None:
    """Quotes, brackets, emoji and 200 letters stay text: no element, no attribute, no overlap."""
    names = (WORDS * 2)[first : first + 16]
    found = solved(*hostile_bike(names))
    assert found is not None
    pages = pictures(found)
    check_pages(pages)
    for load in found.laid.site.job.bike.loads:
        assert known_as(pages, "circuit", "data-load", "thing")[shown(load.name)] == 1


@EACH_EXAMPLE
def test_every_load_and_switch_has_one_sign(bike: str, unit: str) -> None:
    """In the circuit; over the frame a sender that two read from two points stands at both."""
    pages, file = pictured_example(bike, unit), solved_example(bike, unit).laid.site.job.bike
    for kind, things in (("load", file.loads), ("switch", file.inputs)):
        assert known_as(pages, "circuit", f"data-{kind}", "thing") == Counter(thing.name for thing in things)
    assert known_as(pages, "loom", "data-load", "note") == Counter(load.name for load in file.loads)
    points = Counter({switch.name: len(switch.at) for switch in file.inputs})
    assert known_as(pages, "loom", "data-switch", "note") == points


@EACH_EXAMPLE
def test_the_letters_of_the_longest_colour_find_room(bike: str, unit: str) -> None:
    """Source: IEC 60757 (green-and-yellow GNYE, white WH), from memory."""
    found = solved_example(bike, unit)
    wires = (replace(wire, colour=Colour(base="GNYE", stripe="WH")) for wire in wiring_of(found.laid).wires)
    coloured = replace(wiring_of(found.laid), wires=tuple(wires))
    pages = circuit_pictures(found.laid, draw_up(found.laid, found.assignment), coloured, "circuit")
    texts = tuple(map(svg_text, pages))
    check_pages({"circuit": texts})
    assert any(text.words == "GNYE/WH" for svg in texts for text in seen(svg).texts)


def earthed(pages: dict[str, tuple[str, ...]]) -> dict[str, bool]:
    """Return for each load and switch of the circuit diagram whether the sign of earth stands at its end."""
    parts = [part for root in roots(pages, "circuit") for part in root.iter() if part.get("class") == "thing"]
    names = [part.get("data-load") or part.get("data-switch") for part in parts]
    signs = [any(inner.get("class") == "sign earth" for inner in part.iter()) for part in parts]
    return {name: sign for name, sign in zip(names, signs, strict=True) if name}


@first_of(("bike", "unit"), [*EXAMPLE_PLANS, ("market-parallel", "fourteen-way")], 2)
def test_earth_is_drawn_where_a_wire_leads_to_earth(bike: str, unit: str) -> None:
    """And at loads that the frame leads back; never at a splice, nor at a switch that puts supply on its wire."""
    laid = solved_example(bike, unit).laid
    backs = [wire for wire in wiring_of(laid).wires if wire.kind in {"return", "sender return"}]
    wired = {wire.start.name for wire in backs if wire.end.kind == "earth" and wire.start.kind != "splice"}
    framed = {load.name for load in laid.site.job.bike.loads if load.return_ == "frame"}
    drawn = earthed(pictured_example(bike, unit))
    assert {name for name, sign in drawn.items() if sign} == drawn.keys() & (wired | framed)


@EACH_EXAMPLE
def test_every_wire_is_drawn_once(bike: str, unit: str) -> None:
    """In the circuit diagram each wire of the list; over the frame each that has a way."""
    pages, wiring = pictured_example(bike, unit), wiring_of(solved_example(bike, unit).laid)
    assert known_as(pages, "circuit", "data-wire", "wire") == Counter(wire.key for wire in wiring.ours)
    laid = Counter(wire.key for wire in wiring.wires if wire.leg_numbers)
    assert known_as(pages, "loom", "data-wire", "wire") == laid


def said(part: ET.Element, step: int = 1) -> str:
    """Return all words in a part of a picture; words above a wire are drawn from the lowest line up (step -1)."""
    lines = [(one.text or "").replace("\N{NO-BREAK SPACE}", " ") for one in part.iter() if one.tag.endswith("text")]
    return " ".join(lines[::step])


@EACH_EXAMPLE
def test_every_own_switch_is_told_with_its_place(bike: str, unit: str) -> None:
    """Over the frame at its point; in the circuit with its load, that of a relay's coil in a row of its own."""
    pages, file = pictured_example(bike, unit), solved_example(bike, unit).laid.site.job.bike
    own = [load for load in file.loads if load.own_switch is not None]
    framed = [part for root in roots(pages, "loom") for part in root.iter() if part.get("class") == "notes"]
    there = [(part.get("data-point"), said(part)) for part in framed]
    things = [part for root in roots(pages, "circuit") for part in root.iter() if part.get("class") == "thing"]
    for load in own:
        assert any(at == load.own_switch and f"own switch of {load.name}" in words for at, words in there)
        rows = [said(part, -1) for part in things if (part.get("data-load") == load.name) == (load.fed != "relay")]
        told = f"own switch {'of ' + load.name + ',' if load.fed == 'relay' else 'at'} {load.own_switch}"
        assert sum(told in row for row in rows) == 1
    assert sum(words.count("own switch") for _, words in there) == len(own)


def test_a_switch_at_two_places_has_both_its_returns() -> None:
    """One that earths its wire at the pedal and at the tail has a sign at each, and is known by the first."""
    text = (EXAMPLES / "bare-single.yaml").read_text("utf-8")
    text = text.replace(
        "{part: rear brake switch, at: brake pedal", "{part: rear brake switch, at: [brake pedal, tail]"
    )
    found = solved(text, (PROFILES / "six-way.yaml").read_text("utf-8"))
    assert found is not None
    pages = pictures(found)
    check_pages(pages)
    assert known_as(pages, "circuit", "data-switch", "thing")["rear brake switch"] == 1
    assert {"return brake pedal.1", "return tail.2"} <= known_as(pages, "circuit", "data-wire", "wire").keys()


def test_the_regulators_lead_has_the_fuse_of_the_parts_list() -> None:
    """280 W at 14 V is 20 A, times 1.25 is 25 A; none where the lead joins the unit's side, whatever the file says."""
    text, unit = (ROOT / "examples/harbour-trail.yaml").read_text("utf-8"), read_unit(PROFILES / "eleven-way.yaml")

    def fuse(bike: str) -> str:
        (found,) = charging(Job(bike_from_text(bike, "bike"), unit))
        return found.fuse

    assert fuse(text) == "fuse\xa030\xa0A"
    assert fuse(text.replace(", fuse: 30 A", "")) == "fuse\xa025\xa0A"
    assert fuse(text.replace(", fuse: 30 A", ", joins: unit, fuse: 30 A")) == ""


@EACH_EXAMPLE
def test_every_leg_is_drawn_once_with_its_length_and_its_loom(bike: str, unit: str) -> None:
    pages, job = pictured_example(bike, unit), solved_example(bike, unit).laid.site.job
    assert known_as(pages, "loom", "data-leg", "leg") == Counter(leg.label for leg in job.network.legs)
    texts = [text.words.replace("\xa0", " ") for svg in pages["loom"] for text in seen(svg).texts]
    for leg in job.network.legs:
        assert any(f"{leg.length // 1000} mm" in text for text in texts)


def test_pictures_say_what_they_are_and_share_no_id() -> None:
    """So that several can stand in one page and are told to those who do not see them."""
    pages = pictured_example("harbour-trail", "eleven-way")
    ids = []
    for picture, some in pages.items():
        for root in map(ET.fromstring, some):
            assert root.get("role") == "img"
            title, desc = (next(part for part in root if part.tag.endswith(tag)) for tag in ("title", "desc"))
            assert title.text
            assert desc.text
            assert root.get("aria-labelledby") == f"{title.get('id')} {desc.get('id')}"
            ids += [part.get("id", "") for part in root.iter() if "id" in part.attrib]
            assert all(name.startswith(picture) for name in ids[-3:])
    assert len(ids) == len(set(ids))


def test_pictures_use_no_colour() -> None:
    """What is told apart by a colour is lost in a grey print: only greys are drawn."""
    for svg in chain.from_iterable(pictured_example("harbour-trail", "eleven-way").values()):
        for part in ET.fromstring(svg).iter():
            for name in ("fill", "stroke"):
                colour = part.get(name, "none")
                assert colour == "none" or len(set(colour.removeprefix("#"))) == 1


def digest(found: Solved) -> str:
    """Return a fingerprint of all pictures of a plan."""
    return sha256("".join(chain.from_iterable(pictures(found).values())).encode()).hexdigest()


def test_pictures_are_the_same_under_any_hash_seed() -> None:
    """Python's order of sets hangs on PYTHONHASHSEED, here any and there 1; the bytes of a picture do not."""
    call = "from pictured import solved_example; from test_pictures import digest; "
    call += "print(digest(solved_example('bare-single', 'six-way')))"
    paths = f"{ROOT}/tests:{ROOT}"
    made = subprocess.run(
        [sys.executable, "-c", call],
        env={"PYTHONHASHSEED": "1", "PYTHONPATH": paths},
        capture_output=True,
        encoding="utf-8",
        check=True,
    )
    assert made.stdout.strip() == digest(solved_example("bare-single", "six-way"))

"""Reading: words stay words, positions are kept, and nothing but BadFile comes out of a bad text."""

import re
from pathlib import Path

import pytest
import yaml
from hypothesis import given, settings
from hypothesis import strategies as st

from portloom.base.sizes import gauge
from portloom.inputs import parsing
from portloom.inputs.files import bike_and_source, bike_from_text, read_bike, read_unit, unit_and_source, unit_from_text
from portloom.inputs.parsing import parse
from portloom.inputs.problems import BadFile
from portloom.inputs.tree import Keyed, Word

ROOT = Path(__file__).parent.parent
BIKES = sorted((ROOT / "examples").glob("*.yaml"))
UNITS = sorted((ROOT / "profiles").glob("*.yaml"))
BIKE = """\
bike: %s
ignition: own
supply: {running: 14.0 V, battery: {capacity: 10 Ah, at: seat tray}}
frame:
  legs:
    - {between: [headstock, seat tray], length: 620 mm}
  earth: seat tray
places: [{name: under seat, front: seat tray}]
loads:
  - {name: dash, at: headstock, current: 400 mA}
  - {name: lamp, at: headstock, lamp: W5W, when: day}
"""
UNIT = """\
unit: two-way
feed: {limit: 36 A}
outputs:
  - {name: out 1, limit: 10 A}
  - {names: [out 2, out 3], limit: 5 A, trip: 5 A}
inputs:
  - {names: [in 1, in 2], accepts: earth}
"""


@pytest.fixture(params=["quick", "plain"])
def parser(request: pytest.FixtureRequest, monkeypatch: pytest.MonkeyPatch) -> str:
    """Read with PyYAML's quick parser, then with the one that every PyYAML has."""
    loader = yaml.CBaseLoader if request.param == "quick" else yaml.BaseLoader
    monkeypatch.setattr(parsing, "LOADER", loader)
    return str(request.param)


@pytest.mark.parametrize("path", BIKES, ids=lambda path: path.stem)
def test_examples_are_read(path: Path) -> None:
    """Every example bike is taken."""
    assert read_bike(path).loads


@pytest.mark.parametrize("path", UNITS, ids=lambda path: path.stem)
def test_profiles_are_read(path: Path) -> None:
    """Every bundled unit is taken."""
    assert read_unit(path).outputs


@pytest.mark.usefixtures("parser")
@pytest.mark.parametrize("said", ["on", "off", "yes", "no", "010", "12:30", "1e3", "0x1F", ".inf", "true", "2024-1-1"])
def test_words_stay_words(said: str) -> None:
    """No word is taken for a boolean, a number or a date (YAML 1.2.2, chapter 10.3, asks no less of on to 12:30)."""
    assert bike_from_text(BIKE % said, "b").bike == said


@pytest.mark.parametrize("said", ["", "~", "null", "Null", "NULL"])
def test_empty_values(said: str) -> None:
    """The nulls of YAML 1.2.2, chapter 10.3.2, are no value."""
    with pytest.raises(BadFile, match="'bike' has no value"):
        bike_from_text(BIKE % said, "b")


def test_quoted_null_is_a_word() -> None:
    """In quotes a null is a word like any other."""
    assert bike_from_text(BIKE % "'null'", "b").bike == "null"


@pytest.mark.usefixtures("parser")
def test_two_parsers_agree_on_places() -> None:
    """Both parsers put each thing where it stands."""
    source = bike_and_source(BIKE % "single", "b").source
    lines = (BIKE % "single").splitlines()
    line, column = source.at(("loads", 0, "current"))
    assert lines[line - 1][column - 1 :].startswith("400 mA")
    assert source.at(("frame", "earth", 0)) == (7, 10)
    assert source.at(("loads", 1, "when", 0)) == (11, lines[10].index("day}") + 1)


def test_source_of_what_is_not_said() -> None:
    """What the file does not say is a default; it stands where the nearest thing round it does."""
    source = bike_and_source(BIKE % "single", "b").source
    assert not source.says(("loads", 0, "mode"))
    assert source.at(("loads", 0, "mode")) == source.at(("loads", 0))
    assert source.where(("loads", 0, "mode")) == "default"
    assert source.where(("loads", 0, "current")) == "b:10"


def test_several_names_become_one_each() -> None:
    """Outputs and inputs written at once come out one by one, in order, at their names' places."""
    unit, source = unit_and_source(UNIT, "u")
    assert [output.name for output in unit.outputs] == ["out 1", "out 2", "out 3"]
    assert [int(output.limit) for output in unit.outputs] == [10_000, 5_000, 5_000]
    assert [port.name for port in unit.inputs] == ["in 1", "in 2"]
    assert source.at(("outputs", 2, "name")) == (5, 21)
    assert source.at(("outputs", 2, "limit")) == source.at(("outputs", 1, "limit"))


@pytest.mark.parametrize("said", ["true", "True", "TRUE"])
def test_true(said: str) -> None:
    """True is written in any of the three ways of YAML 1.2.2, chapter 10.3.2."""
    text = (BIKE % "b").replace("current: 400 mA", f"current: 400 mA, dims: {said}")
    assert bike_from_text(text, "b").loads[0].dims is True


def test_reels_as_words_and_mappings() -> None:
    """A reel is a size, or a size with colours."""
    reels = bike_from_text(BIKE % "b" + "reels: [16 AWG, {size: 1 mm², colours: [BK, RD]}]\n", "b").reels
    assert reels is not None
    assert [reel.size.label for reel in reels] == ["16 AWG", "1 mm2"]
    assert reels[0].size == gauge(16)


def test_twelve_may_share() -> None:
    """A group of twelve different loads is taken, and so are any number that are alike."""
    alike = [f"  - {{name: like {i}, at: headstock, current: 1.0 A, share: all}}" for i in range(20)]
    different = [f"  - {{name: load {i}, at: headstock, current: {i} A, share: all}}" for i in range(1, 13)]
    assert len(bike_from_text(BIKE % "b" + "\n".join([*alike, *different]), "b").loads) == 34


def test_byte_order_mark(tmp_path: Path) -> None:
    """A byte order mark, which some editors write, is no mistake."""
    path = tmp_path / "bike.yaml"
    path.write_bytes(b"\xef\xbb\xbf" + (BIKE % "b").encode())
    assert read_bike(path).bike == "b"


def test_byte_order_mark_in_text() -> None:
    """A byte order mark that came along with a text is no mistake either."""
    assert bike_from_text("\ufeff" + BIKE % "b", "b").bike == "b"


@pytest.mark.parametrize(
    ("right", "wrong"),
    [
        ("ignition: own", "igniton: own"),
        ("name: dash", "nmae: dash"),
        ("current: 400 mA", "curent: 400 mA"),
        ("events:", "evnts:"),
        ("loads:", "lods:"),
        ("inputs:", "input:"),
        ("length: 620 mm", "lenght: 620 mm"),
        ("between: [headstock", "betwen: [headstock"),
        ("operates: dash", "operate: dash"),
        ("lamp: W16W", "lmap: W16W"),
        ("diameter: 6 mm", "diametre: 6 mm"),
    ],
)
def test_one_slip_is_told_once(right: str, wrong: str) -> None:
    """One key misspelt is one mistake: what hangs on it is not told as well."""
    text = BIKE % "b" + (
        "  - {name: reversing lamp, at: headstock, lamp: W16W, when: reversing}\n"
        "inputs:\n  - {name: button, at: headstock, signal: earth, operates: dash}\n"
        "alongside: [{name: hose, from: headstock, to: seat tray, diameter: 6 mm}]\n"
        "events: {reversing: {in: [day]}}\n"
    )
    assert bike_from_text(text, "b").events
    with pytest.raises(BadFile) as refused:
        bike_from_text(text.replace(right, wrong), "b")
    assert [problem.what for problem in refused.value.problems] == [f"unknown key '{wrong.partition(':')[0]}'"]


def test_all_mistakes_at_once() -> None:
    """The mistakes of a file are told together, in the order of its lines, fields and checks alike."""
    text = (BIKE % "b").replace("620 mm", "620").replace("at: headstock", "at: hedstock").replace("W5W", "W55W")
    with pytest.raises(BadFile) as refused:
        bike_from_text(text, "b")
    places = [(problem.line, problem.column) for problem in refused.value.problems]
    assert places == sorted(places)
    assert [line for line, _ in places] == [6, 10, 11, 11]


@given(st.text(max_size=300))
@settings(max_examples=300, deadline=None)
def test_garbage_is_refused_and_never_crashes(text: str) -> None:
    """Whatever stands in a file, only BadFile comes of it, with at least one place and both halves of a message."""
    for read in (bike_from_text, unit_from_text):
        with pytest.raises(BadFile) as refused:
            read(text, "f")
        _are_whole(refused.value)


@given(st.data())
@settings(max_examples=300, deadline=None)
def test_a_damaged_bike_never_crashes(data: st.DataObject) -> None:
    """A bike with a piece cut out or put in is read or refused, and no parser's own words come through."""
    text = BIKE % "single" + "events: {reversing: {in: [day]}}\nreels: [1 mm2]\n"
    start = data.draw(st.integers(0, len(text)))
    end = data.draw(st.integers(start, min(len(text), start + 20)))
    piece = data.draw(st.text("{}[]:,-'\"&*!|>#%@\t\n ~0a", max_size=6))
    try:
        bike_from_text(text[:start] + piece + text[end:], "f")
    except BadFile as refused:
        _are_whole(refused)


def _are_whole(refused: BadFile) -> None:
    assert refused.problems
    for problem in refused.problems:
        assert problem.line >= 1
        assert problem.column >= 1
        assert problem.what
        assert problem.right
        assert not re.search("[Ii]nput should|while (parsing|scanning)|found character", str(problem))


@given(st.text("abcxyz0189.:+- onfyesNO", min_size=1, max_size=12))
@settings(deadline=None)
def test_any_word_in_quotes_comes_back(said: str) -> None:
    """A quoted word comes back as it was written, but for spaces round it."""
    value = parse(f'word: "{said}"', "f", "bike").root.values["word"]
    assert isinstance(value, Word)
    assert value.text == said.strip()


def test_root_is_a_mapping_with_places() -> None:
    """Each key knows its own place."""
    root = parse("a: 1\nb:\n  c: 2\n", "f", "bike").root
    inner = root.values["b"]
    assert isinstance(inner, Keyed)
    assert (inner.keys["c"].line, inner.keys["c"].column) == (3, 3)

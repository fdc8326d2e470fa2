"""The questions of ``portloom new``, drawn at random: each fits a screen, and all answers make a file that is taken.

What may be taken silently, and what never, is from the trade: common practice, no source.
"""

from contextlib import suppress
from itertools import product
from pathlib import Path

import pytest
import yaml
from hypothesis import HealthCheck, Phase, given, settings
from hypothesis import strategies as st

from portloom.base.parts.loads import LOAD_PART
from portloom.base.parts.switches import SWITCH_PART
from portloom.cli.asked_on_screen import shown_on_screen
from portloom.comparing.cheapest import NoneTakes, cheapest_that_takes
from portloom.inputs.files import bike_from_text, bundled_units, read_unit, unit_from_text
from portloom.inputs.starting.added import Added
from portloom.inputs.starting.answers import Answers
from portloom.inputs.starting.bike.file import OF_BIKE, bike_file
from portloom.inputs.starting.frames import FRAMES
from portloom.inputs.starting.kept import answers_text, read_answers
from portloom.inputs.starting.kinds import Amount, NotRight, OneOf, Or, SomeOf, Table
from portloom.inputs.starting.ports import Groups
from portloom.inputs.starting.question import Questions
from portloom.inputs.starting.unit.file import OF_UNIT, unit_file
from portloom.inputs.starting.walk import Asked, Walk, answered
from slices import first_of

COLUMNS, ROWS = (80, 120), 24
PROMPT_AND_SLIP = 3
"""Rows below a question: a slip of two lines, and the prompt."""
FIGURES = ("", "3 W led", "H4", "P21/5W", "40 mm", "1.2 m", "2 A", "9 A", "30 W", "110 W", "20 A", "front indicators")
OF_PORTS = (
    "15 A", "8 A", "steady", "steady, hold, flash", "engine-run, start", "yes", "no", "90 A for 100 ms", "2 A, 5 A",
    "timed", "always", "A, 22 A", "B, 30 A", "none", "rear", "2.5 mm2", "30 V, 1 kHz", "in 2", "earth, pulse", "earth",
)  # fmt: skip
PORTS = ("all", "out 1", "out 1 to out 3", "out 2, out 4", "in 1 to in 6", "in 7", "feed", "out 1-8")
OF_GROUPS = tuple(f"{ports}: {said}" for ports, said in product(PORTS, OF_PORTS))
ADDED = {
    "points": (
        "fork lamp: 20 cm from headlamp shell, moves", "top box: 300 mm from tail", "nut: 10 cm from top box",
        "left footpeg plate: 1.2 m from seat tray", "top box: none", "x: 1 m from nowhere", "tail: 1 m from tank",
    ),
    "later": (
        "heated seat: 40 W", "none", "cool box: 60 W motor", "cool box: 60 W", "front fog lamp: H3", "horn 2: 2 A",
        "second spot lamp: 9 W led", "tracker: 20 mA", "heated grips: none", "quickshifter: 0.1 A", "fuel pump: 5 A",
    ),
    "alongside": (
        "stator: engine to seat tray, 3 x 2.5 mm2, 18 A", "hose: from tank to engine, 12 mm", "x: tank to moon, 1 mm",
        "clutch cable: left handlebar to engine, 2 x 6 mm", "sender: tank to headlamp shell, 20 AWG, 0.1 A",
        "hose: tank to engine, 12 mm, 3 A", "hose: none", "odd: tank to engine, 1.7 mm2",
    ),
}  # fmt: skip
"""What may be typed where rows are added; it is not always right."""
NAMES = ("Harbour", "a: b", "x # y", "'q'", "- z", "yes", "[1]", "{", "010", "ü ß")


def _typed(data: st.DataObject, one: Asked) -> str:
    """Return what may be typed to a question; it is not always right."""
    match one.kind:
        case OneOf(choices):
            return data.draw(st.sampled_from([choice.word for choice in choices]))
        case SomeOf(choices=choices):
            words = [choice.word for choice in choices]
            return ", ".join(data.draw(st.lists(st.sampled_from(words), unique=True))) or "none"
        case Table(cells=cells, words=words):
            row = data.draw(st.sampled_from(sorted(cells)))
            return f"{row}: {data.draw(st.sampled_from(words or FIGURES))}"
        case Added() | Groups():
            return data.draw(st.sampled_from(ADDED.get(one.question.key, OF_GROUPS)))
        case Amount(least=least, most=most) | Or(Amount(least=least, most=most)):
            return data.draw(st.sampled_from([least, most]))
        case _:
            return data.draw(st.sampled_from(NAMES)) if one.question.key == "name" else ""


TYPED = 4
"""Lines that are typed to a question at most, before what is plainly right is."""
PLAINLY_RIGHT = {"outputs": "out 1 to out 6: 10 A", "inputs": "row 1 to row 9: earth", "modes": "all: steady, hold"}


def _say(walk: Walk, line: str) -> None:
    with suppress(NotRight):
        walk.say(line)


def _answer(data: st.DataObject, walk: Walk, one: Asked) -> None:
    """Answer one question: by some lines that are typed, then by what is plainly right."""
    key = one.question.key
    for _ in range(data.draw(st.integers(0, TYPED))):
        if walk.now is None or walk.now.question.key != key:
            return
        _say(walk, _typed(data, walk.now))
    for line in (PLAINLY_RIGHT.get(key, ""), "", "1", "none", "20 A", "1"):
        if walk.now is None or walk.now.question.key != key:
            return
        _say(walk, line)


def _all_answered(data: st.DataObject, table: Questions) -> Answers:
    walk = Walk(table, {})
    while (now := walk.now) is not None:
        for columns in COLUMNS:
            lines = shown_on_screen(now, walk.of, columns)
            assert max(map(len, lines)) < columns, lines
            assert len(lines) + PROMPT_AND_SLIP <= ROWS, lines
        _answer(data, walk, now)
        assert walk.now is None or walk.now.number != now.number or walk.now.question is not now.question, now
    return walk.answers


drawn = settings(
    max_examples=12, deadline=None, suppress_health_check=list(HealthCheck), phases=(Phase.explicit, Phase.generate)
)
"""What fails is told as it was drawn: to make it smaller takes minutes."""


@drawn
@given(st.data())
def test_all_answers_make_a_bike_that_is_taken(tmp_path_factory: pytest.TempPathFactory, data: st.DataObject) -> None:
    """The reader takes the file, and asks nothing more; kept answers, read back, make the same file."""
    answers = _all_answered(data, OF_BIKE)
    text = bike_file(answers)
    bike_from_text(text, "drawn.yaml")
    assert bike_file(_read_back(tmp_path_factory, "bike", OF_BIKE, answers)) == text


@drawn
@given(st.data())
def test_all_answers_make_a_unit_that_is_taken(tmp_path_factory: pytest.TempPathFactory, data: st.DataObject) -> None:
    """The reader takes the file; kept answers, read back, make the same file."""
    answers = _all_answered(data, OF_UNIT)
    text = unit_file(answers)
    unit_from_text(text, "drawn.yaml")
    assert unit_file(_read_back(tmp_path_factory, "unit", OF_UNIT, answers)) == text


def _read_back(folder: pytest.TempPathFactory, what: str, table: Questions, answers: Answers) -> Answers:
    file = folder.mktemp("kept") / "some.answers"
    file.write_text(answers_text(what, table, answers), "utf-8")
    kept = answered(table, read_answers(file, what, table), usual=False)
    assert kept.open == ()
    return kept.answers


@drawn
@given(st.data())
def test_going_back_changes_nothing(data: st.DataObject) -> None:
    """Whoever goes back some questions and takes each with Enter has the answers that were there before."""
    walk = Walk(OF_BIKE, {})
    while (now := walk.now) is not None:
        _answer(data, walk, now)
    before = dict(walk.answers)
    for _ in range(data.draw(st.integers(1, 40))):
        walk.back()
    while walk.now is not None:
        walk.say("")
    assert walk.answers == before


MUST_BE_SAID = {
    # When the contacts of engine stop, stand and clutch are made, and what holds the starter back.
    "engine stop", "stand", "clutch", "neutral",
    # What makes the spark, who runs the pump, what tells that the engine turns, how hard a solenoid pulls.
    "spark", "pump by", "engine speed", "pull in",
    # Who works what somebody must work.
    "beam switches", "indicators by", "brakes", "extra lamps by", "starter", "horn by", "fan by", "heat by",
    # Which frame it is: no motorcycle is usual.
    "frame",
}  # fmt: skip
OF_A_SHEET = {"feed limit", "outputs", "modes", "inputs"}
"""What a unit's sheet alone says, and no plan is made without."""


def test_what_is_never_taken_silently() -> None:
    """Where a wrong guess could hurt, or nobody would work a load, the builder says it."""
    assert {question.key for question in OF_BIKE if question.asked} == MUST_BE_SAID
    assert {question.key for question in OF_UNIT if question.asked} == OF_A_SHEET


NO_DEFAULT = ("engine stop", "stand", "clutch", "spark", "pump by", "engine speed", "pull in", "frame")


@pytest.mark.parametrize("key", NO_DEFAULT)
def test_what_enter_does_not_answer(key: str) -> None:
    """Where a guess could hurt, Enter takes nothing either."""
    question = next(question for question in OF_BIKE if question.key == key)
    assert question.usual({}) is None


WHOLE: dict[str, str] = {
    "spark": "coil and controller", "pump by": "unit", "engine speed": "tacho", "starter": "button",
    "engine stop": "run", "stand": "up", "clutch": "pulled", "neutral": "neutral", "fan by": "temperature switch",
    "heat by": "switch", "horn by": "button", "beam switches": "dip switch, flash button", "brakes": "both",
    "indicators by": "two buttons",
}  # fmt: skip


@first_of(("frame", "spark"), [*product(FRAMES, ("coil and points", "coil and controller"))], 3)
def test_what_is_usual_plans_at_once(frame: str, spark: str) -> None:
    """On each frame, with an engine old and new: some bundled unit takes it."""
    found = answered(OF_BIKE, {**WHOLE, "frame": frame, "spark": spark}, usual=True)
    assert found.open == ()
    bike = bike_from_text(bike_file(found.answers), "usual.yaml")
    assert not isinstance(cheapest_that_takes(bike, [read_unit(file) for _, file in bundled_units()]), NoneTakes)


EVERYTHING = (
    {**WHOLE, "frame": "big tourer", "light switch": "yes", "hazard": "yes", "fall sensor": "unit",
     "extra lamps by": "switch",
     "dash shows": "oil pressure switch, fuel level sender, speed sensor, temperature switch"},
    {**WHOLE, "frame": "sidecar", "indicators by": "one switch", "pump by": "controller", "fan by": "fan request",
     "extra lamps by": "switch", "fuel": "tap"},
    {**WHOLE, "frame": "single", "spark": "coil and box", "fuel": "pump", "extra lamps by": "switch"},
    {**WHOLE, "frame": "single", "pump by": "controller", "extra lamps by": "own"},
)  # fmt: skip


def test_every_part_of_the_catalogue_can_be_said() -> None:
    """By some answers, each load and each switch of the catalogue stands in the file."""
    found: set[str] = set()
    for said in EVERYTHING:
        lists = {key: _all_words(key, said) for key in ("lamps", "extras")}
        text = bike_file(answered(OF_BIKE, {**said, **lists}, usual=True).answers)
        written = yaml.safe_load(text)
        found |= {entry["part"] for entry in (*written["loads"], *written["inputs"]) if "part" in entry}
    assert found == {*LOAD_PART, *SWITCH_PART}


def _all_words(key: str, said: Answers) -> str:
    kind = next(question for question in OF_BIKE if question.key == key).kind(said)
    assert isinstance(kind, SomeOf)
    return ", ".join(choice.word for choice in kind.choices)


def _one_file(folder: Path, text: str) -> Path:
    file = folder / "some.answers"
    file.write_text(text, "utf-8")
    return file


def test_questions_say_what_they_ask() -> None:
    """Each has a question mark, a key of its own, and a screen that says how to answer."""
    for table in (OF_BIKE, OF_UNIT):
        assert [question.key for question in table if "?" not in question.asks] == []
        assert len({question.key for question in table}) == len(table)


def test_rows_may_be_parted_by_commas_where_each_is_named() -> None:
    """As people type them; a comma within a figure is told as before."""
    lengths = next(question for question in OF_BIKE if question.key == "lengths").kind({"frame": "single"})
    by_commas = lengths.read("headstock - tank: 400 mm, seat tray - tail: 510 mm", "")
    assert by_commas == lengths.read("headstock - tank: 400 mm; seat tray - tail: 510 mm", "")
    with pytest.raises(NotRight, match="decimal comma"):
        lengths.read("headstock - tank: 400,5 mm", "")


SLIPS: tuple[tuple[Questions, str, str, str], ...] = (
    (OF_BIKE, "battery", "10", "'10' has no unit; write a capacity in Ah or mAh, such as 10 Ah"),
    (OF_BIKE, "battery", "10,5 Ah", "decimal comma in '10,5 Ah'; write 10.5 Ah"),
    (OF_BIKE, "battery", "600 Ah", "600 Ah is out of range; write 1 Ah to 80 Ah"),
    (OF_BIKE, "spark", "9", "there is no number 9 here; write 1 to 5, or the word"),
    (OF_BIKE, "lamps", "rear light", "'rear light' may be tail lamp or brake lamp; write which"),
    (OF_BIKE, "bulbs", "tail lamp: 5 W", "tail lamp: 5 W of what? write 5 W led, 5 W filament or 5 W dis"),
    (OF_BIKE, "bulbs", "tail lamp: P21/5W brake",
     "tail lamp: 'P21/5W brake' is the other filament; write 'P21/5W tail'"),
    (OF_BIKE, "bulbs", "indicators: 5 W", "there is no row 'indicators'; write 'front indicators: ...' and"),
    (OF_BIKE, "clutch", "pushed", "'pushed' is not one of these; write pulled, released, no switch or automatic"),
    (OF_BIKE, "extras", "alternator", "'alternator' is not asked for: it supplies current, through"),
    (OF_BIKE, "lamps", "tail lamp, indicator tell-tale",
     "'indicator tell-tale' has nothing to show without 'indicators'; add that, or leave it out"),
    (OF_BIKE, "name", " ", "a name is wanted here; write one in plain letters"),
    (OF_BIKE, "wire", "1.5", "'1.5' has no unit; write a wire size in mm2 or AWG, "),
    (OF_BIKE, "wire", "1 mm2, 1.7 mm2", "the wire catalogue has no 1.7 mm2; write 1.5 mm2 or 2 mm2"),
    (OF_BIKE, "points", "top box: 300 from tail", "top box: '300' has no unit; write a length in mm, cm or m"),
    (OF_BIKE, "points", "top box: 300 mm", "top box: '300 mm' does not say how far it is from which point; write"),
    (OF_BIKE, "points", "nut: 9 cm from tale", "nut: the frame has no point 'tale'; write 'tail'"),
    (OF_BIKE, "points", "Tail: 9 cm from tank", "there is 'tail' already; write another name"),
    (OF_BIKE, "points", "; ".join(f"p{number}: 9 cm from tank" for number in range(7)), "these are 7; name 6 here"),
    (OF_BIKE, "openings", "headstock - tank: 2 mm", "headstock - tank: 2 mm is out of range; write 5 mm to 200 mm"),
    (OF_BIKE, "later", "cool box: 60 W", "cool box: 60 W of what? write 60 W led, 60 W filament, 60 W heater or"),
    (OF_BIKE, "later", "tail lamp: 5 W led", "a tail lamp is no later load; it belongs to the bike as it is"),
    (OF_BIKE, "later", "ABS: 30 A", "'ABS' is not asked for: it keeps its maker's own fuses and wiring"),
    (OF_BIKE, "alongside", "hose: tank, 12 mm", "hose: say from where to where, and how thick; write it such as"),
    (OF_BIKE, "alongside", "hose: tank to engine, 12 mm, 3 A", "hose: a hose or a cable carries no current; leave"),
    (OF_BIKE, "supply switches", "neutral switch", "'neutral switch' is not one of these; "),
    (OF_UNIT, "outputs", "out 4 to out 1: 15 A",
     "'out 4 to out 1' does not count up; write the lower number first"),
    (OF_UNIT, "outputs", "out 1 to out 4",
     "'out 1 to out 4' does not say of which, and what; write it such as 'out 1 to out 4: 15 A'"),
    (OF_UNIT, "inputs", "out 2: earth", "'out 2' is another terminal's name; write another one"),
    (OF_UNIT, "outputs", "feed: 9 A", "'feed' is another terminal's name; write another one"),
    (OF_UNIT, "modes", "out 1: blink", "'blink' is not a word for this; "),
    (OF_UNIT, "modes", "out 9: hold", "there is no 'out 9'; write one of out 1 to out 4"),
    (OF_UNIT, "peaks", "all: 3 A", "the peak of out 1 to out 4 is less than the limit, 15 A; write the"),
    (OF_UNIT, "trips", "all: 20 A", "no trip of out 1 to out 4 is within the limit, 15 A; write one"),
    (OF_UNIT, "banks", "out 1: A, 9 A; out 2: A, 8 A", "bank A can't have 9 A and 8 A; write one limit, "),
)  # fmt: skip


@pytest.mark.parametrize(
    ("table", "key", "typed", "told"), SLIPS, ids=lambda part: part if isinstance(part, str) else ""
)
def test_what_is_told_of_a_slip(table: Questions, key: str, typed: str, told: str) -> None:
    """In one line: what is wrong, and what would be right."""
    question = next(question for question in table if question.key == key)
    kind = question.kind({"outputs": "out 1 to out 4: 15 A", "lamps": "tail lamp, dipped beam, indicators"})
    with pytest.raises(NotRight) as slip:
        kind.read(typed, "")
    assert str(slip.value).startswith(told)


@pytest.mark.parametrize("frame", FRAMES)
def test_examples_are_right(frame: str) -> None:
    """What a table shows by way of example is taken where it is typed."""
    said = answered(OF_BIKE, {**WHOLE, "frame": frame}, usual=True).answers
    for question in OF_BIKE:
        kind = question.kind(said)
        if isinstance(kind, Table | Added) and question.is_asked({**said, "more": question.key}):
            kind.read(kind.example, "")


def test_ports_are_named_as_sheets_name_them() -> None:
    """Ranges, dashes, lists; what is said later of a port stands, and 'none' takes an output away again."""
    kind = next(question for question in OF_UNIT if question.key == "outputs").kind({})
    kept = kind.read("out 1 to out 4: 15 A; out 5-6: 8 A; out 8, out 9: 8A", "")
    assert kept == "out 1 to out 4: 15 A; out 5, out 6, out 8, out 9: 8 A"
    assert kind.read("out 2: 10 A; out 9: none", kept) == (
        "out 1: 15 A; out 2: 10 A; out 3, out 4: 15 A; out 5, out 6, out 8: 8 A"
    )


def test_what_is_asked_only_where_it_is_named() -> None:
    """A bike that has nothing of it is asked one question more; each that is named is asked for, and written."""
    said = {**WHOLE, "frame": "single", "name": "Added Single"}
    more = {"points", "openings", "later", "supply switches", "alongside"}
    plain, named = (answered(OF_BIKE, {**said, "more": words}, usual=True) for words in ("none", ", ".join(more)))
    assert {*named.answers} - {*plain.answers} == more
    assert {question.key for question in OF_BIKE if question.gate} == more


WRITTEN = (
    ("points", "fork lamp: 20 cm from headlamp shell, moves",
     "{between: [headlamp shell, fork lamp], length: 20 cm, moves: true}"),
    ("points", "top box: 300 mm from tail", "{between: [tail, top box], length: 300 mm}"),
    ("openings", "headstock - tank: 22 mm", "{between: [headstock, tank], length: 250 mm, opening: 22 mm}"),
    ("later", "heated seat: 40 W", "later:\n  - {part: heated seat, power: 40 W, mode: dim}\ninputs:"),
    ("later", "cool box: 4 A", "later:\n  - {name: cool box, current: 4 A}\ninputs:"),
    ("later", "", "later: []"),
    ("supply switches", "horn button", "{part: horn button, at: left handlebar, signal: supply}"),
    ("alongside", "stator: engine to seat tray, 3 x 2.5 mm2, 18 A",
     "{name: stator, from: engine, to: seat tray, size: 2.5 mm2, count: 3, current: 18 A}"),
    ("alongside", "clutch cable: left handlebar to engine, 6 mm",
     "{name: clutch cable, from: left handlebar, to: engine, diameter: 6 mm}"),
)  # fmt: skip


@pytest.mark.parametrize(("key", "said", "line"), WRITTEN)
def test_what_more_answers_write(key: str, said: str, line: str) -> None:
    """The line as people write it by hand, and a file that is taken."""
    found = answered(OF_BIKE, {**WHOLE, "frame": "single", "more": key, key: said}, usual=True)
    text = bike_file(found.answers)
    assert line in text
    bike_from_text(text, "more.yaml")


def test_what_is_added_is_a_point_like_any_other() -> None:
    """Something may sit there, and a return may end there where no moving leg parts it from the battery."""
    said = {**WHOLE, "frame": "single", "more": "points"}
    said |= {"points": "box: 1 m from tail; lid: 1 m from box; fork: 9 cm from headlamp shell"}
    said |= {"lamps sit": "tail lamp: lid", "earth points": "box, engine"}
    found = answered(OF_BIKE, said, usual=True)
    assert found.open == ()
    written = yaml.safe_load(bike_file(found.answers))
    assert written["frame"]["earth"] == ["engine", "box"]
    assert [load["at"] for load in written["loads"] if load["part"] == "tail lamp"] == ["lid"]
    fork = answered(OF_BIKE, {**said, "earth points": "fork"}, usual=False)
    assert "earth points" in {one.question.key for one in fork.open}

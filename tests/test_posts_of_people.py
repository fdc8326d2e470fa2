"""Posts in the forms that people use: what is said of each, and what is not."""

import re
from pathlib import Path

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

import portloom
from portloom.inputs.files import bike_from_text, find_unit, read_bike, read_unit
from portloom.inputs.problems import BadFile
from portloom.report.text.post import verdict
from portloom.report.text.reply import reply
from portloom.review.document import Checked
from posted_more import MORE
from posted_texts import EVERY as FIRST
from posted_texts import INPUTS, OUTPUTS, PostedText
from slices import of_trials

EVERY = {**FIRST, **MORE}
UNIT = read_unit(find_unit("eleven-way"))
DATA = Path(__file__).parent / "data"
BIKE = read_bike(DATA / "ferry-single.yaml")


def answer(found: Checked) -> str:
    """Return all that is told, a thing a line."""
    looks = (f"{look.what}: {look.state.replace('wrong', 'WRONG')}; {look.why}" for look in found.verdict.looks)
    clashes = (f"{about}: {clash.sentence}" for about, clash in zip(found.concerns, found.verdict.clashes, strict=True))
    problems = (f"line {problem.line}: {problem.what}; {problem.right}" for problem in found.problems)
    whole = (f": {verdict(found)}", *problems, *looks, *clashes, *found.verdict.not_judged, *found.taken,
             *(f"left aside: {line}" for line in found.left_aside))  # fmt: skip
    return "\n".join(whole)


def outcome(post: PostedText) -> tuple[int, str, Checked | None]:
    """Return how the call ends, all that is told, and the answer."""
    try:
        found = portloom.check(post.text, BIKE if post.bike else None, UNIT)
    except BadFile as bad:
        return 2, "\n".join(f"line {problem.line}: {problem}" for problem in bad.problems), None
    return 2 if found.problems else 1 if found.verdict.clashes else 0, answer(found), found


@pytest.mark.parametrize("name", EVERY)
def test_what_is_said_of_a_post(name: str) -> None:
    """How the call ends, what must be said and what must not, and what is read on which port."""
    post = EVERY[name]
    code, told, found = outcome(post)
    assert [said for said in post.says if said not in told] == [], told
    assert [said for said in post.never if said in told] == [], told
    assert code == post.code, told
    for said in post.once:
        assert found is not None
        assert len([clash for clash in found.verdict.clashes if said in clash.sentence]) == 1, told
    if found is not None and post.outputs and not post.bike:
        assert {port: ", ".join(held) for port, held in found.posted.outputs.items() if held} == post.outputs
    if found is not None and post.inputs:
        assert {port: ", ".join(held) for port, held in found.posted.inputs.items() if held} == post.inputs


TRIPS = ("8 A", "8 A", "8 A", "2 A", "4 A", "4 A", "4 A", "2 A", "3 A", "3 A", "4 A")
SETTINGS = dict(enumerate(TRIPS, 1))
"""Each trip is the least of the eleven-way's that is 1.25 x what is on (hand sums), and holds an inrush."""
WIRES = {**dict.fromkeys(SETTINGS, "0.5 mm2"), 1: "1.5 mm2", 3: "1.5 mm2"}
"""33 CFR 183.425 Table 5 and practice below it: 0.5 mm2 carries 11 A; the beams need 1.5 mm2 for a drop of 5 %."""
WHOLE = [
    *(f"{line.partition(':')[0]} ({SETTINGS[n]}, {WIRES[n]}):{line.partition(':')[2]}"
      for n, line in enumerate(OUTPUTS.splitlines(), 1)),
    *INPUTS.splitlines(), "main fuse: 25 A",
]  # fmt: skip
"""All that rules need."""
PATIENT = bike_from_text((DATA / "ferry-single.yaml").read_text() + "limits: {drop: {headlamp: 5 %}}\n", "bike.yaml")


@pytest.mark.parametrize("step", [5, pytest.param(1, marks=pytest.mark.long)])
def test_sound_is_said_only_where_all_was_posted(step: int) -> None:
    """With every load, switch, trip, wire and the main fuse it is sound; without any of these lines it is not."""
    assert verdict(portloom.check("\n".join(WHOLE), PATIENT, UNIT)) == "SOUND"
    for left_out in range(0, len(WHOLE), step):
        found = portloom.check("\n".join(WHOLE[:left_out] + WHOLE[left_out + 1 :]), PATIENT, UNIT)
        assert "SOUND" not in verdict(found).replace("NOT SOUND", "")


ODD = (
    "and that red one", "the tail thing", "out 3: gubbins and wotsits", "fuse?", "see my last post", "| x |", "12 V",
    "left", "=", "out: ???", "no idea about out 55: horn",
)  # fmt: skip
UNREADABLE = {"and that red one", "the tail thing", "fuse?", "see my last post", "12 V", "no idea about out 55: horn"}
"""Those that may bear on any port."""
CLEAR = [name for name in EVERY if EVERY[name].code != 2]
LINES = st.one_of(st.sampled_from(ODD), st.text(st.characters(codec="ascii", exclude_categories=["C"]), max_size=24))


@of_trials(20, 80)
def test_what_can_not_be_read_makes_nothing_right(count: int) -> None:
    """Whatever is added that can't be read turns no look from 'not judged' to 'right', and keeps no rule."""
    some = settings(max_examples=count, deadline=None, derandomize=True, database=None)
    odd = st.lists(LINES, min_size=1, max_size=3)
    some(given(st.sampled_from(CLEAR), odd, st.sampled_from(["above", "below"]))(add_odd_lines))()


def add_odd_lines(name: str, odd: list[str], where: str) -> None:
    """Judge a post, and once more with lines that can't be read."""
    post = EVERY[name]
    lines = [*odd, post.text] if where == "above" else [post.text, *odd]
    (_, _, before), (_, _, after) = outcome(post), outcome(PostedText("\n".join(lines), 2, bike=post.bike))
    assert before is not None
    if after is None:
        return
    was = {look.what: look.state for look in before.verdict.looks}
    now = {look.what: look.state for look in after.verdict.looks}
    assert [what for what in now if now[what] == "right" and was[what] != "right"] == []
    assert set(after.verdict.kept) <= set(before.verdict.kept)
    if UNREADABLE & set(odd):
        assert after.problems
        assert "right" not in now.values()


def test_a_line_with_a_name_of_the_bike_is_not_left_aside() -> None:
    """'gubbins maybe' says nothing of the Ferry Single, and may say something of a bike that has gubbins."""
    named = [load.model_copy(update={"name": "gubbins"} if load.name == "horn" else {}) for load in BIKE.loads]
    text = f"{OUTPUTS.replace('hooter', 'gubbins')}gubbins maybe"
    without, found = (
        portloom.check(text.replace("6: gubbins", "6: horn"), BIKE, UNIT),
        portloom.check(text, BIKE.model_copy(update={"loads": tuple(named)}), UNIT),
    )
    assert (without.left_aside, without.problems) == (("line 12: 'gubbins maybe'",), ())
    assert (found.left_aside, [problem.line for problem in found.problems]) == ((), [12])


def test_a_load_of_the_bike_is_no_later_load() -> None:
    """Where a file has no list of later loads the usual ones count, heated grips among them; not where it has some."""
    named = [load.model_copy(update={"name": "heated grips"} if load.name == "horn" else {}) for load in BIKE.loads]
    text, later = OUTPUTS.replace("hooter", "heated grips"), "only a later load"
    bike = BIKE.model_copy(update={"later": None})
    having = bike.model_copy(update={"loads": tuple(named)})
    assert later in answer(portloom.check(text, bike, UNIT))
    assert later not in answer(portloom.check(text, having, UNIT))


@of_trials(6, 25)
def test_dropping_a_line_keeps_no_rule(count: int) -> None:
    """However a bike's loads are put on ports, a rule that the plan does not keep is not kept by a line less."""
    some = settings(max_examples=count, deadline=None, derandomize=True, database=None)
    some(given(st.permutations(range(11)), st.integers(0, 11), st.data())(drop_a_line))()


def drop_a_line(order: list[int], moved: int, data: st.DataObject) -> None:
    """Judge a post, and once more with a line less."""
    lines = [line.partition(":")[2] for line in OUTPUTS.splitlines()]
    order = list(range(11)) if moved == 11 else order
    ports = [f"{port} ({SETTINGS[port]}, {WIRES[port]})" for port in SETTINGS]
    post = [f"{ports[place]}:{lines[load]}" for place, load in enumerate(order)] + INPUTS.splitlines() + ["fuse 25 A"]
    drop = data.draw(st.integers(0, len(post) - 1))
    whole = portloom.check("\n".join(post), BIKE, UNIT)
    less = portloom.check("\n".join(post[:drop] + post[drop + 1 :]), BIKE, UNIT)
    assert set(less.verdict.kept) <= set(whole.verdict.kept)


@pytest.mark.parametrize("name", EVERY)
def test_a_reply_fits_a_screen(name: str) -> None:
    """Twenty-four lines of a hundred letters, however much is wrong; it begins with thanks."""
    _, _, found = outcome(EVERY[name])
    if found is not None:
        lines = reply(found).splitlines()
        assert sum(max(1, -(-len(line) // 100)) for line in lines) <= 24
        assert lines[0].startswith("Thank you")


def test_a_reply_with_much_wrong_fits_too() -> None:
    """All outputs exchanged, and a dozen lines that can't be read: the most dangerous are told, the rest counted."""
    lines = [line.partition(": ")[2] for line in OUTPUTS.splitlines()]
    post = [f"{n}: {lines[-n]}" for n in range(1, 12)] + [f"what about thing {n} there" for n in range(12)]
    text = reply(portloom.check("\n".join(post), BIKE, UNIT))
    assert sum(max(1, -(-len(line) // 100)) for line in text.splitlines()) <= 24
    assert "more." in text
    assert text.index("Not clear to me") < text.index("Please change") < text.index("Not judged")


def test_a_reply_shows_as_many_faults_as_fit_most_dangerous_first() -> None:
    """Six faults and no unread line: all are there, a concern once, in the order of danger; none is only counted."""
    post = [
        "out 1: dipped beam, horn, left indicators",
        "out 2: ignition coil, heated grips, right indicators",
        "out 3: tail lamp, brake lamp, fuel pump",
    ]
    found = portloom.check("\n".join(post), BIKE, UNIT)
    assert len(found.verdict.clashes) >= 6
    text = reply(found)
    told = text.partition("Please change, most dangerous first**\n")[2].partition("\n\n")[0].splitlines()
    more = re.fullmatch(r"\d+\. \.\.\. and (\d+) more\.", told[-1])
    shown = told[:-1] if more else told
    assert len(shown) >= 6
    assert len(shown) + (int(more[1]) if more else 0) == len(found.verdict.clashes)
    concerns = [concern for line in shown for concern in re.findall(r"^\d+\. \*(.*?)\.\*", line)]
    assert concerns == [concern.capitalize() for concern in found.by_concern()][: len(concerns)]


@pytest.mark.parametrize("said", ["horn (relay)", "horn relay", "Horn (Relay)"])
def test_a_relay_in_brackets_is_read_as_one(said: str) -> None:
    """On a bike whose horn has no relay the line is named as unread, with what to write; alone it is a relay's coil."""
    found = portloom.check(f"out 1: dipped beam\nout 2: {said}", BIKE, UNIT)
    assert [(one.line, one.what) for one in found.problems] == [
        (2, f"'{said}': the bike's file feeds no horn by a relay")
    ]
    assert not any("horn" in line for ports in found.posted.outputs.values() for line in ports)


def test_a_bracket_that_belongs_to_a_name_stays() -> None:
    """Without the bike's file too: 'horn (relay)', never 'horn (relay'."""
    found = portloom.check("out 1: dipped beam\nout 2: horn (relay)", None, UNIT)
    assert found.posted.outputs["out 2"] == ["horn (relay)"]


def test_there_are_sixty() -> None:
    """At least."""
    assert len(EVERY) >= 60

"""``portloom.check``: what is told of a posted plan, in which order, and how a post by itself is judged.

The bikes and the posts are made up; figures that are compared are hand sums, with their source beside them.
"""

from pathlib import Path

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

import portloom
from portloom.base.bike import Limits
from portloom.inputs.files import bike_from_text, find_unit, read_bike, read_unit
from portloom.inputs.problems import BadFile
from portloom.report.text.reply import reply
from portloom.review.document import Checked, Distance, Repair
from portloom.review.matching import Posted
from portloom.rules.book import RULES

EXAMPLES = Path(__file__).parents[1] / "examples"
BIKE = read_bike(EXAMPLES / "harbour-trail.yaml")
UNIT = read_unit(find_unit("eleven-way"))
BEST = """out 1: dipped beam
out 2: main beam
out 3: position lamp, tail lamp, plate lamp
out 4: ignition
out 5: front left indicator, rear left indicator
out 6: front right indicator, rear right indicator
out 7: starter solenoid
out 8: fuel pump
out 9: brake lamp
out 11: engine controller, dash
"""
HERE = "place: behind the headstock\n"


def checked(*changes: tuple[str, str], more: str = HERE) -> Checked:
    """Check the best plan of the Harbour Trail with some words changed."""
    text = BEST
    for old, new in changes:
        assert old in text
        text = text.replace(old, new, 1)
    return portloom.check(text + more, BIKE, UNIT)


def said(found: Checked) -> str:
    """Return every clash with its rule, a line each."""
    return "\n".join(f"{clash.rule}: {clash.sentence}" for clash in found.verdict.clashes)


def states(found: Checked) -> list[str]:
    """Return how each thing that is looked at first stands."""
    return [look.state for look in found.verdict.looks]


def alone(text: str) -> Checked:
    """Check a post without a bike's file."""
    return portloom.check(text, None, UNIT)


# --- order, and what comes first


def test_fire_comes_first_and_comfort_last() -> None:
    """What can burn, what stops the bike and lets it be seen, what starts it, comfort: in this order."""
    found = checked(
        ("out 11: engine controller, dash", "out 10: engine controller"),
        ("out 9: brake lamp", "out 9: brake lamp, horn"),
        ("out 8: fuel pump", "out 11: fuel pump"),
    )
    order = ["fire", "stopping and being seen", "start and run", "comfort"]
    assert list(dict.fromkeys(found.concerns)) == order
    assert found.verdict.clashes[-1].sentence == "dash is on no output"


def test_seven_things_are_looked_at_first() -> None:
    """Main fuse, brake lamp, beams, engine stop, what no output feeds, earths, trip against wire."""
    open_ = ["not judged"]
    assert states(checked(more=HERE + "main fuse: 30 A\n")) == ["right"] * 3 + open_ + ["right"] + open_ * 2
    assert states(checked())[0] == "look again"
    assert states(checked(("out 2: main", "out 1: main")))[2] == "wrong"
    assert states(checked(("out 9: brake lamp", "out 3: brake lamp")))[1] == "wrong"
    assert states(checked(("out 9: brake lamp\n", "")))[1] == "not judged"
    assert states(checked(("out 8: fuel", "out 10: ABS pump\nout 8: fuel")))[4] == "wrong"
    assert states(checked(("out 1: dipped", "out 1 (13 A, 0.5 mm2): dipped")))[6] == "wrong"


def test_the_engine_stop_is_looked_at_where_inputs_are_posted() -> None:
    """With the switch on an input ignition and pump are cut; where it is on none, that is looked at again."""
    inputs = [
        f"in {n}: {switch.name}" for n, switch in enumerate(BIKE.inputs, 1) if switch.name != "engine speed signal"
    ]
    with_it = checked(more=HERE + "\n".join(inputs))
    without = checked(more=HERE + "\n".join(line for line in inputs if not line.endswith(": engine stop switch")))
    assert (states(with_it)[3], states(without)[3]) == ("right", "look again")
    assert "engine stop switch" in without.verdict.looks[3].why
    (open_,) = (line for line in without.verdict.not_judged if "on no input in the post" in line)
    assert "engine stop switch" in open_


def test_each_first_look_has_its_place() -> None:
    """Fire first, then being seen, then what stops the engine: seven places, each taken by one rule."""
    places = {look.number: rule.slug for rule in RULES if (look := rule.posts.look)}
    assert [places[number] for number in range(1, 8)] == [
        "main-fuse", "brake-lamp", "share", "engine-stop", "cover", "wire", "trip",
    ]  # fmt: skip
    assert len(places) == 7


@pytest.mark.parametrize("what", ["starter motor", "regulator/rectifier", "voltage regulator", "ABS", "airbag unit"])
def test_what_belongs_on_no_output(what: str) -> None:
    """Each is a rule broken, told as danger of fire, and no unknown name."""
    found = checked(("out 9:", f"out 10: {what}\nout 9:"))
    assert (found.concerns, found.problems) == (("fire",), ())
    assert "is on out 10" in said(found)


# --- places


TWO_PLACES = """
bike: two places
supply: {running: 14 V, battery: {capacity: 10 Ah, at: tray}}
frame:
  legs:
    - {between: [tray, neck], length: 1 m, opening: OPENING}
    - {between: [tray, far], length: 40 m}
  earth: [tray]
places: [{name: neck, front: neck, rear: tray}, {name: far, front: far, rear: tray}]
loads:
  - {name: lamp, at: tray, current: 5 A}
  - {name: beam, at: tray, current: 5 A}
later: []
ignition: own
"""


@pytest.mark.parametrize(("opening", "sound"), [("4 mm", ()), ("9 mm", ("neck",))])
def test_a_clash_counts_if_it_comes_at_each_place(opening: str, sound: tuple[str, ...]) -> None:
    """At one place the opening is too small for two wires, at the other they lose too much: neither is sound then."""
    bike = bike_from_text(TWO_PLACES.replace("OPENING", opening), "bike")
    found = portloom.check(Posted({"out 1": ["lamp"], "out 2": ["beam"]}), bike, UNIT)
    assert found.verdict.places == ("neck", "far")
    assert found.verdict.sound_at == sound
    assert found.status == ("nothing wrong" if sound else "broken")
    assert {clash.rule for clash in found.verdict.clashes} == (set() if sound else {"opening", "wire"})
    assert all(clash.sentence.startswith(("at neck: ", "at far: ")) for clash in found.verdict.clashes)


# --- trips, wires, main fuse


@pytest.mark.parametrize(
    ("change", "told"),
    [
        # 33 CFR 183.425 Table 5: 0.5 mm2 takes the value from practice, 11 A at 105 C.
        ("out 1 (13 A, 0.5 mm2)", "the wire of 0.5 mm2 that is posted for dipped beam carries 11 A"),
        # 5.152 A x 1.25 = 6.44 A; UN R37: 68 W at 13.2 V.
        ("out 1 (4 A)", "dipped beam draws 5.152 A: that needs 6.44 A (1.25 x) at least"),
        ("out 1 (10 A)", "out 1 can't be set to trip at 10 A: it can be set to 4 A, 8 A or 13 A"),
        ("out 1 (8 A, 4 mm2)", "out 1 takes wire of up to 2.5 mm2, 4 mm2 is posted"),
    ],
)
def test_what_is_wrong_with_a_posted_trip_or_wire(change: str, told: str) -> None:
    """Its figures are told; without them the same plan is sound."""
    found = checked(("out 1", change))
    assert found.status == "broken"
    assert told in said(found)


def test_a_posted_trip_and_wire_that_are_right() -> None:
    """What the rules themselves ask for is sound, with what is posted for one output only, too."""
    assert checked(("out 1", "out 1 (8 A, 1 mm2)")).verdict.clashes == ()
    assert checked(("out 1", "out 1 (8 A)")).verdict.clashes == ()
    assert "trips of out 2, out 3" in " ".join(checked(("out 1", "out 1 (8 A)")).verdict.not_judged)


@pytest.mark.parametrize(
    ("fuse", "told"),
    [
        # 20.566 A x 1.25 = 25.7075 A
        ("25 A", "20.566 A flow in the worst case, which needs 25.708 A (1.25 x) at least"),
        # what the eleven-way's profile says
        ("60 A", "the unit takes a main fuse of 35 A at most"),
        # ISO 8820-3 steps: 30, 35 A
        ("32 A", "the posted main fuse of 32 A is no step of ISO 8820-3: there is 30 A or 35 A"),
        ("30 A", ""),
    ],
)
def test_a_posted_main_fuse(fuse: str, told: str) -> None:
    """Too small, too large, right."""
    found = checked(more=f"{HERE}main fuse: {fuse}\n")
    assert found.status == ("broken" if told else "nothing wrong")
    assert told in said(found)


# --- without a bike's file


def test_a_post_alone_is_judged_by_its_own_figures() -> None:
    """A current, a power or a lamp beside a load; what looks like a part is one, and the answer says so."""
    found = alone("out 5: horn 3.5 A\nout 1: dipped beam H4\nout 3: brake lamp P21W, tail light LED 1 W")
    assert "inductive: horn kicks back when switched off" in said(found)
    assert "brake-lamp: brake lamp and tail light can't share an output" in said(found)
    assert "tail light as a load with part 'tail lamp', its kind as led" in found.taken
    assert "dipped beam as a load with part 'dipped beam', its lamp as H4 dipped" in found.taken
    assert found.verdict.places == ()


def test_a_post_of_nothing_but_what_belongs_on_no_output() -> None:
    """It is judged as far as that goes."""
    found = alone("out 1: starter motor")
    assert (found.status, found.concerns) == ("broken", ("fire",))


def test_what_can_not_be_judged_of_a_post_alone_is_named() -> None:
    """Loads that say nothing of what they draw, sums, and rules that need the bike."""
    open_ = " ".join(alone("out 1: dipped beam, horn 3 A").verdict.not_judged)
    for what in ("what dipped beam draws", "rule engine-stop", "rule opening", "rule cover", "wire sizes"):
        assert what in open_
    assert alone("out 1: horn 3 A").verdict.kept == ()


@pytest.mark.parametrize(
    ("text", "what"),
    [
        ("out 1: horn 3 A\nout 2: horn", "horn is on out 1 and on out 2; leave one of them out"),
        ("out 99: horn 3 A\nout 1: fan 2 A", "there is no port 'out 99'; write out 9"),
    ],
)
def test_names_in_a_post_alone(text: str, what: str) -> None:
    """A load twice, a port that the unit lacks: told, and the rest is judged."""
    found = alone(text)
    assert any(what in str(problem) for problem in found.problems)
    assert found.posted.outputs


def test_a_post_without_a_load_is_refused() -> None:
    """On no port that the unit has."""
    with pytest.raises(BadFile, match="there is no port 'out 99'"):
        alone("out 99: horn")


# --- best and repair


def test_how_far_from_the_best_plan() -> None:
    """The best plan is as far from itself as nothing; elsewhere it takes more wire; a broken one is not compared."""
    best = portloom.check(BEST + HERE, BIKE, UNIT, best=True).best
    assert isinstance(best, Distance)
    assert (best.proven, best.posted) == (True, best.costs)
    dimmer = BIKE.model_copy(update={"limits": Limits.model_validate({"drop": {"headlamp": "0.7 V"}})})
    away = portloom.check(BEST, dimmer, UNIT, place="battery box", best=True).best
    assert isinstance(away, Distance)
    assert away.posted is not None
    assert away.posted.wire_run > away.wire_run
    broken = portloom.check(BEST.replace("out 1:", "out 4:"), BIKE, UNIT, best=True).best
    assert isinstance(broken, Distance)
    assert broken.posted is None


def test_a_repair_says_what_moves_what_is_placed_and_what_is_set_anew() -> None:
    """A load that is missing is said apart; a trip that no longer holds is set anew."""
    text = BEST.replace("out 9: brake lamp\n", "").replace("out 8: fuel pump", "out 6: fuel pump")
    found = portloom.check(text.replace("out 1", "out 1 (4 A)", 1) + HERE, BIKE, UNIT, repair=True).repair
    assert isinstance(found, Repair)
    assert [(move.name, move.before, move.after) for move in found.moved] == [("fuel pump", "out 6", "out 8")]
    assert [move.name for move in found.placed] == ["brake lamp"]
    assert [(one.port, one.trip) for one in found.set_anew] == [("out 1", 8000)]
    assert (found.moves, found.least, found.proven) == (2, 2, True)


def test_no_time_means_no_claim() -> None:
    """At the limit nothing is called proved."""
    found = portloom.check(BEST + HERE, BIKE, UNIT, repair=True, best=True, time_limit=0.0)
    assert (found.best, found.repair) == ("not known", "not known")


# --- as a library, and as a reply


def test_names_that_the_files_lack_are_a_value_error() -> None:
    """A post by names is typed already."""
    with pytest.raises(ValueError, match="has a 'toaster'"):
        portloom.check(Posted({"out 1": ["toaster"]}), BIKE, UNIT)
    with pytest.raises(ValueError, match="need the bike's file"):
        portloom.check(BEST, None, UNIT, repair=True)


def test_a_reply_begins_kindly_and_ends_with_cautions() -> None:
    """It thanks, gives the short answer, what to change, and what to do before any work."""
    text = reply(checked(("out 9: brake lamp", "out 3: brake lamp")))
    assert text.startswith("Thank you")
    assert text.index("**Not yet") < text.index("**Please change") < text.index("Battery off first")
    assert "I see nothing wrong" in reply(checked())


def test_nothing_in_a_reply_is_markup_of_the_post() -> None:
    """A name with signs of Markdown or HTML in it is text."""
    text = reply(alone("out 1: <b>horn</b> *loud* [x](http://y) 3 A\nout 1: [x] <b> 2 A\nout 2: # horn `a` 3 A"))
    assert "<b>" not in text
    assert "[x](" not in text


WORDS = (
    "out 1", "out 11", "in 3", "5", ":", "->", "|", "---", "\n", ",", "horn", "dipped beam", "brake lamp", "H4", "10 A",
    "1.5 mm2", "16 AWG", "fuse", "55 W", "LED", "(", ")", "place", "main fuse", "outputs:", "- ", "{", "]", "port",
    "load", "trip", "starter motor", "tell-tale", "heated grips", "\t", "é", '"', "999999 A", "0 A", "engine stop",
)  # fmt: skip


@given(st.lists(st.sampled_from(WORDS), max_size=30).map(" ".join))
@settings(max_examples=60, deadline=None, derandomize=True)
def test_any_text_is_judged_or_refused(text: str) -> None:
    """No heap of words that posts are made of is too odd, with a bike's file and without."""
    for bike in (BIKE, None):
        try:
            found = portloom.check(text, bike, UNIT)
        except BadFile:
            continue
        assert reply(found).endswith("looked over again.\n")

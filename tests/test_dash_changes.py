"""What dashes show where a bike is changed, posted, or has two units.

The bikes are those of the tests by hand, made up.
"""

import portloom
from explained import questions_on
from portloom.documents.handover.next_owner import record_of
from portloom.documents.wiring.pieces import wiring_of
from portloom.explaining.conflicts.kept import Instance
from portloom.explaining.fixes.change import Change, Target
from portloom.explaining.fixes.edits import edits_of
from portloom.explaining.fixes.loads import feeds, gone_with, left_off
from portloom.inputs.editing.editing import edited
from portloom.inputs.files import unit_from_text
from portloom.planning.plan import Planned, plan
from test_dashes import NEUTRAL, OIL, UNIT, bike
from unasked import bike_and_source, bike_from_text

CAMERA = "{name: camera, at: tray, current: 1 A}"
SENDER = "{part: fuel level sender, at: neck}"


def with_camera(shows: str, *inputs: str) -> str:
    """Return the bike with one load more, which it may do without."""
    return bike(shows, *inputs).replace("inputs:", f"  - {CAMERA}\ninputs:", 1)


def instance_of(text: str) -> Instance:
    """Return the bike on its unit with all its facts."""
    return questions_on((text, UNIT)).instance


def written(text: str, change: Change) -> str:
    """Return a bike's text with a change written into it, which reads as the changed bike does."""
    before, source = bike_and_source(text, "bike")
    made = change.make(Target(before, unit_from_text(UNIT, "unit")))
    assert made is not None
    after = made.bike
    new = edited(text, tuple(edits_of(before, after, source)))
    assert bike_from_text(new, "bike").having_read(after.as_read) == after
    return new


def _gone(text: str, change: Change) -> tuple[str, ...]:
    before = bike_from_text(text, "bike")
    made = change.make(Target(before, unit_from_text(UNIT, "unit")))
    assert made is not None
    return gone_with(before, made.bike)


def without(text: str, name: str) -> tuple[tuple[str, ...], str]:
    """Return what goes with a load that is left off, and the text without it."""
    change = next(change for change in left_off(instance_of(text)) if change.slot == ("feed", name))
    return _gone(text, change), written(text, change)


def test_a_dash_left_off_takes_along_what_only_it_reads() -> None:
    """The sender goes with it; the neutral switch stays, for the unit reads it."""
    said, text = without(with_camera("[neutral switch, fuel level sender]", NEUTRAL, SENDER), "dash")
    assert said == ("dash", "fuel level sender")
    assert {switch.name for switch in bike_from_text(text, "bike").inputs} >= {"neutral switch"}


def test_a_load_left_off_is_shown_no_more() -> None:
    """Of two things on the dash, the camera goes, and its name with it; where it was all, nothing is shown."""
    _, text = without(with_camera("[camera, oil pressure switch]", OIL), "camera")
    assert bike_from_text(text, "bike").loads[0].shows == (("oil pressure switch",),)
    _, text = without(with_camera("[camera]"), "camera")
    assert bike_from_text(text, "bike").loads[0].shows == ()
    _, text = without(with_camera("[[camera, main beam], oil pressure switch]", OIL), "camera")
    assert bike_from_text(text, "bike").loads[0].shows == (("main beam",), ("oil pressure switch",))


def test_a_shown_load_may_have_a_feed_of_its_own() -> None:
    """The dash then hangs on that feed: a relay is offered as for any load, and the file with it reads as it should."""
    text = with_camera("camera")
    relay = next(change for change in feeds(instance_of(text)) if change.slot[1] == "camera" and change.kind == "relay")
    assert "fed: relay" in written(text, relay)


def test_a_group_is_written_by_its_loads_name_where_groups_change() -> None:
    """'left indicators' names a group; a load that leaves it does not change whom the dash shows."""
    text = bike("left indicators")
    before, source = bike_and_source(text, "bike")
    loads = tuple(load.model_copy(update={"share": "one"}) if "left" in load.name else load for load in before.loads)
    after = before.model_copy(update={"loads": loads})
    new = edited(text, tuple(edits_of(before, after, source)))
    assert bike_from_text(new, "bike").loads == after.loads


def test_a_sensor_that_a_full_opening_takes_is_a_fact() -> None:
    """Neck - bars holds all wires but the sender's two: without the sender, or its dash, there is a plan."""
    narrow = "{between: [neck, bars], length: 200 mm, opening: OPENING}"

    def asked(opening: str, *left_out: tuple[str, ...]) -> bool:
        text = bike("fuel level sender", "{part: fuel level sender, at: neck}").replace(
            "{between: [neck, bars], length: 200 mm}", narrow.replace("OPENING", opening)
        )
        questions = questions_on((text, UNIT))
        return questions.has_plan(questions.instance.everything - {*left_out})

    fits = next(mm for mm in range(3, 30) if asked(f"{mm} mm"))
    tight = f"{fits - 1}.5 mm"
    assert [asked(tight), asked(tight, ("switch", "fuel level sender"))] == [False, True]
    assert asked(tight, ("load", "dash"))


def test_a_post_that_puts_a_dashs_switch_on_an_input_is_told_so() -> None:
    """It takes no input, and nothing of it is missing from the post."""
    typed = bike_from_text(bike("oil pressure switch", OIL), "bike")
    unit = unit_from_text(UNIT, "unit")
    post = (
        "out 1: dash\nout 2: main beam\nout 3: front left, rear left\nin 1: flash button\nin 2: left indicator button\n"
    )
    right = portloom.check(f"{post}in 3: hazard switch\n", typed, unit)
    wrong = portloom.check(f"{post}in 3: hazard switch\nin 4: oil pressure switch\n", typed, unit)
    told = [clash.sentence for clash in wrong.verdict.clashes if clash.subject == "oil pressure switch"]
    assert told == ["oil pressure switch is on in 4, and only dash reads it in the bike's file"]
    assert not [clash for clash in right.verdict.clashes if "oil" in clash.sentence]


def test_two_units_share_what_only_a_dash_reads() -> None:
    """The plan on two units passes its check; the sender's wires are there once."""
    text = bike("[main beam, fuel level sender]", SENDER).replace(
        "places: [{name: in the middle, front: mid}]",
        "places: [{name: in the middle, front: mid}, {name: aft, front: tray}]",
    )
    typed, unit = bike_from_text(text, "bike"), unit_from_text(UNIT, "unit")
    answer = plan(typed, unit, unit)
    assert isinstance(answer, Planned)
    kinds = sorted(wire.kind for wire in answer.laid.site.fixed_wires if wire.kind.startswith("dash"))
    assert kinds == ["dash return", "dash signal"]


def test_the_next_owner_is_told_what_a_dash_reads() -> None:
    """What it shows of the unit's circuits, and what it reads by itself."""
    text = bike("[main beam, oil pressure switch]", OIL)
    answer = plan(bike_from_text(text, "bike"), unit_from_text(UNIT, "unit"))
    assert isinstance(answer, Planned)
    chapters = {chapter.title: chapter.sentences for chapter in record_of(answer.plan, wiring_of(answer.laid)).chapters}
    read = chapters["What reads your switches"]
    assert any(line.startswith("Dash shows main beam (from out") and "never bridge" in line for line in read)
    assert "Dash itself reads oil pressure switch: these do not go through the unit." in read

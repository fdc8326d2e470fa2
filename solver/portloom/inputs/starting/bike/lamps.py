"""What is asked of a bike's lamps, and of the switches that work them."""

from collections.abc import Iterator, Sequence

from portloom.base.parts import loads, switches
from portloom.inputs.starting.answers import Answers, as_list, several
from portloom.inputs.starting.bike.entries import (
    DIP_BUTTON,
    SEEN_BY,
    WORKING_BEAMS,
    load_line,
    own_line,
    past_the_unit,
    switch_line,
)
from portloom.inputs.starting.bike.known import INDICATORS, has_lamp, lamp_figure, lamps_of, meant, usual_figure
from portloom.inputs.starting.kinds import Cell, Choice, OneOf, SomeOf, Table
from portloom.inputs.starting.lines import Line
from portloom.inputs.starting.question import Question, Questions

LAMPS = (
    Choice(loads.DIPPED_BEAM.name), Choice(loads.MAIN_BEAM.name), Choice(loads.DAYTIME_LAMP.name),
    Choice(loads.POSITION_LAMP.name), Choice(loads.TAIL_LAMP.name), Choice(loads.PLATE_LAMP.name),
    Choice(loads.BRAKE_LAMP.name), Choice(INDICATORS, "two at the front, two at the rear"),
    Choice(loads.INSTRUMENT_LAMPS.name), Choice(loads.INDICATOR_TELL_TALE.name),
    Choice(loads.MAIN_BEAM_TELL_TALE.name), Choice(loads.SPOT_LAMP.name), Choice(loads.FRONT_FOG_LAMP.name),
    Choice(loads.REAR_FOG_LAMP.name),
)  # fmt: skip
USUAL_LAMPS = (
    loads.DIPPED_BEAM.name, loads.MAIN_BEAM.name, loads.POSITION_LAMP.name, loads.TAIL_LAMP.name,
    loads.PLATE_LAMP.name, loads.BRAKE_LAMP.name, INDICATORS,
)  # fmt: skip
SHOWN = {loads.INDICATOR_TELL_TALE.name: INDICATORS, loads.MAIN_BEAM_TELL_TALE.name: loads.MAIN_BEAM.name}
"""Tell-tales, and the lamps that they are of."""


def _untold(lamps: Sequence[str]) -> str:
    """Say which tell-tale has nothing to tell of."""
    for tell_tale, of in SHOWN.items():
        if tell_tale in lamps and of not in lamps:
            return f"'{tell_tale}' has nothing to show without '{of}'; add that, or leave it out"
    return ""


def _figures(answers: Answers) -> Table:
    lamps = {lamp.row: lamp for lamp in lamps_of(answers)}
    cells = {
        row: Cell(usual_figure(lamp), lambda said, part=lamp.part: lamp_figure(part, said))  # type: ignore[misc]
        for row, lamp in lamps.items()
    }
    return Table(cells, "tail lamp: 4 W led")


def _lamp_lines(answers: Answers) -> Iterator[Line]:
    past = past_the_unit(answers, "fuse") if answers.get("extra lamps by") == "own" else {}
    for lamp in lamps_of(answers):
        yield load_line(answers, lamp, past if lamp.name in SEEN_BY else {})


def _beam_switches(_: Answers) -> SomeOf:
    def wrong(words: Sequence[str]) -> str:
        if switches.DIP_SWITCH.name in words and DIP_BUTTON in words:
            return "a dip switch stays where it is put, a dip button springs back; write the one that is there"
        return ""

    return SomeOf(tuple(Choice(word, says) for word, says in WORKING_BEAMS.items()), meant, wrong, least=1)


def _beam_lines(answers: Answers) -> Iterator[Line]:
    for word in several(answers, "beam switches"):
        if word == DIP_BUTTON:
            yield switch_line(answers, switches.DIP_SWITCH, {"action": "push"})
        else:
            yield switch_line(answers, switches.SWITCH_PART[word])


def _indicator_lines(answers: Answers) -> Iterator[Line]:
    if answers["indicators by"] == "one switch":
        yield switch_line(answers, switches.INDICATOR_SWITCH)
        return
    yield switch_line(answers, switches.LEFT_INDICATOR_BUTTON)
    yield switch_line(answers, switches.RIGHT_INDICATOR_BUTTON)


BRAKES = (
    Choice("both", "front and rear brake have a switch each"),
    Choice("front", "one brake only, the front one, with a switch"),
    Choice("rear", "one brake only, the rear one, with a switch"),
    Choice("front of two", "two brakes, and only the front one lights the lamp"),
    Choice("rear of two", "two brakes, and only the rear one lights the lamp"),
)


def _brake_lines(answers: Answers) -> Iterator[Line]:
    said = answers["brakes"]
    if said == "both" or said.startswith("front"):
        yield switch_line(answers, switches.FRONT_BRAKE_SWITCH)
    if said == "both" or said.startswith("rear"):
        yield switch_line(answers, switches.REAR_BRAKE_SWITCH)
    if said != "both":
        yield Line(("brakes",), "two, one switch" if said.endswith("of two") else "one")


def _extra_lines(answers: Answers) -> Iterator[Line]:
    names = [name for name in several(answers, "lamps") if name in SEEN_BY]
    if answers["extra lamps by"] == "switch":
        yield from (own_line(answers, f"{name} switch", [name]) for name in names)


OF_LAMPS: Questions = (
    Question(
        "lamps", "lamps", "Which lamps are on the bike?", lambda _: SomeOf(LAMPS, meant, _untold),
        "Which of them the road asks for is for local law to say.",
        lambda _: as_list(USUAL_LAMPS), writes=_lamp_lines,
    ),
    Question(
        "bulbs", "lamps", "What is in each of them? It stands on the lamp or its cap.", _figures,
        "A bulb by its word, such as H4; else its watts, and what it is: 4 W led.",
        lambda _: "", when=lambda a: bool(several(a, "lamps")),
    ),
    Question(
        "beam switches", "lamps", "What works the main beam?", _beam_switches,
        "Every one that is there.", lambda _: switches.DIP_SWITCH.name, asked=True,
        when=lambda a: has_lamp(a, loads.MAIN_BEAM.name), writes=_beam_lines,
    ),
    Question(
        switches.LIGHT_SWITCH.name, "lamps", "Is there a light switch?",
        lambda _: OneOf((Choice("no", "the lights are on with the key"), Choice("yes", "one that tells the unit"))),
        usual=lambda _: "no", when=lambda a: has_lamp(a, *switches.LIGHT_SWITCH.works),
        writes=lambda a: [switch_line(a, switches.LIGHT_SWITCH)] if a[switches.LIGHT_SWITCH.name] == "yes" else [],
    ),
    Question(
        "indicators by", "lamps", "What works the indicators?",
        lambda _: OneOf((
            Choice("two buttons", "one for each side, which spring back"),
            Choice("one switch", "one lever, which stays left or right"),
        )),
        usual=lambda _: "two buttons", asked=True, when=lambda a: has_lamp(a, INDICATORS), writes=_indicator_lines,
    ),
    Question(
        "hazard", "lamps", "Is there a hazard switch?",
        lambda _: OneOf((Choice("no"), Choice("yes", "a switch that flashes all four"))),
        usual=lambda _: "no", when=lambda a: has_lamp(a, INDICATORS),
        writes=lambda a: [switch_line(a, switches.HAZARD_SWITCH)] if a["hazard"] == "yes" else [],
    ),
    Question(
        "brakes", "lamps", "Which brakes light the brake lamp?", lambda _: OneOf(BRAKES),
        usual=lambda _: "both", asked=True, when=lambda a: has_lamp(a, loads.BRAKE_LAMP.name), writes=_brake_lines,
    ),
    Question(
        "extra lamps by", "lamps", "What works the spot and fog lamps?",
        lambda _: OneOf((
            Choice("switch", "a switch each, which tells the unit"),
            Choice("own", "a fuse and a switch of their own, past the unit"),
        )),
        usual=lambda _: "switch", asked=True, when=lambda a: has_lamp(a, *SEEN_BY), writes=_extra_lines,
    ),
)  # fmt: skip

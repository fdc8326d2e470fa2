"""What is asked of a bike's builder, and what is refused: every question at once, each with a line that answers it.

A question is right where silence could hurt. Source: common practice, no source, but where another is named.
"""

import re
from collections.abc import Sequence
from dataclasses import dataclass

import pytest

from portloom.base.figures import with_article
from portloom.inputs.files import bike_from_text
from portloom.inputs.problems import BadFile, Problem
from small_bikes import OWN_SPARK, small_bike

LINE = re.compile(r"\{[^{}]*\}")
KEY = re.compile(r"'([a-z_]+): ([^']*)'")
CRANK = "{part: starter solenoid, at: engine, current: 3 A}"
BUTTON = "{part: starter button, at: right handlebar}"
NEUTRAL = "{part: neutral switch, at: engine}"
STAND = "{part: side stand switch, at: side stand, made: up}"
STOP = "{part: engine stop switch, at: right handlebar, made: run}"
KEY_SWITCH = "{part: key switch, at: headstock}"
BOX = "{part: ignition box, at: engine, current: 2 A}"
RUN = (STAND, STOP)
"""Switches by which nothing more is asked of what runs the engine."""
SOCKET = "{part: socket, at: tail, current: 2 A}"


def told(text: str) -> tuple[Problem, ...]:
    """Return all that a bike's file is asked or refused for, nothing where it is taken."""
    try:
        bike_from_text(text, "bike.yaml")
    except BadFile as bad:
        return bad.problems
    return ()


def asked(loads: Sequence[str], inputs: Sequence[str] = (), *keys: str) -> list[str]:
    """Return the questions and refusals, as sentences."""
    return [problem.what for problem in told(small_bike(loads, inputs, *keys))]


# --- a mode that defeats what a part is for

DEFEATED = (
    # UN R53 par. 6.1, 6.2 (from memory): beams are steady; 6.3: indicators flash; 6.4: the stop lamp follows the brake.
    ("dipped beam", "lamp: H7", "flash", "mode", "in the dark"),
    ("dipped beam", "lamp: H7", "timed", "mode", "in the dark"),
    ("main beam", "lamp: H1", "flash", "mode", "in the dark"),
    ("main beam", "lamp: H1", "timed", "mode", "in the dark"),
    ("left indicator", "lamp: PY21W", "steady", "indicator-pair", "nobody where the bike will turn"),
    ("right indicator", "lamp: PY21W", "hold", "indicator-pair", "nobody where the bike will turn"),
    ("brake lamp", "lamp: P21W", "steady", None, "lit while a brake is used"),
    ("brake lamp", "lamp: P21W", "flash", None, "lit while a brake is used"),
    ("horn", "current: 4 A", "steady", "mode", "while its button is held"),
    ("compressor horn", "current: 9 A", "toggle", "mode", "while its button is held"),
    ("ignition coil", "current: 3 A, switched_by: points", "hold", "run", "must not be stopped or kept running"),
    ("ignition box", "current: 2 A", "timed", "run", "must not be stopped or kept running"),
    ("engine controller", "current: 2 A", "engine-run", "run", "must not be stopped or kept running"),
    ("starter solenoid", "current: 3 A", "steady", "start", "cranks in gear"),
    ("starter solenoid", "current: 3 A", "hold", "start", "cranks in gear"),
    ("starter solenoid", "current: 3 A", "[start, hold]", "start", "cranks in gear"),
    ("left indicator", "lamp: PY21W", "[flash, steady]", "indicator-pair", "nobody where the bike will turn"),
)  # fmt: skip


@pytest.mark.parametrize(("part", "figure", "mode", "rule", "why"), DEFEATED)
def test_a_mode_that_defeats_a_part_is_refused(part: str, figure: str, mode: str, rule: str | None, why: str) -> None:
    """With the reason; a rule that may be set aside, with one, lets it be."""
    load = f"{{part: {part}, at: engine, {figure}, mode: {mode}}}"
    wrong = f"'{part}' is {with_article(part)} in mode {mode.strip('[]').replace(', ', ' and ')}: "
    said = [line for line in asked([load]) if line.startswith(wrong)]
    assert len(said) == 1
    assert why in said[0]
    if rule is not None:
        aside = asked([load], (), f"set_aside: {{{rule}: agreed with the owner}}")
        assert [line for line in aside if line.startswith(wrong)] == []


MISTIMED = (
    # UN R53 par. 6.3, 6.4 (from memory): the stop lamp follows the brake; the indicators of a side flash when it is on.
    ("brake lamp", "lamp: P21W", "when: [day]", "brake-lamp"),
    ("brake lamp", "lamp: P21W", "when: [braking, night]", "brake-lamp"),
    ("brake lamp", "lamp: P21W", "except: [braking]", "brake-lamp"),
    ("horn", "current: 4 A", "when: [braking]", "mode"),
    ("horn", "current: 4 A", "when: [horn, key on]", "mode"),
    ("left indicator", "lamp: PY21W", "when: [hazard]", "indicator-pair"),
    ("right indicator", "lamp: PY21W", "when: [indicating left]", "indicator-pair"),
    ("starter solenoid", "current: 3 A", "when: [cranking, day]", "start"),
    ("ignition box", "current: 2 A", "when: [day]", "run"),
    ("ignition box", "current: 2 A", "when: [cranking, day, night, parked]", "run"),
    ("ignition coil", "current: 3 A, switched_by: points", "except: [night]", "run"),
)
TIMED_RIGHT = (
    ("brake lamp", "lamp: P21W", "when: [braking]"),
    ("horn", "current: 4 A", "when: [horn, theft]"),
    ("left indicator", "lamp: PY21W", "when: [indicating left]"),
    ("ignition box", "current: 2 A", "when: [cranking, day, night]"),
    ("dipped beam", "lamp: H7", "when: [night]"),
    ("tail lamp", "lamp: R5W", "when: [night]"),
)


@pytest.mark.parametrize(("part", "figure", "times", "rule"), MISTIMED)
def test_times_that_defeat_a_part_are_refused(part: str, figure: str, times: str, rule: str) -> None:
    """As a mode that does: a brake lamp that is lit by day tells nobody of the brake."""
    load = f"{{part: {part}, at: engine, {figure}, {times}}}"
    wrong = f"'{part}' is {with_article(part)} that is "
    assert len([line for line in asked([load]) if line.startswith(wrong)]) == 1
    if rule != "brake-lamp":  # that rule always holds
        aside = asked([load], (), f"set_aside: {{{rule}: agreed with the owner}}")
        assert [line for line in aside if line.startswith(wrong)] == []


@pytest.mark.parametrize(("part", "figure", "times"), TIMED_RIGHT)
def test_times_that_leave_a_part_its_use_are_taken(part: str, figure: str, times: str) -> None:
    """A horn that an alarm sounds too, indicators without hazard, a beam by night only."""
    load = f"{{part: {part}, at: engine, {figure}, {times}}}"
    said = asked([load], (), "events: {theft: {in: [asleep]}}")
    assert [line for line in said if " that is on in " in line or " that is off in " in line] == []


@pytest.mark.parametrize("part", ["dipped beam", "main beam"])
@pytest.mark.parametrize("mode", ["steady", "toggle", "hold", "dim"])
def test_a_beam_may_be_worked_in_other_ways(part: str, mode: str) -> None:
    """A beam that a button toggles or holds, or that is dimmed, leaves nobody in the dark."""
    load = f"{{part: {part}, at: headstock, power: 20 W, kind: led, dims: true, mode: {mode}}}"
    assert [line for line in asked([load]) if "in mode" in line] == []


def test_only_a_starter_solenoid_starts() -> None:
    """Mode ``start`` on what nothing calls a starter solenoid is refused: no rule would hold it back."""
    said = asked(["{name: relay, at: engine, current: 3 A, mode: start}"], (), OWN_SPARK)
    plain = [line for line in said if not line.startswith("once ")]
    assert plain == ["mode 'start' is for a starter solenoid, and nothing says that 'relay' is one"]


# --- who works it

WORKED = (
    ("main beam", "lamp: H1", "dip switch"),
    ("main beam", "lamp: H1", "flash button"),
    ("left indicator", "lamp: PY21W", "left indicator button"),
    ("left indicator", "lamp: PY21W", "indicator switch"),
    ("right indicator", "lamp: PY21W", "right indicator button"),
    ("horn", "current: 4 A", "horn button"),
    ("compressor horn", "current: 9 A", "horn button"),
    ("starter solenoid", "current: 3 A", "starter button"),
    ("brake lamp", "lamp: P21W", "front brake switch"),
    ("brake lamp", "lamp: P21W", "rear brake switch"),
    ("fan", "current: 6 A", "fan request"),
)
OWN_SWITCHED = (
    ("spot lamp", "power: 20 W, kind: led"),
    ("front fog lamp", "power: 20 W, kind: led"),
    ("rear fog lamp", "power: 4 W, kind: led"),
    ("heated grips", "power: 36 W"),
    ("heated seat", "power: 30 W"),
    ("heated vest", "power: 60 W"),
    ("fan", "current: 6 A"),
)


@pytest.mark.parametrize(("part", "figure", "switch"), WORKED)
def test_a_load_that_nobody_works_is_asked_for(part: str, figure: str, switch: str) -> None:
    """Its switch is asked for until it is there; a switch of its own, past the unit, answers too."""
    load = f"{{part: {part}, at: engine, {figure}}}"
    question = f"what works '{part}'? nothing on the bike does"
    assert question in asked([load])
    assert question not in asked([load], [f"{{part: {switch}, at: engine}}"])
    assert question not in asked([load.replace("}", ", own_switch: engine}")])


@pytest.mark.parametrize(("part", "figure"), OWN_SWITCHED)
def test_a_load_with_a_switch_of_its_own_is_asked_for_it(part: str, figure: str) -> None:
    """Spot and fog lamps, heated things and a fan are asked for a switch, which names what it operates."""
    load = f"{{part: {part}, at: engine, {figure}}}"
    assert asked([load], (), OWN_SPARK) == [f"what works '{part}'? nothing on the bike does"]
    assert asked([load], [f"{{name: knob, at: engine, operates: [{part}]}}"], OWN_SPARK) == []


def test_a_switch_that_works_nothing_is_named_first() -> None:
    """A temperature switch that is there without a job may work the fan: no other one is asked for."""
    fan, switch = "{part: fan, at: engine, current: 6 A}", "{part: temperature switch, at: engine}"
    (problem,) = told(small_bike([fan], [switch], OWN_SPARK))
    assert problem.right.startswith(
        "write 'operates: [fan]' at 'temperature switch', which works nothing yet; or add to"
    )
    assert "part: temperature switch" not in problem.right
    assert asked([fan], [switch.replace("}", ", operates: [fan]}")], OWN_SPARK) == []


@pytest.mark.parametrize("part", ["heated grips", "heated seat", "heated vest"])
def test_heat_that_is_dimmed_to_a_level_needs_nobody(part: str) -> None:
    """A heater that is set to a level is simply on; one that is only dimmed is asked for who does it."""
    load = f"{{part: {part}, at: engine, power: 36 W, mode: dim}}"
    assert asked([load], (), OWN_SPARK) == [f"what works '{part}'? nothing on the bike does"]
    assert asked([load.replace("}", ", dim_to: 60 %}")], (), OWN_SPARK) == []


def test_a_level_does_not_light_a_main_beam() -> None:
    """A main beam that is dimmed to a level still needs its switch."""
    load = "{part: main beam, at: headstock, power: 20 W, kind: led, dims: true, mode: dim, dim_to: 80 %}"
    assert asked([load], (), OWN_SPARK) == ["what works 'main beam'? nothing on the bike does"]


def test_heat_that_may_come_later_is_not_asked_for() -> None:
    """A heated load under ``later`` has nobody to work it yet."""
    later = ["{part: heated grips, at: left handlebar, power: 36 W}"]
    assert told(small_bike([SOCKET], (), OWN_SPARK, later=later)) == ()


# --- each question, and that each of its answers settles it


@dataclass(frozen=True)
class Question:
    """A bike that is asked this alone, and the answers that it is offered; '%s' is where an entry says more."""

    what: str
    loads: tuple[str, ...]
    inputs: tuple[str, ...]
    keys: tuple[str, ...]
    answers: tuple[dict[str, str], ...]
    """Each as lines for the loads, the inputs, the whole bike, or the entry that is asked about."""


ECU = "{part: ECU, at: seat tray, current: 2 A}"
PUMP = "{part: fuel pump, at: tank, current: 5 A%s}"
TACHO = "{part: engine speed signal, at: engine, from: tacho}"
LAMP = "{part: brake lamp, at: tail, lamp: P21W%s}"
OWN = (OWN_SPARK,)
OWN_SWITCH = {"entry": "own_switch: right handlebar"}
FRONT, REAR = "{part: front brake switch, at: right handlebar}", "{part: rear brake switch, at: pedal}"


def made(part: str, why: str, *positions: str) -> Question:
    """Return the question in which position a contact is made."""
    what = f"when is the contact of '{part}' made (closed)? {why}"
    answers = tuple({"entry": f"made: {position}"} for position in positions)
    return Question(what, (SOCKET,), (f"{{part: {part}, at: engine%s}}",), OWN, answers)


def worked(part: str, figure: str, *lines: str, more: tuple[dict[str, str], ...] = ()) -> Question:
    """Return the question who works a load."""
    answers = (*({"inputs": line} for line in lines), OWN_SWITCH, *more)
    what, load = f"what works '{part}'? nothing on the bike does", f"{{part: {part}, at: engine, {figure}%s}}"
    return Question(what, (load,), (), OWN, answers)


DIM_TO = ({"entry": "dim_to: 60 %"},)
BARS = "at: right handlebar"
QUESTIONS = (
    made("engine stop switch", "a wire that breaks must stop the engine", "run", "stop"),
    made("clutch switch", "a wrong guess cranks in gear", "pulled", "released"),
    made("side stand switch", "a wrong guess lets the bike be ridden off on its stand", "up", "down"),
    Question("where is 'engine speed signal' taken? the height of its pulses depends on it",
             (SOCKET,), ("{part: engine speed signal, at: engine%s}",), OWN,
             ({"entry": "from: tacho"}, {"entry": "from: coil"}, {"entry": "from: stator"})),
    Question("what does 'fall sensor' tell that the bike has fallen?",
             (SOCKET,), ("{part: fall sensor, at: seat tray%s}",), OWN,
             ({"entry": "goes_to: unit"}, {"entry": "goes_to: controller"})),
    Question("what takes the other end of 'ignition coil' to earth? a coil is never earthed itself",
             ("{part: coil, at: engine, current: 3 A%s}",), RUN, (),
             ({"entry": "switched_by: ignition box", "loads": "{part: ignition box, at: engine, current: 1 A}"},
              {"entry": "switched_by: engine controller",
               "loads": "{part: engine controller, at: engine, current: 1 A}"},
              {"entry": "switched_by: points"})),
    Question("what takes the other end of 'ignition coil' to earth? a coil is never earthed itself",
             (BOX, "{part: coil, at: engine, current: 3 A%s}"), RUN, (),
             ({"entry": "switched_by: ignition box"}, {"entry": "switched_by: points"},
              {"entry": "switched_by: engine controller",
               "loads": "{part: engine controller, at: engine, current: 1 A}"})),
    Question("what does 'starter solenoid' draw as it pulls in? it is more than it draws after that",
             ("{part: starter solenoid, at: engine, current: 8.1 A%s}",), (BUTTON, NEUTRAL, STAND), OWN,
             ({"entry": "pull_in: 30 A"},)),
    Question("what does 'starter solenoid' draw as it pulls in? it is more than it draws after that",
             ("{part: starter solenoid, at: engine, power: 120 W%s}",), (BUTTON, NEUTRAL, STAND), OWN,
             ({"entry": "pull_in: 30 A"},)),
    Question("can the unit stop this engine? no load is an ignition coil, an ignition box or an engine controller",
             (SOCKET,), RUN, (),
             ({"loads": "{part: ignition box, at: engine, current: 2 A}"}, {"bike": "ignition: own"})),
    Question("what stops the engine? no input tells the unit of an engine stop switch", (BOX,), (STAND,), (),
             ({"inputs": STOP}, {"bike": "engine_stop: key", "inputs": KEY_SWITCH})),
    Question("nothing stops the engine: the key alone is to stop it, and no input tells the unit of a key switch",
             (BOX,), (STAND,), ("engine_stop: key",), ({"inputs": KEY_SWITCH}, {"inputs": STOP})),
    Question("is there a side stand? no input tells the unit of its switch", (BOX,), (STOP,), (),
             ({"inputs": STAND}, {"bike": "stand: none"}, {"bike": "stand: no switch"})),
    Question("is there a side stand? no input tells the unit of its switch", (CRANK,), (BUTTON, NEUTRAL), OWN,
             ({"inputs": STAND}, {"bike": "stand: none"}, {"bike": "stand: no switch"})),
    Question("who decides when 'fuel pump' runs?", (PUMP, ECU), (*RUN, TACHO), (),
             ({"bike": "pump_by: controller", "inputs": "{part: pump request, at: seat tray}"},
              {"bike": "pump_by: unit"})),
    Question("who decides when 'fuel pump' runs?", (PUMP, ECU), RUN, (),
             ({"bike": "pump_by: controller", "inputs": "{part: pump request, at: seat tray}"},
              {"bike": "pump_by: unit", "inputs": TACHO})),
    Question("by which wire does the engine controller ask for 'fuel pump'?", (PUMP, ECU), (*RUN, TACHO),
             ("pump_by: controller",),
             ({"inputs": "{part: pump request, at: seat tray}"}, {"bike": "pump_by: unit"})),
    Question("how does the unit know that the engine turns? 'fuel pump' runs only while it does", (PUMP,), RUN, OWN,
             ({"inputs": TACHO},)),
    Question("what keeps the starter from cranking in gear? no input tells the unit of neutral or clutch",
             (CRANK,), (BUTTON, STAND), OWN,
             ({"inputs": NEUTRAL}, {"inputs": "{part: clutch switch, at: left handlebar, made: pulled}"})),
    Question("what keeps the starter from cranking in gear? no input tells the unit of neutral or a brake",
             (CRANK,), (BUTTON, STAND), (*OWN, "clutch: automatic"), ({"inputs": NEUTRAL}, {"inputs": REAR})),
    Question("does the rear brake light the brake lamp too? 'front brake switch' is the only brake switch",
             (LAMP,), (FRONT,), OWN, ({"inputs": REAR}, {"bike": "brakes: one"}, {"bike": "brakes: two, one switch"})),
    Question("does the front brake light the brake lamp too? 'rear brake switch' is the only brake switch",
             (LAMP,), (REAR,), OWN, ({"inputs": FRONT}, {"bike": "brakes: one"}, {"bike": "brakes: two, one switch"})),
    Question("what works 'brake lamp'? nothing on the bike does", (LAMP,), (), OWN,
             ({"inputs": f"{FRONT}\n  - {REAR}"}, {"inputs": FRONT, "bike": "brakes: one"},
              {"inputs": REAR, "bike": "brakes: two, one switch"}, OWN_SWITCH)),
    Question("what do 'front brake switch' and 'rear brake switch' light? there is no brake lamp on the bike",
             (SOCKET,), (FRONT, REAR), OWN,
             ({"loads": LAMP.replace("%s", "")}, {"loads": LAMP.replace("%s", ", own_switch: pedal")})),
    worked("main beam", "lamp: H1", f"{{part: dip switch, {BARS}}}", f"{{part: flash button, {BARS}}}"),
    worked("left indicator", "lamp: PY21W", f"{{part: left indicator button, {BARS}}}"),
    worked("right indicator", "lamp: PY21W", f"{{part: right indicator button, {BARS}}}"),
    worked("horn", "current: 4 A", f"{{part: horn button, {BARS}}}"),
    worked("fan", "current: 6 A", "{part: temperature switch, at: engine, operates: [fan]}",
           "{part: fan request, at: engine}"),
    worked("spot lamp", "power: 20 W, kind: led", f"{{name: spot lamp switch, {BARS}, operates: [spot lamp]}}"),
    worked("rear fog lamp", "power: 4 W, kind: led",
           f"{{name: rear fog lamp switch, {BARS}, operates: [rear fog lamp]}}"),
    worked("heated grips", "power: 36 W", f"{{name: heated grips switch, {BARS}, operates: [heated grips]}}",
           more=DIM_TO),
)  # fmt: skip


ELSEWHERE = ("clutch: automatic", f"{{part: indicator switch, {BARS}}}")
"""Answers that are tried by themselves, for they settle more than one question, or lead on."""


def _bike(question: Question, answer: dict[str, str] | None = None) -> str:
    """Return the bike of a question, with an answer."""
    said = answer or {}
    more = f", {said['entry']}" if "entry" in said else ""
    loads = [load.replace("%s", more) for load in (*question.loads, *filter(None, [said.get("loads")]))]
    inputs = [entry.replace("%s", more) for entry in (*question.inputs, *filter(None, [said.get("inputs")]))]
    key = said.get("bike", "")
    kept = [other for other in question.keys if other.partition(":")[0] != key.partition(":")[0]]
    return small_bike(loads, inputs, *kept, *filter(None, [key]))


@pytest.mark.parametrize("question", QUESTIONS, ids=lambda question: question.what.partition("?")[0])
def test_a_question_and_its_answers(question: Question) -> None:
    """Each is asked alone; its hint has every answer to the letter, and each settles it with nothing more asked."""
    problems = told(_bike(question))
    assert [problem.what for problem in problems] == [question.what]
    for answer in question.answers:
        for line in (part for lines in answer.values() for part in lines.split("\n  - ")):
            assert line in problems[0].right
        assert told(_bike(question, answer)) == ()


@pytest.mark.parametrize("question", QUESTIONS, ids=lambda question: question.what.partition("?")[0])
def test_no_answer_is_offered_that_is_none(question: Question) -> None:
    """Every line in a hint is one of the answers that are tried above."""
    right = told(_bike(question))[0].right
    known = [part for answer in question.answers for lines in answer.values() for part in lines.split("\n  - ")]
    offered = [*LINE.findall(right), *(f"{key}: {value}" for key, value in KEY.findall(right))]
    assert [line for line in offered if line not in known and line not in ELSEWHERE] == []


def test_one_indicator_switch_answers_for_both_sides() -> None:
    """Left and right indicators are both worked by it."""
    loads = [f"{{part: {side} indicator, at: tail, lamp: PY21W}}" for side in ("left", "right")]
    assert len(asked(loads, (), OWN_SPARK)) == 2
    assert asked(loads, [f"{{part: indicator switch, {BARS}}}"], OWN_SPARK) == []


def test_automatic_is_an_answer_where_there_is_no_lever() -> None:
    """It leads on: then neutral, or a brake's switch, holds the starter back."""
    assert asked([CRANK], [BUTTON, STAND, REAR], OWN_SPARK, "clutch: automatic") == []


# --- all at once, and nothing that cannot hurt


def test_everything_is_asked_at_once() -> None:
    """A first file that leaves everything open is asked all of it in one run, and taken once it is answered."""
    loads = [
        "{part: dipped beam, at: headlamp shell, lamp: H4 dipped}",
        "{part: main beam, at: headlamp shell, lamp: H4 main}",
        "{part: tail lamp, at: tail, power: 5 W}",
        "{part: brake lamp, at: tail, lamp: P21W}",
        "{part: left indicator, at: tail, lamp: PY21W}",
        "{part: right indicator, at: tail, lamp: PY21W}",
        "{part: horn, at: headstock, current: 4 A}",
        "{part: coil, at: engine, current: 3 A}",
        "{part: ECU, at: seat tray, current: 2 A}",
        "{part: fuel pump, at: tank, current: 5 A}",
        "{part: starter relay, at: engine, current: 9 A}",
        "{part: fan, at: radiator, current: 6 A}",
        "{part: heated grips, at: left handlebar, power: 36 W}",
    ]
    inputs = ["{part: tip-over sensor, at: seat tray}"]
    problems = told(small_bike(loads, inputs))
    subjects = (
        "'power' is given without a 'kind'", "'brake lamp'", "'main beam'", "'left indicator'", "'right indicator'",
        "'horn'", "of 'ignition coil' to earth", "'fan'", "'heated grips'", "works 'starter solenoid'",
        "'starter solenoid' draw", "'fuel pump' runs?", "what stops the engine", "cranking in gear",
        "a side stand", "'fall sensor'",
    )  # fmt: skip
    missing = [subject for subject in subjects if not any(subject in problem.what for problem in problems)]
    assert (missing, len(problems)) == ([], len(subjects))
    answered = [load.replace("power: 5 W", "power: 5 W, kind: led") for load in loads]
    answered[7] = "{part: coil, at: engine, current: 3 A, switched_by: engine controller}"
    answered[10] = "{part: starter relay, at: engine, current: 9 A, pull_in: 30 A}"
    switches = [
        "{part: tip-over sensor, at: seat tray, goes_to: unit}", FRONT, REAR, "{part: dip switch, at: left handlebar}",
        "{part: indicator switch, at: left handlebar}", "{part: horn button, at: left handlebar}",
        "{part: fan request, at: seat tray}", "{name: grips switch, at: left handlebar, operates: [heated grips]}",
        BUTTON, NEUTRAL, STAND, STOP, "{part: pump request, at: seat tray}",
    ]  # fmt: skip
    assert told(small_bike(answered, switches, "pump_by: controller")) == ()


def test_an_engine_of_which_nothing_is_said_is_asked_for_its_stops_too() -> None:
    """Whether the unit can stop it, by which switch, and the stand: in one run, not one after the other."""
    assert len(asked([SOCKET])) == 3
    assert asked([SOCKET], (), OWN_SPARK) == []


@pytest.mark.parametrize(
    "load",
    [
        "{part: tail lamp, at: tail, lamp: P21/5W tail}",
        "{part: dipped beam, at: headlamp shell, lamp: H7}",
        "{part: dash, at: headlamp shell, current: 0.4 A}",
        "{part: socket, at: headstock, current: 2 A}",
        "{part: alarm, at: seat tray, current: 50 mA}",
        "{part: lambda heater, at: engine, current: 1 A}",
        "{name: anything, at: tail, current: 1 A}",
        "{part: horn, at: headstock, current: 4 A, own_switch: headstock}",
    ],
)
def test_what_cannot_hurt_is_not_asked(load: str) -> None:
    """Lamps that are simply on, a dash, sockets, and what nobody said the part of."""
    assert asked([load], (), OWN_SPARK) == []


@pytest.mark.parametrize("held", ["current: 8 A", "power: 112 W", "current: 9 A, pull_in: 30 A", "current: 3 A"])
def test_a_small_solenoid_is_not_asked_how_it_pulls(held: str) -> None:
    """Up to 8 A, 112 W at 14 V, it is held with what it pulls in with, near enough."""
    load = f"{{part: starter solenoid, at: engine, {held}}}"
    assert asked([load], [BUTTON, NEUTRAL, STAND], OWN_SPARK) == []


def test_a_solenoid_on_the_starter_motor_is_asked_how_it_pulls() -> None:
    """One that sits where the starter is throws its pinion too: 25 to 40 A for a moment."""
    supply = "supply: {running: 14.0 V, battery: {capacity: 10 Ah, at: seat tray}"
    text = small_bike([CRANK], [BUTTON, NEUTRAL, STAND], OWN_SPARK)
    there = text.replace(supply, f"{supply}, starter: {{draws: 120 A, at: engine}}")
    assert "what does 'starter solenoid' draw as it pulls in?" in "\n".join(problem.what for problem in told(there))
    assert told(there.replace("current: 3 A}", "current: 3 A, pull_in: 30 A}")) == ()


def test_brake_switches_with_a_use_are_not_asked_what_they_light() -> None:
    """What they operate, an automatic's starter, and a lamp whose word is not yet clear are each answer enough."""
    lit = "{name: stop, at: tail, lamp: P21W}"
    works = [entry.replace("}", ", operates: [stop]}") for entry in (FRONT, REAR)]
    assert asked([lit], works, OWN_SPARK) == []
    assert asked([CRANK], [BUTTON, STAND, REAR], OWN_SPARK, "clutch: automatic") == []
    unclear = asked(["{part: rear light, at: tail, lamp: P21W}"], [FRONT, REAR], OWN_SPARK)
    assert [line for line in unclear if not line.startswith("once the entry in line 19 is a tail lamp: ")] == [
        "'rear light' may be several parts"
    ]
    assert asked([SOCKET], [REAR], OWN_SPARK) == [
        "what does 'rear brake switch' light? there is no brake lamp on the bike"
    ]


def test_one_brake_is_not_asked_for_its_other_switch() -> None:
    """Where the file says that there is one brake, or one switch for two, that is the answer."""
    for key in ("brakes: one", "brakes: two, one switch"):
        assert asked([LAMP.replace("%s", "")], [FRONT], OWN_SPARK, key) == []


def test_a_mode_that_is_written_says_who_runs_the_pump() -> None:
    """``mode: engine-run`` of a pump beside a controller answers who runs it."""
    pump = PUMP.replace("%s", ", mode: engine-run")
    assert asked([pump, ECU], [*RUN, TACHO]) == []


def test_tell_tales_that_nothing_feeds_are_asked_what_does() -> None:
    """A tell-tale without an indicator on the bike would only be lit with the key; ``from`` or ``when`` says more."""
    lamp = "{part: indicator tell-tale, at: headlamp shell, power: 1 W}"
    question = "what feeds 'indicator tell-tale'? no load on the bike is a left indicator or a right indicator"
    assert asked([SOCKET, lamp], (), OWN_SPARK) == [question]
    assert asked([SOCKET, lamp.replace("}", ", when: [hazard]}")], (), OWN_SPARK) == []


def test_made_and_normally_may_not_differ() -> None:
    """A contact that is made at run is closed at rest; two keys that say otherwise are refused."""
    switch = "{part: kill switch, at: right handlebar, made: run, normally: open}"
    assert asked([SOCKET], [switch], OWN_SPARK) == [
        "'made: run' and 'normally' say different things of 'engine stop switch'"
    ]


def test_a_position_that_the_switch_does_not_have_is_refused() -> None:
    """A stand is up or down."""
    said = told(small_bike([SOCKET], ["{part: stand switch, at: engine, made: pulled}"], OWN_SPARK))
    assert [(one.what, one.right) for one in said] == [
        ("the contact of 'side stand switch' is not made at 'pulled'", "write 'made: up' or 'made: down'")
    ]

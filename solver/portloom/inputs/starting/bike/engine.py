"""What is asked of a bike's engine: its spark, its fuel, how it starts, and what stops it."""

from collections.abc import Iterator

from portloom.base.parts import loads, switches
from portloom.inputs.editing.splicing import Plain
from portloom.inputs.starting.answers import Answers
from portloom.inputs.starting.bike.entries import load_line, switch_line
from portloom.inputs.starting.bike.known import (
    BOX,
    BOX_ALONE,
    CONTROLLER,
    OWN,
    POINTS,
    SWITCHED_BY,
    cranks,
    has_controller,
    has_lamp,
    needs_speed,
    others_of,
    runs_by_unit,
)
from portloom.inputs.starting.kinds import Choice, Kind, OneOf
from portloom.inputs.starting.lines import Line
from portloom.inputs.starting.question import Question, Questions

MEASURE_IT = "Measure across the contact, or see the maker's diagram; do not guess."


def _of_parts(answers: Answers, *names: str) -> Iterator[Line]:
    for load in others_of(answers):
        if load.name in names:
            yield load_line(answers, load, _more(answers, load.name))


def _more(answers: Answers, name: str) -> dict[str, Plain]:
    """Return what a load's line says beside its part, place and figure."""
    if name == loads.IGNITION_COIL.name:
        return {"switched_by": SWITCHED_BY[answers["spark"]]}
    if name == loads.STARTER_SOLENOID.name and "pull in" in answers:
        return {"pull_in": answers["pull in"]}
    return {}


def _spark_lines(answers: Answers) -> Iterator[Line]:
    yield from _of_parts(answers, *loads.SPARKING)
    if answers["spark"] == OWN:
        yield Line(("ignition",), "own")


def _pump_lines(answers: Answers) -> Iterator[Line]:
    yield Line(("pump_by",), answers["pump by"])
    if answers["pump by"] == "controller":
        yield switch_line(answers, switches.PUMP_REQUEST)


def _starter_lines(answers: Answers) -> Iterator[Line]:
    if cranks(answers):
        yield from _of_parts(answers, loads.STARTER_SOLENOID.name)
        yield switch_line(answers, switches.STARTER_BUTTON)
    else:
        yield Line(("supply", "cranking"), "11.5 V", "a kick start does not load the battery")


def _stop_lines(answers: Answers) -> Iterator[Line]:
    if answers["engine stop"] == "key":
        yield Line(("engine_stop",), "key")
    else:
        yield switch_line(answers, switches.ENGINE_STOP_SWITCH, {"made": answers["engine stop"]})


def _stand_lines(answers: Answers) -> Iterator[Line]:
    if answers["stand"] in ("up", "down"):
        yield switch_line(answers, switches.SIDE_STAND_SWITCH, {"made": answers["stand"]})
    else:
        yield Line(("stand",), answers["stand"])


def _clutch_lines(answers: Answers) -> Iterator[Line]:
    if answers["clutch"] == "automatic":
        yield Line(("clutch",), "automatic")
    elif answers["clutch"] != "no switch":
        yield switch_line(answers, switches.CLUTCH_SWITCH, {"made": answers["clutch"]})


def _neutral(answers: Answers) -> Kind:
    """A starter that nothing holds back in gear is no choice."""
    held = answers.get("clutch") in ("pulled", "released")
    held = held or (answers.get("clutch") == "automatic" and has_lamp(answers, loads.BRAKE_LAMP.name))
    none = (Choice("none", "there is no such switch"),) if held else ()
    return OneOf((Choice("neutral", "its contact is made (closed) in neutral"), Choice("gear", "made in gear"), *none))


def _neutral_lines(answers: Answers) -> Iterator[Line]:
    if answers["neutral"] == "gear":
        yield switch_line(answers, switches.NEUTRAL_SWITCH, {"made": "gear"})
    elif answers["neutral"] == "neutral":
        yield switch_line(answers, switches.NEUTRAL_SWITCH)


def _fall(answers: Answers) -> Kind:
    controller = (Choice("controller", "it tells the engine controller"),) if has_controller(answers) else ()
    return OneOf((Choice("none"), Choice("unit", "it tells the unit, which cuts ignition and pump"), *controller))


def _fall_lines(answers: Answers) -> Iterator[Line]:
    if answers[switches.FALL_SENSOR.name] != "none":
        yield switch_line(answers, switches.FALL_SENSOR, {"goes_to": answers[switches.FALL_SENSOR.name]})


OF_ENGINE: Questions = (
    Question(
        "spark", "engine", "What makes the spark?",
        lambda _: OneOf((
            Choice(POINTS, "a coil, its other end to a contact breaker"),
            Choice(BOX, "a coil, its other end to an ignition box"),
            Choice(CONTROLLER, "a coil, its other end to an engine controller"),
            Choice(BOX_ALONE, "an ignition box with its coil inside"),
            Choice(OWN, "a magneto, or a box that the alternator feeds"),
        )),
        helps="By it the unit can stop the engine, or can not.",
        asked=True, writes=_spark_lines,
    ),
    Question(
        "fuel", "engine", "Is anything electric on the fuel?",
        lambda _: OneOf((
            Choice("none", "it runs down by itself"), Choice("pump", "an electric fuel pump"),
            Choice("tap", "a solenoid at the fuel tap"),
        )),
        usual=lambda a: "pump" if has_controller(a) else "none",
        writes=lambda a: _of_parts(a, loads.FUEL_PUMP.name, loads.FUEL_TAP_SOLENOID.name),
    ),
    Question(
        "pump by", "engine", "Who decides when the fuel pump runs?",
        lambda _: OneOf((
            Choice("controller", "the engine controller asks for it by a wire (its relay wire)"),
            Choice("unit", "the unit runs it while the engine turns"),
        )),
        asked=True, when=lambda a: a.get("fuel") == "pump" and has_controller(a), writes=_pump_lines,
    ),
    Question(
        "engine speed", "engine", "Where does the unit take the signal that the engine turns?",
        lambda _: OneOf((
            Choice("tacho", "a tacho wire of 12 V"), Choice("coil", "the coil's switched side, up to 400 V"),
            Choice("stator", "a phase of the alternator, up to 80 V"),
        )),
        "Its pulses are that high; a wrong guess can kill an input.", asked=True, when=needs_speed,
        writes=lambda a: [switch_line(a, switches.ENGINE_SPEED_SIGNAL, {"from": a["engine speed"]})],
    ),
    Question(
        "starter", "engine", "How does it start?",
        lambda _: OneOf((
            Choice("button", "a starter button tells the unit, which works the solenoid"),
            Choice("kick", "a kick start; no electric starter"),
        )),
        usual=lambda _: "button", asked=True, writes=_starter_lines,
    ),
    Question(
        "key", "engine", "What does the key switch put on its wire to the unit?",
        lambda _: OneOf((
            Choice("earth", "it takes the wire to earth"), Choice("supply", "it puts battery plus on it"),
        )),
        usual=lambda _: "earth",
        writes=lambda a: [switch_line(a, switches.KEY_SWITCH, {"signal": "supply"} if a["key"] == "supply" else {})],
    ),
    Question(
        "engine stop", "engine", "When is the contact of the engine stop switch made (closed)?",
        lambda _: OneOf((
            Choice("run", "made at RUN: a broken wire stops the engine"),
            Choice("stop", "made at STOP: a broken wire lets it run on"),
            Choice("key", "there is no such switch: the key alone stops it"),
        )),
        MEASURE_IT, asked=True, when=runs_by_unit, writes=_stop_lines,
    ),
    Question(
        "stand", "engine", "When is the contact of the side stand switch made (closed)?",
        lambda _: OneOf((
            Choice("up", "made with the stand up"), Choice("down", "made with it down"),
            Choice("none", "there is no side stand"),
            Choice("no switch", "a side stand without one: the engine can run with it down"),
        )),
        MEASURE_IT, asked=True, when=lambda a: runs_by_unit(a) or cranks(a), writes=_stand_lines,
    ),
    Question(
        "clutch", "engine", "When is the contact of the clutch switch made (closed)?",
        lambda _: OneOf((
            Choice("pulled", "made with the lever pulled"), Choice("released", "made with the lever let go"),
            Choice("no switch", "a lever without one"), Choice("automatic", "there is no clutch lever"),
        )),
        f"A wrong guess cranks in gear. {MEASURE_IT}", asked=True, when=cranks, writes=_clutch_lines,
    ),
    Question(
        "neutral", "engine", "Is there a neutral switch, and when is its contact made?", _neutral,
        usual=lambda _: "neutral", asked=True, when=cranks, writes=_neutral_lines,
    ),
    Question(
        switches.FALL_SENSOR.name, "engine", "Is there a fall sensor, and whom does it tell?", _fall,
        usual=lambda _: "none", when=runs_by_unit, writes=_fall_lines,
    ),
)  # fmt: skip

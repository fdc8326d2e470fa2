"""What is asked of a bike's other loads, of what works them, of what they draw, and of what a dash shows."""

from collections.abc import Iterator

from portloom.base.parts import loads, switches
from portloom.base.parts.loads import LOAD_PART
from portloom.inputs.editing.splicing import Plain
from portloom.inputs.parts.entry_questions import HIGH_PULL
from portloom.inputs.starting.answers import Answers, as_list, several
from portloom.inputs.starting.bike.entries import HEATED, HORNS, load_line, own_line, past_the_unit, switch_line
from portloom.inputs.starting.bike.known import (
    INDICATORS,
    example_of,
    figure,
    frame_of,
    has_controller,
    has_extra,
    has_lamp,
    load_figure,
    meant,
    others_of,
    usual_figure,
)
from portloom.inputs.starting.kinds import Amount, Cell, Choice, Kind, OneOf, SomeOf, Table
from portloom.inputs.starting.lines import Line
from portloom.inputs.starting.question import Question, Questions
from portloom.inputs.tree import CURRENT

EXTRAS = tuple(
    Choice(part.name)
    for part in (
        loads.HORN, loads.COMPRESSOR_HORN, loads.FAN, loads.DASH, loads.HEATED_GRIPS, loads.HEATED_SEAT,
        loads.HEATED_VEST, loads.SOCKET, loads.SATELLITE_NAVIGATION, loads.ALARM, loads.TRACKER, loads.IMMOBILISER,
        loads.INJECTORS, loads.LAMBDA_HEATER, loads.QUICKSHIFTER,
    )
)  # fmt: skip


def _extras(answers: Answers) -> Kind:
    """A bike has one load at least."""
    nothing_yet = not several(answers, "lamps") and not any(others_of(answers))
    return SomeOf(EXTRAS, meant, least=1 if nothing_yet else 0)


OWN_OR_UNIT = {"switch": "a switch that tells the unit", "own": "a switch of its own, past the unit"}


def _extra_lines(answers: Answers) -> Iterator[Line]:
    for load in others_of(answers):
        if load.name in several(answers, "extras"):
            yield load_line(answers, load, _more(answers, load.name))


def _more(answers: Answers, name: str) -> dict[str, Plain]:
    """Return what a load's line says beside its part, place and figure."""
    fed = example_of(LOAD_PART[name]).get("fed", "")
    if name in HORNS and answers.get("horn by") == "own":
        return past_the_unit(answers, fed or "fuse")
    if name in HEATED and answers.get("heat by") == "own":
        return past_the_unit(answers, "fuse")
    if name in HEATED and answers.get("heat by") == "level":
        return {"mode": "dim", "dim_to": "60 %"}
    if name == loads.FAN.name and answers.get("fan by") == "own":
        return past_the_unit(answers, "relay", usual=frame_of(answers).point(name, "radiator"))
    if name == loads.DASH.name and several(answers, "dash shows"):
        return {"shows": [*_shown(answers)]}
    return {"fed": fed} if fed else {}


def _shown(answers: Answers) -> Iterator[str]:
    for what in several(answers, "dash shows"):
        yield from ("left indicators", "right indicators") if what == INDICATORS else (what,)


def _heat_lines(answers: Answers) -> Iterator[Line]:
    if answers["heat by"] == "switch":
        yield own_line(answers, "heat switch", [name for name in several(answers, "extras") if name in HEATED])


def _fan(answers: Answers) -> Kind:
    request = (Choice(switches.FAN_REQUEST.name, "the engine controller's wire"),) if has_controller(answers) else ()
    return OneOf((
        Choice(switches.TEMPERATURE_SWITCH.name, "a thermo switch, read by the unit"), *request,
        Choice("own", "a relay and a thermo switch of its own, past the unit"),
    ))  # fmt: skip


def _fan_lines(answers: Answers) -> Iterator[Line]:
    if answers["fan by"] == switches.FAN_REQUEST.name:
        yield switch_line(answers, switches.FAN_REQUEST)
    elif answers["fan by"] != "own":
        yield switch_line(answers, switches.TEMPERATURE_SWITCH, {"operates": [loads.FAN.name]})


ONLY_SHOWN = (switches.OIL_PRESSURE_SWITCH, switches.FUEL_LEVEL_SENDER, switches.SPEED_SENSOR)


def _may_be_shown(answers: Answers) -> list[str]:
    """Return what there is for a dash to show: what is on the bike already first."""
    there = [switches.NEUTRAL_SWITCH.name] if answers.get("neutral") in ("neutral", "gear") else []
    there += [loads.MAIN_BEAM.name] if has_lamp(answers, loads.MAIN_BEAM.name) else []
    return there + ([INDICATORS] if has_lamp(answers, INDICATORS) else [])


def _dash(answers: Answers) -> Kind:
    more = [part.name for part in (*ONLY_SHOWN, switches.TEMPERATURE_SWITCH)]
    return SomeOf(tuple(map(Choice, (*_may_be_shown(answers), *more))), meant)


def _dash_lines(answers: Answers) -> Iterator[Line]:
    """What is on the bike only for the dash comes with it."""
    shown = several(answers, "dash shows")
    for part in ONLY_SHOWN:
        if part.name in shown:
            more: dict[str, Plain] = {key: said for key, said in example_of(part).items() if key != "at"}
            yield switch_line(answers, part, more)
    if switches.TEMPERATURE_SWITCH.name in shown and answers.get("fan by") != switches.TEMPERATURE_SWITCH.name:
        yield switch_line(answers, switches.TEMPERATURE_SWITCH)


def _draws(answers: Answers) -> Table:
    cells = {load.row: Cell(usual_figure(load), load_figure) for load in others_of(answers)}
    return Table(cells, f"{next(iter(cells), loads.HORN.name)}: 3.5 A")


def _pulls_hard(answers: Answers) -> bool:
    """Tell whether the solenoid is held with so much that it draws much more as it pulls in."""
    solenoid = next((load for load in others_of(answers) if load.part is loads.STARTER_SOLENOID), None)
    if solenoid is None:
        return False
    drawn, _ = figure(answers, solenoid)
    return CURRENT.parse(drawn["current"]) > HIGH_PULL if "current" in drawn else True


OF_EXTRAS: Questions = (
    Question(
        "extras", "extras", "What else draws current?", _extras,
        "Leave out starter motor, regulator, alternator and ABS: never on the unit.",
        lambda a: as_list(frame_of(a).extras), writes=_extra_lines,
    ),
    Question(
        "horn by", "extras", "What works the horn?",
        lambda _: OneOf((
            Choice("button", "a horn button that tells the unit"),
            Choice("own", "a button that carries its current, past the unit"),
        )),
        usual=lambda _: "button", asked=True, when=lambda a: has_extra(a, *HORNS),
        writes=lambda a: [switch_line(a, switches.HORN_BUTTON)] if a["horn by"] == "button" else [],
    ),
    Question(
        "fan by", "extras", "What switches the fan?", _fan,
        usual=lambda _: switches.TEMPERATURE_SWITCH.name, asked=True, when=lambda a: has_extra(a, loads.FAN.name),
        writes=_fan_lines,
    ),
    Question(
        "heat by", "extras", "What works the heated things?",
        lambda _: OneOf((
            Choice("switch", OWN_OR_UNIT["switch"]),
            Choice("level", "nobody: on by day and night, dimmed to 60 %"),
            Choice("own", OWN_OR_UNIT["own"]),
        )),
        usual=lambda _: "switch", asked=True, when=lambda a: has_extra(a, *HEATED), writes=_heat_lines,
    ),
    Question(
        "dash shows", "extras", "What does the dash show, by a wire of its own?", _dash,
        usual=lambda a: as_list(_may_be_shown(a)), when=lambda a: has_extra(a, loads.DASH.name), writes=_dash_lines,
    ),
    Question(
        "draws", "extras", "What does each of them draw? It stands on it, or a clamp meter tells.", _draws,
        "Amperes as they flow for minutes; of a heater watts will do: 36 W.",
        lambda _: "", when=lambda a: any(others_of(a)),
    ),
    Question(
        "pull in", "extras", "What does the starter solenoid draw for a moment, as it pulls in?",
        lambda _: Amount(CURRENT, "8 A", "60 A"),
        "25 to 40 A are usual for one that is held with more than 8 A: measure it with a meter that keeps a peak.",
        asked=True, when=_pulls_hard,
    ),
)  # fmt: skip

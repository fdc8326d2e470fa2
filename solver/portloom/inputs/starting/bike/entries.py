"""The lines of a bike's loads and switches: what each is, where it sits, and what its builder said of it."""

from collections.abc import Mapping

from portloom.base.parts import loads, switches
from portloom.base.parts.shapes import SwitchPart
from portloom.inputs.editing.splicing import Plain
from portloom.inputs.starting.answers import Answers, rows, several
from portloom.inputs.starting.bike.known import LoadAsked, example_of, figure, frame_of
from portloom.inputs.starting.lines import ITEM, Line

LOADS, INPUTS = ("loads", ITEM), ("inputs", ITEM)
MEASURE = "measure"
READ_IT = "usual"
BARS = "left handlebar"
"""Where a switch of the builder's own usually is."""
SUPPLIED = "supply switches"
"""Those that put battery plus on their wire."""
SITS = ("lamps sit", "loads sit", "switches sit")
"""The tables of where things sit."""


def usual_point(answers: Answers, load: LoadAsked) -> str:
    """Return the frame point where a load usually sits."""
    frame = frame_of(answers)
    if load.part is loads.RIGHT_INDICATOR and frame.right_indicators:
        return frame.right_indicators[0 if load.name.startswith("front") else 1]
    front = load.name.startswith("front ") and load.part.name in loads.SIDES
    return frame.point(load.part.name, "headlamp shell" if front else example_of(load.part)["at"])


def usual_point_of_switch(answers: Answers, part: SwitchPart | None) -> str:
    """Return the frame point where a switch usually sits."""
    return BARS if part is None else frame_of(answers).point(part.name, example_of(part)["at"])


def point_of(answers: Answers, name: str, usual: str) -> str:
    """Return the frame point where a thing sits, as it is said or is usual."""
    said = (rows(answers, key).get(name) for key in SITS)
    return next((point for point in said if point), usual)


def load_line(answers: Answers, load: LoadAsked, more: Mapping[str, Plain] | None = None) -> Line:
    """Return the line of a load, with keys of its own."""
    named = {} if load.name == load.part.name else {"name": load.name}
    drawn, said = figure(answers, load)
    at = point_of(answers, load.name, usual_point(answers, load))
    comment = "" if said else READ_IT if load.part.is_lamp else MEASURE
    return Line(LOADS, {**named, "part": load.part.name, "at": at, **drawn, **(more or {})}, comment)


def switch_line(answers: Answers, part: SwitchPart, more: Mapping[str, Plain] | None = None) -> Line:
    """Return the line of a switch that the catalogue has."""
    at = point_of(answers, part.name, usual_point_of_switch(answers, part))
    by_wire = part.by_frame and at not in frame_of(answers).fixed
    back: dict[str, Plain] = {"return": "wire"} if by_wire else {}
    return Line(INPUTS, {"part": part.name, "at": at, **(more or {}), **_signal(answers, part.name), **back})


def _signal(answers: Answers, name: str) -> dict[str, Plain]:
    """Return the key of a switch that puts battery plus on its wire, and not earth as most do."""
    return {"signal": "supply"} if name in several(answers, SUPPLIED) else {}


def own_line(answers: Answers, name: str, operates: list[str]) -> Line:
    """Return the line of a switch that is there for some loads alone, and stays as it is put."""
    at = point_of(answers, name, BARS)
    return Line(INPUTS, {"name": name, "at": at, "action": "latch", "operates": operates, **_signal(answers, name)})


def past_the_unit(answers: Answers, fed: str, name: str = "", usual: str = BARS) -> dict[str, Plain]:
    """Return the keys of a load that a switch of its own works, which the unit knows nothing of."""
    return {"fed": fed, "own_switch": point_of(answers, name, usual)}


HORNS = (loads.HORN.name, loads.COMPRESSOR_HORN.name)
HEATED = (loads.HEATED_GRIPS.name, loads.HEATED_SEAT.name, loads.HEATED_VEST.name)
SEEN_BY = (loads.SPOT_LAMP.name, loads.FRONT_FOG_LAMP.name, loads.REAR_FOG_LAMP.name)
"""Lamps that have a switch of their own."""
DIP_BUTTON = "dip button"
"""A dip switch that springs back."""
WORKING_BEAMS = {
    switches.DIP_SWITCH.name: "stays where it is put, high or low",
    DIP_BUTTON: "springs back; each push changes the beam",
    switches.FLASH_BUTTON.name: "main beam while it is held",
}

"""Names that look like a part: for warnings only, no rule ever reads a name.

Source: common practice, no source.
"""

import re

from portloom.base.bike import Part

_LIKE: tuple[tuple[str, Part], ...] = (
    (r"dip(ped)?( |-)?(beam|light|lamp)?|low beam", "dipped beam"),
    (r"(main|high|full)( |-)?beam", "main beam"),
    (r"brake (lamp|light)|stop (lamp|light)", "brake lamp"),
    (r"(tail|rear) (lamp|light)", "tail lamp"),
    (r"(number |licen[cs]e )?plate (lamp|light)", "plate lamp"),
    (r"(position|parking) (lamp|light)", "position lamp"),
    (r"(daytime|daylight) (running )?(lamp|light)", "daytime lamp"),
    (r".*left (indicator|turn signal|winker)", "left indicator"),
    (r".*right (indicator|turn signal|winker)", "right indicator"),
    (r"horn", "horn"),
    (r"ignition( coils?)?", "ignition"),
    (r"(engine controller|engine control unit|ecu)", "engine controller"),
    (r"(fuel|petrol) pump", "fuel pump"),
    (r"(starter|start) (solenoid|relay)", "starter solenoid"),
    (r"(radiator |cooling )?fan", "fan"),
)


_KEPT_OFF: tuple[tuple[str, str], ...] = (
    (r"(electric )?start(er|ing)? motor", "starter motor"),
    (r"(voltage )?(regulator|rectifier)( ?[/+&-]? ?(regulator|rectifier))?|reg ?[/-]? ?rect?", "regulator"),
    (r"alternator|generator|stator", "alternator"),
    (r"abs( ?-?(unit|pump|module|modulator|controller|ecu))?", "ABS"),
    (r"air ?bag.*", "airbag"),
)
KEPT_OFF = {
    "starter motor": "it draws a hundred amperes or more, through its own cable and solenoid",
    "regulator": "its lead goes to the battery side, through a fuse of its own",
    "alternator": "it supplies current, through the regulator and a fuse of its own, and needs no output",
    "ABS": "it keeps its maker's own fuses and wiring",
    "airbag": "it keeps its maker's own fuses and wiring",
}
"""What no output of a unit may feed, and why."""


def kept_off_like(name: str) -> str | None:
    """Return what a name looks like that belongs on no output of a unit, or None."""
    words = " ".join(name.lower().split())
    return next((what for pattern, what in _KEPT_OFF if re.fullmatch(pattern, words)), None)


def part_like(name: str) -> Part | None:
    """Return the part that a load's name looks like, or None."""
    words = name.strip().lower()
    return next((part for pattern, part in _LIKE if re.fullmatch(pattern, words)), None)

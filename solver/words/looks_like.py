"""Names that look like a part: for warnings only, no rule ever reads a name.

Source: common practice, no source.
"""

import re

from solver.words.bike import Part

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


def part_like(name: str) -> Part | None:
    """Give the part that a load's name looks like, or None."""
    words = name.strip().lower()
    return next((part for pattern, part in _LIKE if re.fullmatch(pattern, words)), None)

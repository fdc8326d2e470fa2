"""What is hinted for a word under ``shows`` that names nothing: what the bike has of what the word means.

Common practice, no source.
"""

from collections.abc import Iterator, Sequence

from portloom.base.figures import with_article
from portloom.base.nearest import and_list, nearest, or_list
from portloom.base.parts import switches
from portloom.base.parts.loads import LOAD_PART, SIDES
from portloom.base.parts.words import phrase_of, words_within
from portloom.inputs.parts.asking import Asking
from portloom.inputs.parts.entries import BikeEntries
from portloom.inputs.parts.unclear import SLIP

OF_WORD = {
    "fuel": switches.FUEL_LEVEL_SENDER.name,
    "petrol": switches.FUEL_LEVEL_SENDER.name,
    "oil": switches.OIL_PRESSURE_SWITCH.name,
    "temperature": switches.TEMPERATURE_SWITCH.name,
    "temp": switches.TEMPERATURE_SWITCH.name,
    "neutral": switches.NEUTRAL_SWITCH.name,
    "stand": switches.SIDE_STAND_SWITCH.name,
    "speed": switches.SPEED_SENSOR.name,
}
"""What a dash reads, by a word for it that is no part by itself: 'oil light'."""
MOST = 6
"""So many names are listed; more are counted."""


def hint_of_shown(said: str, bike: BikeEntries) -> str:
    """Say what would be right for a word under ``shows``; what sounds like it and is another thing is never named."""
    parts = _parts_meant(said)
    names = list(dict.fromkeys(name for part in parts for name in _names(part, bike)))
    if names:
        quoted = [f"'{name}'" for name in names]
        both = set(SIDES) <= set(parts)
        return f"write {and_list(quoted) if both else or_list(quoted)}"
    if len(parts) == 1:
        if parts[0] in LOAD_PART:
            return f"leave it out, or add {with_article(parts[0])} to 'loads'; there is none on the bike"
        line = Asking(bike, ()).line(parts[0], "engine")
        return f"add to 'inputs' {line}, or leave it out; there is none on the bike"
    known = [*(entry.name for entry in bike.inputs), *(entry.name for entry in bike.loads)]
    near = None if parts else nearest(said, known, SLIP)
    return f"write '{near}'" if near else f"name an input, a load on the bike, or a group of loads: {_short(known)}"


def _parts_meant(said: str) -> Sequence[str]:
    """Return the parts that a word may mean; of both sides' indicators no other is meant."""
    meant = words_within(said)
    if meant is not None and meant.sort == "asked":
        return SIDES if set(SIDES) <= set(meant.choices) else meant.choices
    if meant is not None and meant.sort in ("load", "switch") and meant.name:
        return (meant.name,)
    return [OF_WORD[word] for word in phrase_of(said) if word in OF_WORD][:1]


def _names(part: str, bike: BikeEntries) -> Iterator[str]:
    """Return how a dash's ``shows`` may name what the bike has of a part: by its group, or by the first of it."""
    loads = list(bike.of(part))
    group = LOAD_PART[part].group if part in SIDES else None
    if loads:
        yield group if group is not None and loads[0].says("share") == (group,) else loads[0].name
    yield from (entry.name for entry in bike.inputs if entry.part is not None and entry.part.name == part)


def _short(names: Sequence[str]) -> str:
    if len(names) <= MOST:
        return or_list(names)
    return f"{', '.join(names[:MOST])} or one of {len(names) - MOST} more"

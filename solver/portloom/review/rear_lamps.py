"""Brake and tail lamps as people name them on an output: 'brake', 'stop & tail', 'rear LED (run/brake)'.

On an output 'brake' and 'stop' are the lamp, since a switch is never there; and with 'tail' beside them both lamps
are on it. Common practice, no source.
"""

import re
from dataclasses import replace

from portloom.base.parts.loads import BRAKE_LAMP, TAIL_LAMP
from portloom.base.parts.words import words_within
from portloom.review.post import TextCell

BRAKE = re.compile(r"\b(?:brakes?|brk|stop)(?:lights?|lamps?)?\b", re.IGNORECASE)
TAIL = re.compile(r"\b(?:tail|run(?:ning)?)(?:lights?|lamps?)?\b", re.IGNORECASE)
FILLED = re.compile(
    r"\b(?:lights?|lamps?|leds?|bulbs?|filaments?|combo|combined|combination|cluster|assembly|twin|dual|integrated|"
    r"unit|rear|back|with|and|plus|in|one|the|my|a)\b|\S*\d\S*|[\W_]+",
    re.IGNORECASE,
)
"""What may stand beside them in such a name."""


def lamps_at_rear(text: str) -> tuple[str, ...]:
    """Return which of brake and tail lamp a name on an output means; none where it says anything else."""
    if BRAKE.search(text) is None or FILLED.sub("", TAIL.sub("", BRAKE.sub("", text))):
        return ()
    return (BRAKE_LAMP.name, TAIL_LAMP.name) if TAIL.search(text) else (BRAKE_LAMP.name,)


def told_apart(thing: TextCell) -> tuple[TextCell, ...]:
    """Return a name on an output, or the lamps where it speaks of them without saying that they are lamps."""
    lamps, words = lamps_at_rear(thing.text), words_within(thing.text)
    if not lamps or (len(lamps) == 1 and words is not None and words.sort == "load"):
        return (thing,)
    return tuple(replace(thing, text=lamp) for lamp in lamps)

"""Lines of a post that speak of the main fuse, or of what belongs on no port. Common practice, no source."""

import re
from collections.abc import Iterable

from portloom.base.parts.others import STARTER_MOTOR
from portloom.base.parts.words import words_within
from portloom.review.figures import CURRENT, LOWER, current_said, split_figures
from portloom.review.post import TextCell, cell_of

FUSE = re.compile(r"\b(?:un)?fused?s?\b", re.IGNORECASE)
NONE = re.compile(r"\b(?:no|none|not|without|w/o|missing|unfused|never|nothing|isn't|"
                  r"don't|dont|didn't|doesn't|haven't|hasn't|skip|skipped|omitted|removed|left out|forgot)\b",
                  re.IGNORECASE)  # fmt: skip
ABOUT_FEED = re.compile(
    r"\b(?:main|master|battery|feed|supply|fuses?|fused|unfused|lead|cable|wire|unit|positive|pos|plus|runs?|"
    r"goes|straight|direct|directly|fed|powered|wired|connected|supplied|power|next|near|yet|still|later|"
    r"to|come|from|at|on|the|a|an|is|are|there|was|has|have|in|of|with|my|i|it|only|just|close|by|behind|"
    r"between|and|size|rating|rated|blade|maxi|midi|mega|holder|line|inline|for|will|be|terminal|no|none|"
    r"not|without|w/o|missing|never|nothing|isn't|don't|dont|didn't|doesn't|haven't|hasn't|skip|skipped|omitted|"
    r"removed|left|out|forgot|do|did|does|need|needs|needed|required|necessary|use|used|fit|this|inside|we|so|since|"
    r"because|fine|ok|okay|enough|fitted|big|amps?)\b"
    r"|[\W\d_]+|(?<=\d)a\b",
    re.IGNORECASE,
)
"""What a line on the main fuse is made of."""
CLAUSE = re.compile(r"[,;(]|\bthrough\b|\bwith\b|\bto\b")
SAYS_NONE = re.compile(
    r"(?:none|no|no fuse|nothing|without|without (?:a |any )?fuse|unfused|not|missing|skipped|omitted|removed|left out)"
    r"(?: (?:fitted|fused|yet|there|at all|needed|required|necessary|used))*\.?",
    re.IGNORECASE,
)
OF_THE_UNIT = re.compile(
    r"\W*(?:(?:all|the|its|my|electronic|output|outputs'?)\s+)*fuses?\s+(?:is|are)\s+(?:all\s+)?"
    r"(?:inside|internal|electronic|built[- ]in|in)(?:\s+(?:of|the|it|this|unit|box))*\W*",
    re.IGNORECASE,
)
"""What is said of the unit's own fuses, which protect no feed."""
SENTENCE = re.compile(r"[.!?;](?=\s)")
MOST_OF_A_COIL = 60_000
"""mA above which a 'starter' is the motor: no solenoid of one draws as much."""
ON_UNIT = re.compile(r"\b(?:unit|unit's|controller|module|box|feed|output|input|out|in)\b", re.IGNORECASE)
AT_BATTERY = re.compile(r"\b(?:battery|solenoid|relay)\b", re.IGNORECASE)


def says_no_fuse(text: str) -> bool:
    """Tell whether what is said of the main fuse is that there is none."""
    return SAYS_NONE.fullmatch(text.strip()) is not None


def is_about_main_fuse(text: str) -> bool:
    """Tell whether a line speaks of the main fuse and of nothing else."""
    return FUSE.search(text) is not None and not ABOUT_FEED.sub("", text).strip()


def lacks_fuse(text: str) -> bool:
    """Tell whether a line that is about the main fuse says that there is none."""
    return NONE.search(text) is not None


def fuse_within(cell: TextCell) -> TextCell | None:
    """Return the current in a line about the main fuse; None where there is none."""
    found = CURRENT.search(cell.text.translate(LOWER))
    if found is None:
        return None
    amount = re.search(rf"{found['number']}\s?{found['unit']}", cell.text.translate(LOWER))
    return None if amount is None else TextCell(amount[0], cell.line, cell.column + amount.start())


def kept_off_within(text: str) -> str | None:
    """Return what a line without a port has on the unit that belongs on none: a regulator's lead, a starter motor.

    What it has at the battery, and not at the unit, is where it belongs; '' then.
    """
    clauses = (words_within(FUSE.sub("", clause)) for clause in CLAUSE.split(text))
    meant = next((words.name for words in clauses if words is not None and words.sort == "refused"), None)
    if is_starter_motor(text) and not FUSE.search(text):
        meant = STARTER_MOTOR.name
    if meant is None or NONE.search(text):
        return None
    if ON_UNIT.search(text):
        return meant
    if AT_BATTERY.search(text):
        return ""
    return meant if meant == STARTER_MOTOR.name else None


def is_starter_motor(text: str, drawn: Iterable[int] = ()) -> bool:
    """Tell whether a 'starter' is the motor, by what it draws."""
    apart = split_figures(TextCell(text, 1, 1))
    words = words_within(apart.name.text)
    if words is None or words.sort != "asked" or STARTER_MOTOR.name not in words.choices:
        return False
    own = (current_said(cell.text) or 0 for cell in apart.currents)
    return any(current > MOST_OF_A_COIL for current in (*own, *drawn))


def sentences(cell: TextCell) -> list[TextCell]:
    """Return the sentences of a line."""
    ends = [found.end() for found in SENTENCE.finditer(cell.text)]
    begins = [0, *ends]
    parts = [cell_of(cell.text[b:e], cell.line, cell.column + b)
             for b, e in zip(begins, [*ends, len(cell.text)], strict=True)]  # fmt: skip
    return [part for part in parts if part.text]

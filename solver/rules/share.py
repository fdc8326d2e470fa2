"""Who may share an output."""

from solver.job.consumers import Consumer
from solver.rules.shapes import Rule, Said
from solver.words.agreement import one as article

ALONE = ("brake lamp", "ignition")
BEAMS = ("dipped beam", "main beam")


def _pair(one: Consumer, other: Consumer) -> Said:
    both = f"{one.name} and {other.name}"
    for load in (one, other):
        if load.part in ALONE:
            return f"{both} can't share an output: {article(load.part)} shares with nothing"
    if one.part in BEAMS and other.part in BEAMS and one.part != other.part:
        return f"{both} can't share an output: dipped and main beam never go out together"
    if one.share is None or one.share != other.share:
        return f"{both} can't share an output: they name no common share group"
    if one.modes != other.modes:
        return f"{both} can't share an output: they are driven in different modes"
    if one.operated_by != other.operated_by:
        return f"{both} can't share an output: different switches operate them"
    if (one.when, one.except_) != (other.when, other.except_):
        return f"{both} can't share an output: they are not on at the same times"
    return None


RULE = Rule(
    slug="share",
    protects="stopping and being seen: one fault takes no second lamp with it",
    source="common practice, no source",
    pair=_pair,
)

"""Who may share an output."""

from collections.abc import Sequence

from portloom.base.figures import listed
from portloom.base.figures import with_article as article
from portloom.base.parts.loads import BEAMS, BRAKE_LAMP, IGNITIONS, SIDES
from portloom.job.consumers import Consumer
from portloom.rules.clash import Clash
from portloom.rules.posted import FirstLook, OfPosts, PostedPlan, PostFinding
from portloom.rules.practice import FLASH_TOGETHER
from portloom.rules.shapes import Rule, Said


def _pair(one: Consumer, other: Consumer) -> Said:
    both = f"{one.name} and {other.name}"
    if BRAKE_LAMP.name in (one.part, other.part):
        return f"{both} can't share an output: {article(BRAKE_LAMP.name)} shares with nothing"
    if (one.part in IGNITIONS) != (other.part in IGNITIONS):
        return f"{both} can't share an output: coils and ignition boxes share only with each other"
    if one.part in BEAMS and other.part in BEAMS and one.part != other.part:
        return f"{both} can't share an output: dipped and main beam never go out together"
    if {one.part, other.part} == set(SIDES):
        return f"{both} can't share an output: {FLASH_TOGETHER}"
    if one.share is None or one.share != other.share:
        return f"{both} can't share an output: they have no share group in common"
    if one.modes != other.modes:
        return f"{both} can't share an output: they are driven in different modes"
    if one.operated_by != other.operated_by:
        return f"{both} can't share an output: different switches operate them"
    if (one.when, one.except_) != (other.when, other.except_):
        return f"{both} can't share an output: they are not on at the same times"
    return None


def _look(plan: PostedPlan, _: Sequence[Clash]) -> PostFinding:
    what, ports = "dipped and main beam apart", plan.ports
    on = [{ports[name] for name in plan.names(part) if name in ports} for part in BEAMS]
    if not all(on):
        lacking = [part for part, found in zip(BEAMS, on, strict=True) if not found]
        none = f"no {' and no '.join(lacking)} is on an output"
        return PostFinding(what, "not judged", plan.unclear() or none)
    if both := on[0] & on[1]:
        return PostFinding(what, "wrong", f"both are on {listed(sorted(both))}")
    if unclear := plan.unclear(*on[0], *on[1]):
        return PostFinding(what, "not judged", unclear)
    each = [f"{part} on {listed(sorted(there))}" for part, there in zip(BEAMS, on, strict=True)]
    return PostFinding(what, "right", listed(each))


RULE = Rule(
    slug="share",
    protects="stopping and being seen: one fault must not take out a second lamp",
    source="common practice, no source",
    right="an output for each of the two; loads may share one that name the same 'share' group, are driven alike, "
    "are on in the same states and are worked by the same switches",
    of_load=lambda part: part is BRAKE_LAMP or part.name in (*BEAMS, *IGNITIONS),
    pair=_pair,
    posts=OfPosts(look=FirstLook(3, _look), judged=lambda plan: any(len(held) > 1 for held in plan.outputs.values())),
)

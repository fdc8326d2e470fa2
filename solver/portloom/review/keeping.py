"""Which rules a posted plan keeps: those with something to judge, and of which all that they need is posted."""

from collections.abc import Collection, Iterator, Sequence

from portloom.job.job import Job
from portloom.rules.posted import PostedPlan, Wanted
from portloom.rules.shapes import Rule


def kept(rules: Sequence[Rule], plan: PostedPlan, broken: Collection[str]) -> Iterator[str]:
    """Return the rules that are kept; none where a line is not clear, or a load of the bike is on no output."""
    if plan.doubts or plan.missing or plan.site is None:
        return
    posted = {what for what in ("inputs", "trips", "sizes", "main fuse") if _is_posted(plan, what)}
    for rule in rules:
        if rule.slug not in broken and posted.issuperset(rule.posts.wants) and _has_work(rule, plan):
            yield rule.slug


def _is_posted(plan: PostedPlan, what: Wanted) -> bool:
    """Tell whether a post says all of something."""
    match what:
        case "inputs":
            return bool(plan.inputs) and not plan.unread_switches
        case "trips":
            return {*plan.used} <= {*plan.trips}
        case "sizes":
            return {*plan.used} <= {*plan.sizes}
        case "main fuse":
            return plan.main_fuse is not None


def _has_work(rule: Rule, plan: PostedPlan) -> bool:
    """Tell whether there is anything in a plan that a rule judges."""
    if rule.posts.judged is not None:
        return rule.posts.judged(plan)
    if rule.link and not (rule.pair or rule.output_fit):
        return any(any(rule.link(plan.job, one.circuit, one.output)) for one in plan.drives())
    return bool(plan.used)


def feeding(job: Job, names: Collection[str]) -> Job:
    """Return the same job with some loads on the unit that the bike's file feeds past it."""
    if not names:
        return job
    loads = tuple(load.model_copy(update={"fed": "unit"}) if load.name in names else load for load in job.bike.loads)
    return Job(job.bike.model_copy(update={"loads": loads}), job.unit)


def past_the_unit(job: Job, outputs: dict[str, list[str]]) -> list[str]:
    """Return the loads on outputs that the bike's file feeds by a relay or a fuse of their own."""
    fed = {load.consumer.name for load in job.loads.fed}
    return [name for held in outputs.values() for name in held if name in fed]

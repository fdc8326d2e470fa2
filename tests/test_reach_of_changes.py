"""A conflict that a change does not touch holds with the change (FORMULATION.md, F2): asked of the changed bikes."""

from collections.abc import Iterator, Sequence

from explained import questions_on
from oracle.starved import starved_case
from portloom.base.clock import Clock
from portloom.explaining.conflicts.find import disjoint_conflicts
from portloom.explaining.conflicts.kept import Instance
from portloom.explaining.conflicts.question import Questions
from portloom.explaining.fixes.change import Change, Target
from portloom.explaining.fixes.fix import made
from portloom.explaining.fixes.loads import feeds, led_lamps, left_off
from portloom.explaining.fixes.reach import blame_of
from portloom.explaining.fixes.trials import is_conflict
from portloom.inputs.problems import BadFile
from portloom.job.job import Job
from portloom.job.losses import feed_loses_more
from portloom.rules.book import rules_of
from portloom.rules.fact_kinds import kind_of
from portloom.rules.facts import Keys
from slices import on_seeds


def _of_the_path(seeds: Sequence[int]) -> Iterator[tuple[Questions, Keys]]:
    """Return conflicts with limits of what is lost on bikes whose feed may lose more than what is usual."""
    for seed in seeds:
        try:
            questions = questions_on(starved_case(seed, "drops"))
        except BadFile:
            continue
        if any(map(feed_loses_more, questions.instance.sites)):
            for conflict in disjoint_conflicts(questions):
                if any(kind_of(key).of_the_path for key in conflict.keys):
                    yield questions, conflict.keys


@on_seeds((0, 3, 4, 8, 9), range(10, 60))
def test_what_flows_to_other_loads_lifts_no_conflict_that_does_not_hang_on_it(seeds: Sequence[int]) -> None:
    """Other loads are left off, lighter, or fed past the unit, one by one and all at once."""
    hanging: set[bool] = set()
    for questions, keys in _of_the_path(seeds):
        instance = questions.instance
        blame = blame_of(questions, keys, counted=False)
        changes = [*led_lamps(instance), *feeds(instance), *left_off(instance)]
        idle = [change for change in changes if not change.touches(blame)]
        hanging.add(blame.on_feed)
        for some in ([], *([change] for change in idle), [change for change in idle if change.kind == "left off"]):
            changed = _with(instance, some)
            assert changed is None or is_conflict(changed, keys), [change.sentence for change in some]
    assert hanging == {True, False}


def _with(instance: Instance, changes: Sequence[Change]) -> Questions | None:
    target = made(Target(instance.job.bike, instance.job.unit), changes)
    if target is None:
        return None
    job = Job(target.bike, target.unit)
    return Questions(Instance(job, rules_of(job), instance.place), Clock(None))

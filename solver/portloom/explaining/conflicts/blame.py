"""A hint to a conflict that no cheap test finds: what the solver blames, place by place, with all that hangs on it."""

from collections.abc import Iterable, Iterator, Sequence

from portloom.explaining.conflicts.question import OutOfTime, Questions
from portloom.rules.fact_kinds import TOLD, WISH, is_thing, kind_of, of_a_load, of_a_switch
from portloom.rules.facts import FactKey, Keys
from portloom.search.possible import NotKnown, Possible


def blamed(questions: Questions, kept: Sequence[FactKey]) -> Keys | None:
    """Return facts of those kept that have no plan together, by way of what the solver blames; None where that fails.

    All limits, and with each load and switch that is blamed at some place its figures. Raises OutOfTime at the limit.
    """
    things: set[str] = set()
    while True:
        hint = tuple(_with(things, kept))
        verdict = questions.verdict(hint)
        if isinstance(verdict, NotKnown):
            raise OutOfTime
        if not isinstance(verdict, Possible):
            return hint
        more = set(_things(questions, questions.blamed(kept, verdict.choice.site.label)))
        if more <= things:
            return None
        things |= more


def _with(things: set[str], kept: Iterable[FactKey]) -> Iterator[FactKey]:
    """Return every limit, and the facts about these things."""
    return (key for key in kept if not (of_a_load(key) or of_a_switch(key)) or key[1] in things)


def _things(questions: Questions, facts: Iterable[FactKey]) -> Iterator[str]:
    """Return the loads and switches that facts are about, and those that a plan may hang on with them.

    Loads like them, what they feed, and the switches that work them or tell the unit anything.
    """
    job, facts = questions.instance.job, tuple(facts)
    named = {key[1] for key in facts if is_thing(key) or kind_of(key) is WISH}
    yield from named
    natures = {job.alike[name] for name in named if name in job.alike}
    for load in job.loads.on_unit:
        if job.alike[load.name] in natures:
            yield load.name
            yield from load.operated_by
            yield from (guest.name for guest in job.guests_of([load]))
    if any(kind_of(key) is TOLD for key in facts):
        yield from (switch.name for switch in job.bike.inputs if switch.tells)

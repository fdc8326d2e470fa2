"""Conflicts in words: one sentence over a conflict, one line a fact, every figure from a rule's own module."""

from collections.abc import Callable

from solver.explaining.conflicts import PROVED, Conflict, ToldFact
from solver.explaining.counts import ports_of
from solver.explaining.headline import headline
from solver.explaining.question import Questions
from solver.explaining.refused import refused
from solver.explaining.shrinking import Certified
from solver.rules.facts import At, FactKey
from solver.words.figures import port_range

Where = Callable[[At], str]
"""Tell where something is written: file and line, or 'default'."""


def by_default(_: At) -> str:
    """Nothing is written in a file."""
    return "default"


def told(questions: Questions, conflict: Certified, where: Where) -> Conflict:
    """Put a certified conflict into words."""
    refusals = refused(questions.whole, conflict.keys)
    sentence, rules = headline(questions, conflict.keys, refusals)
    places = zip(conflict.keys, conflict.places, strict=True)
    facts = tuple(_fact(questions, key, place, where) for key, place in places)
    return Conflict(
        sentence=sentence,
        facts=facts,
        rules=tuple(dict.fromkeys((*rules, *(one.rule for one in refusals), *(fact.rule for fact in facts)))),
        proof=PROVED,
        detail=tuple(f"{one.sentence} (rule {one.rule})" for one in refusals),
        places=tuple(site.label for site in questions.whole.sites),
    )


def _fact(questions: Questions, key: FactKey, place: str, where: Where) -> ToldFact:
    fact, unit = questions.whole.facts[key], questions.whole.job.unit
    order = [port.name for port in (unit.outputs if key[0] == "outputs" else unit.inputs)]
    counts = port_range(ports_of(questions.whole, [key], key[0]), order) if key[0] in ("outputs", "inputs") else ""
    return ToldFact(key, fact.rule, fact.subject, fact.sentence, where(fact.at), place, counts)

"""A rule brings its own words: its facts and its sentences, and nothing else has to be told of it.

The bikes are those of the rules' trials, made up; so is the rule that is put in the book here.
"""

from collections.abc import Iterator, Sequence
from functools import cache

import pytest

import told
from portloom.base.clock import Clock
from portloom.explaining.conflicts.kept import Instance
from portloom.explaining.conflicts.question import Questions
from portloom.explaining.telling.told import why_nothing_fits
from portloom.inputs.files import unit_from_text
from portloom.job.job import Job
from portloom.job.laid import Laid
from portloom.job.site import Site
from portloom.rules import book
from portloom.rules.book import RULES, facts_of, rules_of
from portloom.rules.facts import At, Fact
from portloom.rules.shapes import Budget, BudgetRow, Key, Rule
from rule_bikes import LAMP, OTHER, OUT, SECOND, bike, unit
from rule_trials import TRIALS
from slices import slices
from unasked import bike_from_text

NONE_OF_THEIR_OWN = {
    "key-off": "it limits nothing that has a figure: the load that is on then is the fact",
    "indicator-pair": "it asks for another lamp, or another mode: the lamp and its mode are the facts",
}
"""Rules that limit something by facts of other rules, and why."""
BROKEN_BY_NO_BIKE = {
    "run": "it asks for switches that the bike has, and on one unit each of them is on an input: only a post breaks it"
}
"""Rules by which no bike on one unit is refused, and why."""


@cache
def facts() -> dict[str, list[Fact]]:
    """Return all facts of the trials' bikes by the rule that brings them."""
    found: dict[str, list[Fact]] = {rule.slug: [] for rule in RULES}
    for trial in TRIALS:
        for texts in (trial.kept, trial.broken):
            job = Job(bike_from_text(texts[0], "bike"), unit_from_text(texts[1], "unit"))
            for fact in facts_of(job, rules_of(job)):
                found[fact.rule].append(fact)
    return found


@pytest.mark.parametrize("rule", RULES, ids=lambda rule: rule.slug)
def test_a_rule_has_a_fact_and_says_it(rule: Rule) -> None:
    """A rule brings facts, each with a sentence; the few rules that have none are known, with the reason."""
    own = facts()[rule.slug]
    assert bool(own) is (rule.slug not in NONE_OF_THEIR_OWN)
    for fact in own:
        assert len(fact.sentence.split()) > 2, fact
        assert fact.sentence[-1] not in ".:,;", fact
        assert not fact.together or fact.together.split()[0] in ("on", "the", "must", "draw", "take", "give", "work")


@pytest.mark.parametrize("rule", RULES, ids=lambda rule: rule.slug)
def test_a_rule_is_told_where_it_refuses(rule: Rule) -> None:
    """Of the bikes that break it, one at least is explained by it, with a sentence of its own; of one rule, none is."""
    breaking = [about for about in told.OF_TRIALS if about.startswith(f"{rule.slug} ")]
    by_it = (conflict for one in told.made(breaking) for conflict in one.conflicts if rule.slug in conflict.rules)
    first = next(by_it, None)
    assert (first is not None) is (rule.slug not in BROKEN_BY_NO_BIKE)
    assert first is None or "can't all be on the bike together" not in first.sentence


@slices("about", told.SOME, told.ABOUT)
def test_every_conflict_has_a_sentence_of_a_rule(about: Sequence[str]) -> None:
    """No bike is explained by the sentence that stands in where no rule says anything."""
    said = [conflict.sentence for one in told.made(about) for conflict in one.conflicts]
    assert len(said) > len(about) * 3 / 4
    assert [sentence for sentence in said if "can't all be on the bike together" in sentence] == []


# --- a new one


def _summed(laid: Laid, row: BudgetRow) -> str:
    return f"{len(laid.outputs)} plugs are too many, the lid closes over {row.at_most}"


def _budgets(_: Site) -> list[Budget]:
    rows: dict[Key, BudgetRow] = {"lid": BudgetRow("the lid", at_most=1, fact=("lid", "unit"))}
    return [Budget(rows, lambda row, found: f"{row.subject}: {found}", lambda _: [("lid", 1)], summed=_summed)]


def _facts(_: Job) -> Iterator[Fact]:
    yield Fact(
        ("lid", "unit"), "lid", "unit", "the lid closes over one plug", At("unit", ("feed", "limit")), hint="a saw"
    )


LID = Rule("lid", "the lid from being forced", "made up", budgets=_budgets, facts=_facts)


def test_a_new_rule_is_told_by_its_own_words(monkeypatch: pytest.MonkeyPatch) -> None:
    """Put in the book, a rule is proved, told and placed with nothing else changed."""
    monkeypatch.setattr(book, "RULES", (*RULES, LID))
    texts = bike(f"{LAMP}, current: 1 A", f"{OTHER}, current: 2 A"), unit(OUT, SECOND)
    job = Job(bike_from_text(texts[0], "bike"), unit_from_text(texts[1], "unit"))
    questions = Questions(Instance(job, rules_of(job)), Clock(None))
    (conflict,) = why_nothing_fits(questions, lambda at: f"{at.file}.yaml:{len(at.path)}").conflicts
    assert conflict.sentence == "2 plugs are too many, the lid closes over 1."
    assert [fact.sentence for fact in conflict.facts] == [
        "lamp is on the bike", "other is on the bike", "the lid closes over one plug",
    ]  # fmt: skip
    assert conflict.facts[-1].where == "unit.yaml:2"
    assert conflict.hints == ("a saw",)
    assert conflict.rules == ("lid", "cover")

"""The rule book: every rule is kept up to its limit and no further, says what it is, and reads no load's name."""

import ast
import pkgutil
from collections.abc import Iterator
from importlib import import_module
from pathlib import Path

import pytest
import yaml

from outcomes import EXAMPLES, PROFILES, fits
from portloom import rules as room
from portloom.base.clock import Clock
from portloom.base.parts import loads as catalogue
from portloom.base.parts.shapes import LoadPart
from portloom.inputs.files import unit_from_text
from portloom.inputs.rule_slugs import NEVER_SET_ASIDE, RULE_SLUGS
from portloom.job.assignment import Assignment
from portloom.job.job import Job
from portloom.rules.book import RULES, rules_of
from portloom.rules.shapes import Rule
from portloom.rules.sites import sites_of
from portloom.search.best import best_assignment
from portloom.verify.judge import judged
from rule_bikes import IN, LAMP, OTHER, OUT, Texts, Trial, bike, unit
from rule_trials import TRIALS
from unasked import bike_from_text

ALONE = [trial for trial in TRIALS if trial.alone and trial.rule not in ("cover", "outputs", "inputs")]
"""Without those three a plan is no plan, and none can be looked for."""


def job_of(texts: Texts) -> Job:
    """Return the job that two files set."""
    return Job(bike_from_text(texts[0], "bike"), unit_from_text(texts[1], "unit"))


def best(job: Job, rules: tuple[Rule, ...]) -> Assignment | None:
    """Return the best plan by some rules, or None if nothing fits."""
    found = best_assignment(job, rules, sites_of(job), Clock(None))
    return found if isinstance(found, Assignment) else None


@pytest.mark.parametrize("trial", TRIALS, ids=str)
def test_a_rule_is_kept_up_to_its_limit_and_no_further(trial: Trial) -> None:
    """The first bike has a plan, the second has none, and on the second the first one's plan breaks this rule."""
    kept, broken = job_of(trial.kept), job_of(trial.broken)
    plan = best(kept, RULES)
    assert plan is not None
    assert judged((kept,), RULES, plan) == ()
    assert not fits(*trial.broken)
    assert trial.rule in {clash.rule for clash in judged((broken,), RULES, trial.carried(plan))}


@pytest.mark.parametrize("trial", ALONE, ids=str)
def test_without_its_rule_the_second_bike_has_a_plan(trial: Trial) -> None:
    """The rule alone refuses the second bike: walked without it, the same book plans it."""
    assert best(job_of(trial.broken), tuple(rule for rule in RULES if rule.slug != trial.rule)) is not None


def test_every_rule_has_its_trial() -> None:
    """No rule is without two bikes, and none is tried that the book lacks."""
    assert {trial.rule for trial in TRIALS} == {rule.slug for rule in RULES}


@pytest.mark.parametrize("rule", RULES, ids=lambda rule: rule.slug)
def test_a_rule_says_what_it_is(rule: Rule) -> None:
    """A rule has a slug that files may name, says what it protects and where it comes from, and judges something."""
    assert rule.slug in RULE_SLUGS
    assert len(rule.protects.split()) > 3
    assert rule.source.strip()
    shapes = (rule.pair, rule.input_pair, rule.output_fit, rule.wired_fit, rule.input_fit, rule.place_fit)
    assert any((*shapes, rule.budgets, rule.link))


@pytest.mark.parametrize("trial", TRIALS, ids=str)
def test_a_rule_that_adds_up_currents_tells_a_margin(trial: Trial) -> None:
    """A rule with a limit of what flows in a case says how close a plan comes to it."""
    job = job_of(trial.kept)
    for rule in RULES:
        budgets = rule.budgets(sites_of(job)[0]) if rule.budgets else ()
        if any(row.case is not None for budget in budgets for row in budget.rows.values()):
            assert rule.margins is not None


def test_slugs_are_told_apart() -> None:
    """No two rules have one slug, and what can't be set aside is a rule."""
    assert len({rule.slug for rule in RULES}) == len(RULES)
    assert len(set(RULE_SLUGS)) == len(RULE_SLUGS)
    assert set(NEVER_SET_ASIDE) <= set(RULE_SLUGS)


def test_a_rule_set_aside_is_not_walked() -> None:
    """A file that sets a rule aside is judged by all the others."""
    trial = next(trial for trial in TRIALS if trial.rule == "bank")
    bike, unit = trial.broken
    aside = bike + "set_aside: {bank: measured on the bench}\n"
    assert fits(aside, unit)
    assert {rule.slug for rule in RULES} - {rule.slug for rule in rules_of(job_of((aside, unit)))} == {"bank"}


@pytest.mark.parametrize("group", ["", ", share: pair"])
def test_only_a_declared_group_shares_a_port_also_where_the_rule_is_set_aside(group: str) -> None:
    """Two identical lamps on one output, two switches at odds on one input: only where both name one group."""
    lamps = [f"{name}{group}, current: 1 A" for name in (LAMP, OTHER)]
    one, other = (f"name: {side}, at: neck, signal: earth, operates: lamp{group}" for side in ("left", "right"))
    aside = "set_aside: {share: agreed with the owner, signal: agreed with the owner}"
    lamp_bike = bike(*lamps, more=aside)
    switch_bike = bike(f"{LAMP}, current: 1 A", inputs=f"{one}}}, {{{other}, normally: closed", more=aside)
    assert fits(lamp_bike, unit(OUT)) is bool(group)
    assert fits(switch_bike, unit(OUT, inputs=IN)) is bool(group)


@pytest.mark.parametrize(("other", "together"), [("rear brake", True), ("clutch", False), ("side stand", False)])
def test_both_brake_switches_may_share_an_input(other: str, *, together: bool) -> None:
    """Either brake lights the one lamp, so one wire can tell of both (common practice, no source); no clutch's can."""
    one, two = (
        f"name: {what} switch, at: neck, signal: earth, share: lever, tells: {what}" for what in ("front brake", other)
    )
    assert fits(bike(f"{LAMP}, current: 1 A", inputs=f"{one}}}, {{{two}"), unit(OUT, inputs=IN)) is together


def modules() -> Iterator[str]:
    """Return the names of the modules of the rules' room."""
    return (module.name for module in pkgutil.iter_modules(room.__path__))


def test_every_rule_module_is_in_the_book() -> None:
    """A module with a rule in it is walked."""
    found = [module.RULE for name in modules() if hasattr(module := import_module(f"{room.__name__}.{name}"), "RULE")]
    assert sorted(rule.slug for rule in found) == sorted(rule.slug for rule in RULES)
    assert all(rule in RULES for rule in found)


@pytest.mark.parametrize("name", list(modules()))
def test_no_rule_compares_a_name_with_words_of_its_own(name: str) -> None:
    """A name is compared with what a file says, never with a word in the code; the catalogue's only with parts."""
    tree = ast.parse((Path(room.__path__[0]) / f"{name}.py").read_text("utf-8"))
    for compared in (node for node in ast.walk(tree) if isinstance(node, ast.Compare)):
        inside = [node for side in (compared.left, *compared.comparators) for node in ast.walk(side)]
        attributes = [node for node in inside if isinstance(node, ast.Attribute)]
        of_file = [node.attr for node in attributes if not is_catalogues(node)]
        if len(of_file) < len(attributes):
            assert set(of_file) <= {"part"}, ast.unparse(compared)
        elif "name" in of_file or "label" in of_file:
            words = [node for node in inside if isinstance(node, ast.Constant) and isinstance(node.value, str)]
            assert words == [], ast.unparse(compared)
            assert not any(isinstance(node, ast.Name) and node.id.isupper() for node in inside), ast.unparse(compared)


def is_catalogues(node: ast.Attribute) -> bool:
    """Tell whether an attribute is one of the catalogue's parts', such as ``BRAKE_LAMP.name`` or ``part.works``."""
    entry = node.value.id if isinstance(node.value, ast.Name) else ""
    return entry == "part" or isinstance(getattr(catalogue, entry, None), LoadPart)


@pytest.mark.parametrize(("bike", "unit"), [("harbour-trail", "eleven-way"), ("market-parallel", "eleven-way")])
def test_names_change_nothing(bike: str, unit: str) -> None:
    """With the names of all loads handed round, a bike costs the same, or has no plan as before."""
    written = (EXAMPLES / f"{bike}.yaml").read_text("utf-8")
    profile = (PROFILES / f"{unit}.yaml").read_text("utf-8")
    before, after = (best(job_of((text, profile)), RULES) for text in (written, handed_round(written)))
    assert (before and before.cost) == (after and after.cost)


def handed_round(text: str) -> str:
    """Return a bike whose loads have each other's names, the first one the last one's."""
    entries = yaml.load(text, yaml.BaseLoader)  # noqa: S506 - words stay words
    names = [load.get("name") or load["part"] for load in entries["loads"]]
    new = dict(zip(names, reversed(names), strict=True))
    for load in entries["loads"]:
        load["name"] = new[load.get("name") or load["part"]]
        if "from" in load:
            load["from"] = [new[name] for name in load["from"]]
    for switch in entries["inputs"]:
        if "operates" in switch:
            switch["operates"] = [new[name] for name in switch["operates"]]
    return yaml.safe_dump(entries, sort_keys=False, allow_unicode=True)

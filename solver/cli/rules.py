"""``portloom rules``: what is judged, and where each figure comes from."""

from solver.cli.calls import bad_call
from solver.cli.screen import page
from solver.rules.book import RULES
from solver.rules.slugs import NEVER_SET_ASIDE, RULE_SLUGS
from solver.words.nearest import suggest

JUDGED = tuple(rule.slug for rule in RULES)
NOT_YET = tuple(slug for slug in RULE_SLUGS if slug not in JUDGED)
"""Rules that a bike file may name and that no plan is judged by yet."""


def list_rules(name: str | None) -> None:
    """Write every rule, or the one that is named; raise BadFile for a name that no rule has."""
    if name is not None and name not in RULE_SLUGS:
        right = suggest(name, RULE_SLUGS)
        raise bad_call("rules", f"there is no rule '{name}'", right)
    sheet = page()
    for rule in RULES:
        if name in (None, rule.slug):
            sheet.line(rule.slug, "bold")
            sheet.items([f"protects: {rule.protects}", f"source: {rule.source}", *_firm(rule.slug)])
    waiting = [slug for slug in NOT_YET if name in (None, slug)]
    if waiting:
        sheet.line(f"Not judged yet: {', '.join(waiting)}.")


def _firm(slug: str) -> list[str]:
    return ["can't be set aside"] if slug in NEVER_SET_ASIDE else []

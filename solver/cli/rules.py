"""``portloom rules``: what is judged, and where each figure comes from."""

from solver.cli.screen import page
from solver.reading.nearest import suggest
from solver.reading.problems import BadFile, Problem
from solver.rules.book import RULES


def run(name: str | None) -> None:
    """Write every rule, or the one that is named; raise BadFile for a name that no rule has."""
    chosen = [rule for rule in RULES if name in (None, rule.slug)]
    if not chosen and name is not None:
        right = suggest(name, [rule.slug for rule in RULES])
        raise BadFile([Problem("portloom rules", 1, 1, f"there is no rule '{name}'", right)])
    sheet = page()
    for rule in chosen:
        sheet.line(rule.slug, "bold")
        sheet.items([f"protects {rule.protects}", f"from {rule.source}"])

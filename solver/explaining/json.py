"""Conflicts as JSON."""

from typing import Any

from solver.explaining.conflicts import Conflict


def conflict_json(conflict: Conflict) -> dict[str, Any]:
    """Give a conflict's document; the keys are those that other programs rely on."""
    return {
        "sentence": conflict.sentence,
        "facts": [
            {"rule": fact.rule, "subject": fact.subject, "sentence": fact.sentence, "where": fact.where}
            for fact in conflict.facts
        ],
        "proof": conflict.proof,
    }

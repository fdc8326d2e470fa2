"""What is told when nothing fits: facts, the sentence over them, and how they were proved."""

from dataclasses import dataclass

from solver.rules.facts import FactKey

PROVED = "proved"
NOT_PROVED = "not proved"


@dataclass(frozen=True)
class ToldFact:
    """One thing about this bike or this unit: the rule, whom it is about, the sentence, where it is written."""

    key: FactKey
    rule: str
    subject: str
    sentence: str
    where: str
    fits_at: str
    """Proved: without this fact the others have a plan, at this place."""
    counts: str = ""
    """The ports that it counts, where it counts ports."""


@dataclass(frozen=True)
class Conflict:
    """Facts that can't hold together, the sentence over them, and the proof."""

    sentence: str
    facts: tuple[ToldFact, ...]
    rules: tuple[str, ...]
    """Every rule that has a part in it."""
    proof: str
    detail: tuple[str, ...] = ()
    """What refuses what, where a single thing has no port."""
    places: tuple[str, ...] = ()
    """Where it was proved that these facts have no plan: every place, every way round."""

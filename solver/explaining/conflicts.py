"""What is told when nothing fits: facts, the sentence over them, and how they were proved."""

from dataclasses import dataclass

PROVED = "proved"


@dataclass(frozen=True)
class Fact:
    """One thing about this bike or this unit: the rule, whom it is about, the sentence, where it is written."""

    rule: str
    subject: str
    sentence: str
    where: str


@dataclass(frozen=True)
class Conflict:
    """Facts that leave something without a port or a place, the sentence over them, and the proof."""

    sentence: str
    facts: tuple[Fact, ...]
    proof: str

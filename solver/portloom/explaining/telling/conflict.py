"""What is told when nothing fits: facts, the sentence over them, and how they were proved."""

from portloom.base.values import dataclass
from portloom.rules.facts import FactKey

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
    without_it: str = ""
    """How it is taken where it is dropped: 'without that limit'."""
    together: str = ""
    """What is said of it and of others that have this in common, their names after it."""
    name: str = ""
    """Its name there: the ports that it counts, where it counts ports."""


@dataclass(frozen=True)
class Lift:
    """What lifts a conflict, in words; ``fits`` where the whole bike is proved to fit then."""

    said: str
    fits: bool = False
    weighed: bool = False
    """Whether it is one of the changes that fixes are made of, which have an effort."""


@dataclass(frozen=True)
class Conflict:
    """Facts that can't hold together, the sentence over them, and the proof."""

    sentence: str
    facts: tuple[ToldFact, ...]
    """What the bike's file says, what is taken by default, what the unit's profile says."""
    rules: tuple[str, ...]
    """Every rule that has a part in it."""
    proof: str
    detail: tuple[str, ...] = ()
    """What refuses what on which ports, as far as the sentence does not say it."""
    places: tuple[str, ...] = ()
    """Where it was proved that these facts have no plan: every place, every way round."""
    lifted_by: tuple[Lift, ...] = ()
    """What lifts it, each by itself and proved: with it these facts have a plan."""
    hints: tuple[str, ...] = ()
    """What may help beside the fixes that are tried; nobody has tried it."""

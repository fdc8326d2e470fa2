"""A rule that is broken: which, by what, and the sentence with the figures."""

from collections.abc import Sequence

from portloom.base.values import dataclass
from portloom.base.vocabulary import Concern


@dataclass(frozen=True)
class Clash:
    """A rule broken: which, by what, and the sentence with the figures."""

    rule: str
    subject: str
    sentence: str
    about: Concern | None = None
    """What it is about, where that is not what its rule is about."""
    first: int | None = None
    """Its rank among what is about the same concern, where that is not its rule's."""

    def speaks_of(self, name: str) -> bool:
        """Tell whether its subject, one name or several after commas, has this name in it."""
        return is_among(name, self.subject)


def is_among(name: str, subject: str) -> bool:
    """Tell whether a subject, one name or several after commas, has this name in it."""
    return f", {name}, " in f", {subject}, "


def broken_by(clashes: Sequence[Clash], *slugs: str) -> list[Clash]:
    """Return the clashes with any of these rules."""
    return [clash for clash in clashes if clash.rule in slugs]

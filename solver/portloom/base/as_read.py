"""How a bike's file was read, beside what it says."""

from portloom.base.values import dataclass


@dataclass(frozen=True)
class Taken:
    """What a file does not say and a part brings: whose it is, which key, and what was taken."""

    subject: str
    part: str
    key: str
    value: str


@dataclass(frozen=True)
class AsRead:
    """How a bike's file was read, beside what it says."""

    taken: tuple[Taken, ...] = ()
    """What its parts brought."""
    words: tuple[str, ...] = ()
    """How words that are not the catalogue's own were read, each as a sentence."""
    falls_away: tuple[str, ...] = ()
    """What the file has and the unit replaces, each as a sentence."""

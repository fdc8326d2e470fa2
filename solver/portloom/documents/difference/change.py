"""What differs between two plans, as data: one change for each thing, with what was and what is."""

from decimal import Decimal
from typing import Any, Literal

from portloom.base.values import dataclass
from portloom.documents.difference.canonical import same

Kind = Literal["moved", "wire", "setting", "whole", "sentence", "figure"]
"""What is on another port; a wire; what is set at a port; the whole plan; what is said; any other figure."""
WIRE = ("run_mm", "cut_mm", "legs", "wire_mm2", "wire")
"""The keys of a wire."""


@dataclass(frozen=True)
class Change:
    """One thing that is told in two ways; ``old`` or ``new`` is None where one plan does not tell it."""

    kind: Kind
    part: str
    """The key of the plan's document that it comes from."""
    subject: str
    """What it is about: a load, a port, a wire, a leg, a case; empty for the whole plan."""
    key: str
    """The figure's key in the plan's document, which names its unit."""
    old: Any
    new: Any

    @property
    def mirrored(self) -> "Change":
        """The same the other way round."""
        return Change(self.kind, self.part, self.subject, self.key, self.new, self.old)

    @property
    def cutting(self) -> str:
        """Say of a wire what becomes of it at the bench."""
        if self.old is None or self.new is None:
            return "new" if self.old is None else "gone"
        told = []
        size = _step(self.old.get("wire_mm2"), self.new.get("wire_mm2"), "thinner", "thicker")
        length = _step(self.old.get("cut_mm"), self.new.get("cut_mm"), "shorter", "longer")
        told += [size] if size else []
        told += [length] if length else []
        if not same(self.old.get("legs"), self.new.get("legs")):
            told.append("another way")
        return ", ".join(told) or "changed"


def _step(old: Any, new: Any, down: str, up: str) -> str:
    """Return the word for less or for more, or none where it is the same or no figure."""
    if not (isinstance(old, Decimal) and isinstance(new, Decimal)) or old == new:
        return ""
    return up if old < new else down


@dataclass(frozen=True)
class Named:
    """Which plan one side is: the bike, and the unit or both."""

    bike: str
    units: tuple[str, ...]
    seats: tuple[tuple[str, str], ...] = ()
    """Where two units tell ports apart: what each is called before its ports, and where it sits."""


@dataclass(frozen=True)
class Difference:
    """How a plan differs from an older one; with no changes they tell the same."""

    old: Named
    new: Named
    changes: tuple[Change, ...]
    stay: tuple[str, ...]
    """The warnings that both give."""
    set_aside: tuple[tuple[str, str], ...]
    """The rules that the new plan's bike sets aside, with the reasons."""

    @property
    def same(self) -> bool:
        """Whether both plans tell the same."""
        return not self.changes

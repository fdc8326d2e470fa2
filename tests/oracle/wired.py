"""What a choice of columns is laid with: one unit at a site, or two."""

from collections.abc import Sequence
from typing import Protocol

from .drive import Column
from .job import Laid
from .sizing import Looms
from .things import Bike


class Wired(Protocol):
    """The looms of a bike with its unit, or its two, in place."""

    @property
    def bike(self) -> Bike:
        """The bike."""

    @property
    def looms(self) -> Looms:
        """What is loaded in the looms, whatever circuits there are."""

    def laid(self, columns: Sequence[Column], /) -> list[Laid] | None:
        """Return all wires of a plan with these columns, in their settled sizes; None where one has none."""

    def thinnest(self, columns: Sequence[Column], /) -> list[Laid] | None:
        """Return the same wires, no thicker than with more columns."""

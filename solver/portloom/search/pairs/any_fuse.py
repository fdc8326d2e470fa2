"""Columns as they are with whichever main fuse suits them best: no plan has them cheaper, thinner or sturdier."""

from collections.abc import Sequence
from dataclasses import dataclass, replace
from functools import cached_property

from portloom.base.copper import Conductor
from portloom.base.quantities import MilliAmps
from portloom.base.sizes import WireSize
from portloom.job.wired import WiredOutput
from portloom.search.columns import Column, OutputColumn


@dataclass(frozen=True)
class AnyFuse:
    """A column as it is with the main fuse that suits it best, and the fuses that allow it."""

    column: Column
    fuses: frozenset[MilliAmps]


class _Best(WiredOutput):
    """A circuit on an output with whichever main fuse suits it best: its wire, and how a short is borne."""

    def __init__(self, each: Sequence[WiredOutput], conductor: Conductor | None = None) -> None:
        """Take the circuit as it is with each main fuse."""
        like = each[0]
        super().__init__(like.site, like.losses, like.wire, conductor)
        self._each = each

    def sized(self, conductor: Conductor) -> WiredOutput:
        return _Best(self._each, conductor)

    @cached_property
    def serving(self) -> Sequence[Conductor]:
        """The reels that serve with any main fuse, thin to thick."""
        return [reel for reel in self.reels if any(reel in wired.serving for wired in self._each)]

    def withstands_at(self, point: str, size: WireSize) -> bool:
        """Tell whether another wire of ``size`` stands a short at ``point`` with any main fuse and wire."""
        if super().withstands_at(point, size):
            return True
        return any(wired.sized(reel).withstands_at(point, size) for wired in self._each for reel in wired.serving)


def with_any(columns: Sequence[tuple[MilliAmps, Column]]) -> AnyFuse:
    """Return one column of those that differ in the main fuse alone."""
    first = columns[0][1]
    if isinstance(first, OutputColumn) and not first.later:
        wired = [column.wired for _, column in columns if isinstance(column, OutputColumn)]
        first = replace(first, wired=_Best(wired))
    return AnyFuse(first, frozenset(fuse for fuse, _ in columns))

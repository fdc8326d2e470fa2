"""Exchanges between plans that cost the same: the first circuit of the file gets the first port.

The sum of column numbers is the same whichever of two circuits sits on which of two kinds of port,
so it leaves such exchanges open. They are settled here, pair by pair, each exchange checked.
"""

from collections.abc import Iterator

from portloom.search.columns import InputColumn, OutputColumn, on_port
from portloom.search.tableau import Check, Tableau

Chosen = tuple[int, ...]


def tidied(choice: Tableau, chosen: Chosen, check: Check) -> Chosen:
    """Return the plan after every exchange that costs nothing, breaks nothing and puts the first circuit first."""
    bench = _Bench(choice, chosen)
    again = True
    while again:
        again = False
        for away, to in bench.exchanges():
            if bench.keeps_rows(away, to) and check(choice, bench.after(away, to)) is None:
                bench.exchange(away, to)
                again = True
    return tuple(bench.chosen)


class _Bench:
    """A plan on the bench: how often each column is used, and the sums of all rows."""

    def __init__(self, choice: Tableau, chosen: Chosen) -> None:
        self._columns = choice.columns
        self._links = choice.links
        self.chosen = list(chosen)
        self._number = {
            _key(column, column.kind.like): number for number, column in enumerate(choice.columns) if on_port(column)
        }
        kinds = dict.fromkeys(column.kind.like for column in choice.columns if on_port(column))
        self._place = {kind: number for number, kind in enumerate(kinds)}
        most = len(choice.columns)
        # Rows with flags are the check's to judge.
        self._rows = [row for row in choice.rows if all(number < most for number, _ in row.entries)]
        self._sums = [sum(chosen[number] * amount for number, amount in row.entries) for row in self._rows]
        self._in: dict[int, list[tuple[int, int]]] = {}
        for at, row in enumerate(self._rows):
            for number, amount in row.entries:
                self._in.setdefault(number, []).append((at, amount))

    def exchanges(self) -> Iterator[tuple[tuple[int, int], tuple[int, int]]]:
        """Return pairs of columns in use, and the pair after their ports are exchanged at no cost."""
        used = [number for number, times in enumerate(self.chosen) if times]
        for at, first in enumerate(used):
            for second in used[at + 1 :]:
                to = self._exchanged(first, second)
                if to is not None and self.chosen[first] and self.chosen[second]:
                    yield (first, second), to

    def _exchanged(self, first: int, second: int) -> tuple[int, int] | None:
        one, other = self._columns[first], self._columns[second]
        if not on_port(one) or not on_port(other):
            return None
        if not one.wired.site.shares(other.wired.site) or self._place[one.kind.like] <= self._place[other.kind.like]:
            return None
        mine = self._number.get(_key(one, other.kind.like))
        its = self._number.get(_key(other, one.kind.like))
        if mine is None or its is None:
            return None
        after = self._columns[mine].cost + self._columns[its].cost
        return (mine, its) if one.cost + other.cost == after else None

    def keeps_rows(self, away: tuple[int, int], to: tuple[int, int]) -> bool:
        """Tell whether an exchange keeps every row and link."""
        change = self._change(away, to)
        after = self.after(away, to)
        return (
            all(
                self._rows[at].at_least <= self._sums[at] + amount <= self._rows[at].at_most
                for at, amount in change.items()
            )
            and all(after[number] <= self._columns[number].most for number in to)
            and all(not after[link.column] or any(after[m] for m in link.meeting) for link in self._links)
        )

    def _change(self, away: tuple[int, int], to: tuple[int, int]) -> dict[int, int]:
        change: dict[int, int] = {}
        for sign, numbers in ((-1, away), (1, to)):
            for number in numbers:
                for at, amount in self._in.get(number, ()):
                    change[at] = change.get(at, 0) + sign * amount
        return change

    def after(self, away: tuple[int, int], to: tuple[int, int]) -> Chosen:
        """Return the plan after an exchange."""
        after = list(self.chosen)
        for sign, numbers in ((-1, away), (1, to)):
            for number in numbers:
                after[number] += sign
        return tuple(after)

    def exchange(self, away: tuple[int, int], to: tuple[int, int]) -> None:
        """Carry an exchange out."""
        for at, amount in self._change(away, to).items():
            self._sums[at] += amount
        self.chosen = list(self.after(away, to))


def _key(column: OutputColumn | InputColumn, kind: object) -> tuple[int, object, str]:
    """Return a circuit, a kind and the place of the unit: what tells columns apart."""
    return id(column.wired.circuit), kind, column.wired.site.place.name

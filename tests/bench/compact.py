"""The choice at a place without enumerated circuits: loads go to slots of outputs, and a flow finds each slot's tree.

For loads that may share, each kind of output has slots, as many as there are such loads or ports. Binary: a load is in
a slot, a slot is used, its wire lies in a leg; a unit of flow runs for each load from the face to each point that its
wire must reach, only in legs with the wire. The tree's length is what it costs; the rest, and what a circuit adds to
each row, is one figure for the slot and one for each load, which is checked on every column. What the rules refuse as a
circuit is forbidden as a set of loads. All else stays as columns. Exact where trees bind no row: without openings.
"""

from collections.abc import Iterable, Iterator, Mapping, Sequence
from itertools import combinations
from math import inf
from time import perf_counter

import numpy as np
from scipy.optimize import Bounds, LinearConstraint, milp
from scipy.sparse import csc_matrix

from portloom.job.consumers import Consumer
from portloom.search.columns import OutputColumn
from portloom.search.tableau import NO_LOWER_BOUND, Tableau

Sum = Mapping[int, float]
Crowd = frozenset[Consumer]


class NotCompact(RuntimeError):
    """What a circuit adds is no sum over its loads, so that it must be enumerated."""


class Programme:
    """Variables with what they cost, most and whether they are whole; and sums of them between two bounds."""

    def __init__(self) -> None:
        """Begin with nothing."""
        self.costs: list[int] = []
        self._most: list[float] = []
        self._whole: list[bool] = []
        self._rows: list[tuple[Sum, float, float]] = []

    def variable(self, cost: int = 0, most: float = 1, *, whole: bool = True) -> int:
        """Add a variable; return its number."""
        self.costs.append(cost)
        self._most.append(most)
        self._whole.append(whole)
        return len(self.costs) - 1

    def row(self, entries: Sum, low: float, high: float) -> None:
        """Keep a sum between two bounds."""
        self._rows.append((entries, low, high))

    def least(self, seconds: float) -> tuple[int | None, bool]:
        """Return the least cost, None where nothing is possible; and whether HiGHS came to its end in time."""
        places = [(at, number, amount) for at, (row, *_) in enumerate(self._rows) for number, amount in row.items()]
        at, numbers, amounts = zip(*places, strict=True)
        matrix = csc_matrix((amounts, (at, numbers)), shape=(len(self._rows), len(self.costs)))
        bounds = [low for _, low, _ in self._rows], [high for *_, high in self._rows]
        end = milp(
            np.array(self.costs, float),
            integrality=np.array(self._whole, int),
            bounds=Bounds(0, self._most),
            constraints=LinearConstraint(matrix, *bounds),
            options={"mip_rel_gap": 0, "time_limit": max(seconds, 0.01)},
        )
        if end.status != 0:
            return None, end.status == 2  # impossible
        return sum(cost * round(value) for cost, value in zip(self.costs, end.x, strict=True)), True


def by_compact(choices: Sequence[Tableau], limit: float) -> int | None:
    """Solve one place after the other by HiGHS; give the least cost in micrometres, None where a limit came first.

    ``limit`` is in seconds, for all places. Raises NotCompact where a place can't be written so.
    """
    began = perf_counter()
    costs = []
    for choice in choices:
        cost, ended = compact(choice).least(limit - (perf_counter() - began))
        if not ended:
            return None
        costs += [] if cost is None else [choice.fixed_cost + cost]
    return min(costs, default=None)


def compact(choice: Tableau) -> Programme:
    """Write a place in the compact way."""
    programme = Programme()
    groups = _groups(choice)
    slotted = {number for columns in groups.values() for number in columns.values()}
    kept = {n: programme.variable(c.cost, c.most) for n, c in enumerate(choice.columns) if n not in slotted}
    sums: list[dict[int, float]] = [
        {kept[number]: amount for number, amount in row.entries if number in kept} for row in choice.rows
    ]
    links: dict[int, set[tuple[int, ...]]] = {}
    for link in choice.links:
        links.setdefault(link.column, set()).add(link.any_of)
    for columns in groups.values():
        for slots in _slots(choice, columns, programme):
            for entries, row in zip(sums, choice.rows, strict=True):
                amounts = dict(row.entries)
                entries.update(slots.weighed({held: amounts.get(number, 0) for held, number in columns.items()}))
            needed = [links.get(number, set()) for number in columns.values()]
            if any(one != needed[0] for one in needed):
                raise NotCompact("circuits of one group need different things")
            for any_of in sorted(needed[0]):
                programme.row({slots.used: 1, **{kept[other]: -1 for other in any_of}}, -inf, 0)
    for entries, row in zip(sums, choice.rows, strict=True):
        programme.row(entries, row.at_least if row.at_least > NO_LOWER_BOUND else -inf, row.at_most)
    for link in choice.links:
        if link.column in kept:
            most = choice.columns[link.column].most
            programme.row({kept[link.column]: 1, **{kept[other]: -most for other in link.any_of}}, -inf, 0)
    return programme


def _groups(choice: Tableau) -> dict[tuple[Crowd, tuple[str, ...]], dict[Crowd, int]]:
    """Return the columns of loads that may share, by who may share with whom and the kind of output."""
    crowds = {
        number: frozenset(column.wired.circuit.members)
        for number, column in enumerate(choice.columns)
        if isinstance(column, OutputColumn) and not column.later
    }
    whole: list[Crowd] = []
    for crowd in crowds.values():
        touching = [one for one in whole if one & crowd]
        whole = [*(one for one in whole if not one & crowd), crowd.union(*touching)]
    groups: dict[tuple[Crowd, tuple[str, ...]], dict[Crowd, int]] = {}
    for number, crowd in crowds.items():
        column = choice.columns[number]
        group = next(one for one in whole if crowd <= one)
        if len(group) > 1 and isinstance(column, OutputColumn):
            groups.setdefault((group, column.kind.names), {})[crowd] = number
    return groups


class Slot:
    """One output of a kind for a group: the variables of its use, and of each load in it."""

    def __init__(self, programme: Programme, used: int, held: Mapping[Consumer, int]) -> None:
        """Take the variables."""
        self.programme, self.used, self.held = programme, used, held

    def weighed(self, amounts: Mapping[Crowd, int]) -> dict[int, float]:
        """Return what the slot adds to a sum to which a circuit adds an amount."""
        base, each = evenly(amounts)
        return {self.used: base, **{number: each[load] for load, number in self.held.items() if each[load]}}


def evenly(amounts: Mapping[Crowd, int]) -> tuple[int, dict[Consumer, int]]:
    """Split amounts into one for a circuit and one for each load; raise NotCompact where that is not exact."""
    alone = {load: amount for crowd, amount in amounts.items() if len(crowd) == 1 for load in crowd}
    pairs = [(crowd, amount) for crowd, amount in amounts.items() if len(crowd) == 2]
    base = sum(alone.get(load, 0) for load in pairs[0][0]) - pairs[0][1] if pairs else 0
    each = {load: amount - base for load, amount in alone.items()}
    if any(amount != base + sum(each.get(load, inf) for load in crowd) for crowd, amount in amounts.items()):
        raise NotCompact("what a circuit adds is no sum over its loads")
    return base, each


def _slots(choice: Tableau, columns: Mapping[Crowd, int], programme: Programme) -> Iterator[Slot]:
    """Add the slots of a group on a kind of output: which loads are in each, and their tree."""
    some = next(c for n in columns.values() if isinstance(c := choice.columns[n], OutputColumn))
    losses = {crowd: choice.columns[number].price.spare_port_loss for crowd, number in columns.items()}
    base, each = evenly(losses)
    before = None
    for _ in some.kind.ports[: len(each)]:
        used = programme.variable(base)
        slot = Slot(programme, used, {load: programme.variable(cost) for load, cost in each.items()})
        for number in slot.held.values():
            programme.row({number: 1, used: -1}, -inf, 0)
        for crowd in _refused(columns, tuple(each)):
            programme.row({slot.held[load]: 1 for load in crowd}, -inf, len(crowd) - 1)
        if before is not None:
            programme.row({used: 1, before: -1}, -inf, 0)
        before = used
        _tree(slot, choice, str(some.wired.site.face(some.kind.like.face)))
        yield slot


def _refused(columns: Mapping[Crowd, int], loads: Sequence[Consumer]) -> Iterator[Crowd]:
    """Return the smallest sets of loads that are no circuit."""
    for count in range(2, len(loads) + 1):
        for crowd in map(frozenset, combinations(loads, count)):
            if crowd not in columns and all(crowd - {load} in columns for load in crowd):
                yield crowd


def _tree(slot: Slot, choice: Tableau, face: str) -> None:
    """Join the face to every point of each load that is in a slot, in legs that are paid for once."""
    legs = choice.site.job.bike.frame.legs
    laid = [slot.programme.variable(leg.length) for leg in legs]
    for load, held in slot.held.items():
        for point in choice.site.job.circuit((load,)).points:
            if point != face:
                _flow(slot.programme, [leg.between for leg in legs], laid, (face, point), held)


def _flow(
    programme: Programme, legs: Sequence[Iterable[str]], laid: Sequence[int], ends: tuple[str, str], amount: int
) -> None:
    """Lead an amount from one end to the other, only where a wire is laid."""
    kept: dict[str, dict[int, float]] = {ends[0]: {amount: -1}, ends[1]: {amount: 1}}
    for (one, other), wire in zip(legs, laid, strict=True):
        for start, end in ((one, other), (other, one)):
            flow = programme.variable(whole=False)
            programme.row({flow: 1, wire: -1}, -inf, 0)
            kept.setdefault(start, {})[flow] = 1
            kept.setdefault(end, {})[flow] = -1
    for entries in kept.values():
        programme.row(entries, 0, 0)

"""The columns of a comparison, which unit comes first by them, and which are beaten in every respect."""

from collections.abc import Callable, Iterable, Iterator, Sequence
from decimal import Decimal
from fractions import Fraction

from portloom.comparing.row import Fit, NoFit, Row

Worth = tuple[Fraction | Decimal | int | str, ...]
"""Ranks rows: the smaller the better."""


def _price(row: Row) -> Worth:
    """A unit without a price comes after those that have one."""
    return (1,) if row.price is None else (0, Decimal(row.price))


def _headroom(row: Row, _: Fit) -> Worth:
    room = row.headroom
    return (0, 0) if room is None else (-room.current.percent, -len(room.later.fit))


BY: dict[str, Callable[[Row, Fit], Worth]] = {
    "cost": lambda _, fit: (fit.cost,),
    "wire run": lambda _, fit: (fit.wire_run,),
    "spare-port loss": lambda _, fit: (fit.spare_port_loss,),
    "copper": lambda _, fit: (fit.copper_mg,),
    "ports left": lambda _, fit: (-fit.free_outputs - fit.free_inputs, -fit.free_outputs),
    "outputs left": lambda _, fit: (-fit.free_outputs,),
    "inputs left": lambda _, fit: (-fit.free_inputs,),
    "room for": lambda _, fit: (-len(fit.room_for),),
    "feed": lambda _, fit: (max(Fraction(unit.worst, unit.limit) for unit in fit.units),),
    "thin": lambda _, fit: (len(fit.thin), max((margin.used for margin in fit.thin), default=0)),
    "price": lambda row, _: _price(row),
    "headroom": _headroom,
    "place": lambda _, fit: tuple(what for unit in fit.units for what in (unit.place, unit.turned)),
    "unit": lambda row, _: (row.unit,),
}
"""By its name, how a column ranks units that fit."""
GOAL = "cost"
"""The goal of a plan: what its wire and its spare ports come to, as a length of wire."""
CALLED = {GOAL: "wire and spare ports"}
"""What people read of a column where its name is not that: a cost in wire is no money."""


def called(column: str) -> str:
    """Return what people read of a column."""
    return CALLED.get(column, column)


def usual(rows: Iterable[Row]) -> str:
    """Return what ranks units where nobody says: the price where each has one, else the goal of a plan."""
    return "price" if all(row.price is not None for row in rows) else GOAL


def column_named(said: str) -> str | None:
    """Return the column that is meant, however its words are joined; None where there is none."""
    joined = said.strip().lower().replace("_", " ").replace("-", " ")
    return next((name for name in BY if joined in {name.replace("-", " "), called(name)}), None)


def ranked(rows: Sequence[Row], by: str = GOAL) -> tuple[Row, ...]:
    """The rows of one bike: what fits, the best by a column first; then what is not known; then what does not fit.

    Ties go by the cost, then by the order of the rows.
    """
    return tuple(sorted(rows, key=lambda row: _rank(row, by)))


def _rank(row: Row, by: str) -> tuple[object, ...]:
    fit = row.fit
    if fit is not None:
        return 0, BY[by](row, fit), fit.cost
    return (2,) if isinstance(row.answer, NoFit) else (1,)


def beaten_by(row: Row, rows: Sequence[Row]) -> tuple[str, ...]:
    """Return the units that beat this one for the same bike, in the order of the rows.

    Nothing beats a unit whose plan is not proved the best: it may have a better one.
    """
    if row.fit is None or not row.fit.proven:
        return ()
    return tuple(other.unit for other in rows if beats(other, row))


def beats(one: Row, other: Row) -> bool:
    """Tell whether a unit is as good as another in every respect, and better in one."""
    if one.fit is None or other.fit is None:
        return False
    pairs = tuple(_side_by_side(one, one.fit, other, other.fit))
    room, others_room = set(one.fit.room_for), set(other.fit.room_for)
    return (
        all(mine <= its for mine, its in pairs)
        and room >= others_room
        and (room > others_room or any(mine < its for mine, its in pairs))
    )


def _side_by_side(row: Row, fit: Fit, other_row: Row, other: Fit) -> Iterator[tuple[Decimal | int, Decimal | int]]:
    """Return every measure of both, the smaller the better; the price only where both have one."""
    if row.price is not None and other_row.price is not None:
        yield Decimal(row.price), Decimal(other_row.price)
    yield from zip(_measures(fit), _measures(other), strict=True)
    if row.headroom is not None and other_row.headroom is not None:
        yield -row.headroom.current.percent, -other_row.headroom.current.percent
        yield -len(row.headroom.later.fit), -len(other_row.headroom.later.fit)


def _measures(fit: Fit) -> tuple[int, ...]:
    """Of two feeds count what the one with more left has, and what both have: a load needs it in one place."""
    spare = fit.spare_feeds
    left = (-fit.free_outputs, -fit.free_inputs, -max(spare), -sum(spare))
    return fit.cost, fit.wire_run, fit.copper_mg, len(fit.thin), *left

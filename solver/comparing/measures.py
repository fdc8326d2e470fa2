"""The columns of a comparison: what a unit is measured by, and which way is better."""

from collections.abc import Callable
from decimal import Decimal
from fractions import Fraction

from solver.comparing.row import Fit, Row

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
USUAL = "cost"
"""The goal of a plan."""


def column_named(said: str) -> str | None:
    """Return the column that is meant, however its words are joined; None where there is none."""
    joined = said.strip().lower().replace("_", " ").replace("-", " ")
    return next((name for name in BY if name.replace("-", " ") == joined), None)

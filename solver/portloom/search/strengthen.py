"""The sizing loop: rows for what a plan's true wire sizes break, valid for every plan.

A column carries the thinnest size that serves it alone. Once a plan is found its wires are sized by
what lies beside them; where that breaks a terminal, a return or a budget, rows are added that say so
for every plan, and the place is solved again. The first plan that passes is the best, because the
rows only cut off plans whose true sizes break the same thing.
"""

from collections.abc import Sequence

from portloom.job.laid import Laid
from portloom.job.sizing import Unprotected, size_wires
from portloom.job.wired import WiredOutput
from portloom.rules.book import broken_rows
from portloom.rules.shapes import Rule
from portloom.search.columns import InputColumn, MultiplexerColumn, OutputColumn, ReturnColumn, SwitchColumn
from portloom.search.levels import Levels
from portloom.search.tableau import Tableau
from portloom.search.thicker import Thicker


def laid_by(choice: Tableau, chosen: Sequence[int]) -> Laid:
    """Lay the plan that the chosen columns make."""
    used = [column for column, times in zip(choice.columns, chosen, strict=True) for _ in range(times)]
    outputs = [column for column in used if isinstance(column, OutputColumn)]
    returns = [column.wire for column in used if isinstance(column, ReturnColumn)]
    return Laid(
        choice.site.joined_by(returns) if returns else choice.site,
        choice.losses,
        tuple(column.wired for column in outputs if not column.later),
        tuple(column.wired for column in used if isinstance(column, InputColumn)),
        tuple(column.wired for column in outputs if column.later),
        tuple(column.wired for column in used if isinstance(column, SwitchColumn)),
        tuple(column.wired for column in used if isinstance(column, MultiplexerColumn)),
    )


def strengthened(rules: Sequence[Rule], choice: Tableau, chosen: Sequence[int]) -> Tableau | None:
    """Return the choice with rows for what the plan's true sizes break, or None where they break nothing."""
    sized = size_wires(laid_by(choice, chosen))
    broken = [row for row in broken_rows(rules, sized.laid) if row.found > row.row.at_most]
    if not sized.unprotected and not broken:
        return None
    levels = Levels(choice)
    thicker = Thicker(choice, levels)
    for wire in sized.unprotected:
        _forbid(thicker, wire)
    for row in broken:
        thicker.restate(row.rule, row.number, row.key)
    return levels.tableau()


def _forbid(thicker: Thicker, wire: Unprotected) -> None:
    """Keep every plan from leaving this wire, or an output's wire in the same leg, without a reel."""
    if isinstance(wire.wire, WiredOutput):
        thicker.protect_outputs(wire.leg)
    else:
        thicker.protect_way(wire.wire)

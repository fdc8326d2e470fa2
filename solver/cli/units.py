"""``portloom units``: the bundled profiles in a table."""

import json
import sys
from decimal import Decimal

from solver.cli.screen import page
from solver.reading.profiles import bundled_units
from solver.reading.unit import read_unit
from solver.sheets.layout import Column
from solver.words.figures import amperes
from solver.words.unit import Unit

COLUMNS: tuple[Column, ...] = (
    ("unit", "left"), ("outputs", "right"), ("inputs", "right"), ("feed", "right"), ("banks", "left"),
    ("dims", "right"), ("follows", "right"), ("pulse inputs", "right"),
)  # fmt: skip


def run(*, as_json: bool) -> None:
    """Write the bundled units, smallest first."""
    units = sorted((read_unit(path) for _, path in bundled_units()), key=lambda unit: len(unit.outputs))
    if as_json:
        sys.stdout.write(json.dumps([_document(unit) for unit in units], indent=2, ensure_ascii=False) + "\n")
        return
    page().table(COLUMNS, [_row(unit) for unit in units])


def _row(unit: Unit) -> list[str]:
    banks = ", ".join(f"{name} {amperes(limit)}" for name, limit in unit.banks.items())
    return [
        unit.unit,
        str(len(unit.outputs)),
        str(len(unit.inputs)),
        amperes(unit.feed.limit),
        banks or "-",
        str(sum(output.pwm for output in unit.outputs)),
        str(sum(output.follow is not None for output in unit.outputs)),
        str(sum("pulse" in port.accepts for port in unit.inputs)),
    ]


def _document(unit: Unit) -> dict[str, object]:
    return {
        "unit": unit.unit,
        "outputs": len(unit.outputs),
        "inputs": len(unit.inputs),
        "feed_limit_a": float(Decimal(unit.feed.limit) / 1000),
    }

"""``portloom units``: the bundled profiles in a table."""

from solver.cli.screen import page, write_json
from solver.plans.amounts import thousandth
from solver.reading.profiles import bundled_units
from solver.reading.unit import read_unit
from solver.sheets.layout import Column
from solver.words.figures import amperes
from solver.words.unit import Unit

COLUMNS: tuple[Column, ...] = (
    ("unit", "left"), ("outputs", "right"), ("that dim", "right"), ("that follow", "right"), ("inputs", "right"),
    ("for pulses", "right"), ("feed", "right"), ("banks", "left"),
)  # fmt: skip


def list_units(*, as_json: bool) -> None:
    """Write the bundled units, smallest first."""
    units = sorted((read_unit(path) for _, path in bundled_units()), key=lambda unit: len(unit.outputs))
    if as_json:
        write_json([_document(unit) for unit in units])
    else:
        page().table(COLUMNS, [_row(unit) for unit in units])


def _row(unit: Unit) -> list[str]:
    return [
        unit.unit,
        str(len(unit.outputs)),
        str(_dimming(unit)),
        str(_following(unit)),
        str(len(unit.inputs)),
        str(_counting(unit)),
        amperes(unit.feed.limit),
        ", ".join(f"{name} {amperes(limit)}" for name, limit in unit.banks.items()) or "-",
    ]


def _document(unit: Unit) -> dict[str, object]:
    return {
        "unit": unit.unit,
        "outputs": len(unit.outputs),
        "outputs_that_dim": _dimming(unit),
        "outputs_that_follow": _following(unit),
        "inputs": len(unit.inputs),
        "inputs_for_pulses": _counting(unit),
        "feed_limit_a": thousandth(unit.feed.limit),
        "banks": {name: thousandth(limit) for name, limit in unit.banks.items()},
    }


def _dimming(unit: Unit) -> int:
    return sum(output.pwm for output in unit.outputs)


def _following(unit: Unit) -> int:
    return sum(output.follow is not None for output in unit.outputs)


def _counting(unit: Unit) -> int:
    return sum("pulse" in port.accepts for port in unit.inputs)

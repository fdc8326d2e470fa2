"""A comparison as one JSON document, in the units that the keys name."""

from collections.abc import Sequence
from decimal import Decimal
from typing import assert_never

from portloom.comparing.row import Fit, FitUnknown, Headroom, NoFit, OnOne, Reason, Row
from portloom.comparing.tables import BikeTable, Compared, Comparison, PairsTried
from portloom.documents.amounts import Json, cost_json, number, set_aside_json, thousandth
from portloom.documents.assumed import CAUTIONS
from portloom.job.goal import Cost


def comparison_json(comparison: Comparison, bike_files: Sequence[str], unit_files: Sequence[str]) -> Json:
    """Return the document of a comparison; the keys are those that other programs rely on.

    The files come in the order of the bikes and of all that they were tried on.
    """
    files = dict(zip(comparison.units, unit_files, strict=True))
    bikes = zip(comparison.bikes, bike_files, strict=True)
    return {
        "ranked_by": comparison.by,
        "fit_every_bike": list(comparison.fit_every_bike),
        **({} if comparison.of_two is None else {"two_units": _of_two(comparison.of_two)}),
        "bikes": [_bike(table, file, files) for table, file in bikes],
        "cautions": list(CAUTIONS),
    }


def _of_two(of_two: PairsTried) -> Json:
    return {"pairs_of": list(of_two.units), "do_alone": list(of_two.do_alone)}


def _bike(table: BikeTable, file: str, files: dict[str, str]) -> Json:
    rows = [{**_row(compared), "unit_file": files[compared.row.unit]} for compared in table.rows]
    no_two = {} if table.no_two is None else {"no_two_units": table.no_two}
    first = {"set_aside": set_aside_json(table.set_aside), "warnings": list(table.first)}
    return {"bike": table.bike, "bike_file": file, **first, **no_two, "rows": rows}


def _row(compared: Compared) -> Json:
    row = compared.row
    room = {} if row.headroom is None else {"headroom": _headroom(row.headroom)}
    return {**row_json(row), **room, "beaten_by": list(compared.beaten_by)}


def row_json(row: Row) -> Json:
    """Return a row's document, but for its headroom."""
    return {"unit": row.unit, "price": price(row), **_answer(row)}


def price(row: Row) -> int | float | None:
    """Return a unit's price as a number, if it has one."""
    return None if row.price is None else number(Decimal(row.price))


def _answer(row: Row) -> Json:
    answer = row.answer
    match answer:
        case Fit():
            return _fit(answer)
        case NoFit(status, reason):
            return {"status": status, "why_not": _reason(reason)}
        case FitUnknown(status, bound):
            return {"status": status, "bound_mm": thousandth(bound)}
        case _:
            assert_never(answer)


def _reason(reason: Reason) -> Json:
    return {"sentence": reason.said, "rules": list(reason.rules)}


def _fit(fit: Fit) -> Json:
    return {
        "status": fit.status,
        "proven": fit.proven,
        **_units(fit),
        **cost_json(Cost(fit.wire_run, fit.spare_port_loss, fit.legs_in_use)),
        "copper_g": thousandth(fit.copper_mg),
        "room_for": list(fit.room_for),
        "no_room_for": list(fit.no_room_for),
        "thin_margins": [
            {
                "rule": margin.rule,
                "subject": margin.subject,
                "sentence": margin.sentence,
                "used_percent": number(Decimal(margin.used) / 10),
            }
            for margin in fit.thin
        ],
    }


def _units(fit: Fit) -> Json:
    """Return what is a unit's own; where there are two, in a list, in the order of their names."""
    one, *other = (_on_one(unit) for unit in fit.units)
    return {"units": [one, *other]} if other else one


def _on_one(unit: OnOne) -> Json:
    return {
        "place": unit.place,
        "turned": unit.turned,
        "outputs_left": list(unit.outputs_left),
        "inputs_left": list(unit.inputs_left),
        "feed": {
            "worst_a": thousandth(unit.worst),
            "worst_case": unit.worst_case,
            "limit_a": thousandth(unit.limit),
        },
    }


def _headroom(room: Headroom) -> Json:
    current = room.current
    return {
        "later_loads": list(room.later.fit),
        "later_loads_end": room.later.end,
        "next_later_load": room.later.next,
        "current_percent": current.percent,
        "current_end": current.end,
        "worst_a": thousandth(current.total),
        "why_not_more": None if current.reason is None else _reason(current.reason),
    }

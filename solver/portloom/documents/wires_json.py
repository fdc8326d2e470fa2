"""The pieces of a plan's wires as JSON: what a loom is found again by once it is built."""

from collections.abc import Iterable

from portloom.base.built import BuiltEnd, BuiltPiece, BuiltWay
from portloom.documents.amounts import Json, thousandth
from portloom.documents.change_order import ChangeOrder, Figures
from portloom.documents.wiring.wire import ConnectorWay, Wire, WireEnd


def wires_json(wires: Iterable[Wire]) -> list[Json]:
    """Return each piece with its number, its label, its ends, its legs from start to end, and what was cut for it."""
    return [_piece(wire, wire.connectors, {} if wire.used else {"used": False}) for wire in wires]


def dead_json(wires: Iterable[BuiltPiece]) -> list[Json]:
    """Return the wires of no circuit that lie in a loom, the same way."""
    return [_piece(wire, wire.ways, {}) for wire in wires]


def _piece(wire: Wire | BuiltPiece, ways: Iterable[ConnectorWay | BuiltWay], more: Json) -> Json:
    return {
        "number": wire.number,
        "wire": wire.key,
        "circuit": wire.circuit,
        "kind": wire.kind,
        "port": wire.port or None,
        "from": _end(wire.start),
        "to": _end(wire.end),
        "size": None if wire.size is None else wire.size.label,
        "legs": list(wire.legs),
        "cut_mm": [thousandth(cut) for cut in wire.cuts],
        "connectors": [{"at": way.at, "way": way.way} for way in ways],
        **more,
        **({} if wire.colour is None else {"colour": wire.colour.letters}),
    }


def _end(end: WireEnd | BuiltEnd) -> Json:
    terminal = {"terminal": end.terminal} if end.terminal else {}
    return {"kind": end.kind, "name": end.name, "at": end.point, **terminal}


def change_json(order: ChangeOrder) -> Json:
    """Return the change order of a built loom."""
    return {
        "built": order.built,
        "touched_first": list(order.change.mattering),
        "touched": list(order.change.others),
        "opened": list(order.change.opened),
        "least": order.proven,
        "parted": list(order.parted),
        "leave": list(order.left),
        "alter": [
            {
                "circuit": one.circuit,
                "number": one.number,
                "wire": one.key,
                "joins": one.joins,
                "at": one.at,
                "point": one.point,
                "leg": one.leg or None,
            }
            for one in order.altered
        ],
        "short": [
            {
                "number": one.number,
                "wire": one.key,
                "cut_mm": thousandth(one.length),
                "asked_mm": thousandth(one.asked),
                "run_mm": thousandth(one.run),
            }
            for one in order.short
        ],
        "set_anew": list(order.settings),
        "take_out": [
            {"number": wire.number, "wire": wire.key, "from": wire.start, "to": wire.end, "legs": list(wire.legs)}
            for wire in order.out
        ],
        "join": [
            {"number": one.number, "wire": one.key, "cut_at": one.was_at, "splice": one.splice, "at": one.point}
            for one in order.joins
        ],
        "cut_new": wires_json(order.new),
        "test_again": [
            {
                "circuit": one.circuit,
                "of": list(one.on_it),
                "new": one.is_new,
                "off": one.is_off,
                "set_anew": one.is_set,
                "opened": list(one.opened),
                "parted": list(one.parted),
                "always": one.always,
            }
            for one in order.retests
        ],
        "before": _figures(order.before),
        "after": _figures(order.after),
    }


def _figures(figures: Figures) -> Json:
    return {"worst_a": thousandth(figures.worst), "room_for": list(figures.room_for)}

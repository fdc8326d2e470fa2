"""A difference as one JSON document, in the units that the keys name."""

from decimal import Decimal
from typing import Any

from portloom.documents.amounts import Json, number, set_aside_json
from portloom.documents.assumed import CAUTIONS
from portloom.documents.difference.change import Change, Difference, Named


def difference_json(difference: Difference) -> Json:
    """Return the document of a difference; the keys are those that other programs rely on."""
    return {
        "status": "the same" if difference.same else "different",
        "old": named_json(difference.old),
        "new": named_json(difference.new),
        "changes": [_change(change) for change in difference.changes],
        "warnings_that_stay": list(difference.stay),
        "set_aside": set_aside_json(difference.set_aside),
        "cautions": list(CAUTIONS),
    }


def named_json(plan: Named) -> Json:
    """Return which plan one side is."""
    seats = [{"called": label, "sits": seat} for label, seat in plan.seats]
    return {"bike": plan.bike, "units": list(plan.units), **({"seats": seats} if seats else {})}


def _change(change: Change) -> Json:
    return {
        "kind": change.kind,
        "part": change.part,
        "subject": change.subject,
        "key": change.key,
        **({"cut": change.cutting} if change.kind == "wire" else {}),
        "old": _plain(change.old),
        "new": _plain(change.new),
    }


def _plain(value: Any) -> Any:
    match value:
        case dict():
            return {key: _plain(held) for key, held in value.items()}
        case list() | tuple():
            return [_plain(held) for held in value]
        case Decimal():
            return number(value)
    return value

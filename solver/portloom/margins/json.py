"""Near misses as JSON."""

from decimal import Decimal

from portloom.base.quantities import MilliAmps
from portloom.documents.amounts import Json
from portloom.margins.growth import Growth
from portloom.margins.misses import NearMisses
from portloom.rules.margins import LimitMargin


def near_json(near: NearMisses) -> Json:
    """Return the document of a plan's near misses; the keys are those that other programs rely on."""
    case = near.nearest_case
    return {
        "tight": [_margin(margin) for margin in near.tight],
        "first": _margin(near.first),
        "grows_least": None if near.grows_least is None else _growth(near.grows_least),
        "fullest_leg": None if near.fullest_leg is None else _margin(near.fullest_leg),
        "nearest_case": {"case": case.case, "current_a": _amperes(case.current), "limit_a": _amperes(case.limit)},
    }


def _margin(margin: LimitMargin) -> Json:
    """The share is rounded down to a tenth of a per cent: 100 only where nothing is left."""
    tenths = 1000 * margin.share.numerator // margin.share.denominator
    return {
        "rule": margin.rule,
        "subject": margin.subject,
        "sentence": margin.sentence,
        "used_percent": float(Decimal(tenths) / 10),
    }


def _growth(growth: Growth) -> Json:
    return {
        "load": growth.load,
        "current_a": _amperes(growth.current),
        "by_a": _amperes(growth.by),
        "rule": growth.rule,
        "sentence": growth.sentence,
    }


def _amperes(current: MilliAmps) -> int | float:
    amount = Decimal(current) / 1000
    return int(amount) if amount == amount.to_integral_value() else float(amount)

"""Near misses of a plan: every limit that is close, and what would break first."""

from collections.abc import Iterable, Iterator, Sequence
from dataclasses import replace
from decimal import Decimal

from portloom.base.quantities import MilliAmps
from portloom.base.values import dataclass
from portloom.documents.amounts import Json
from portloom.job.cases import named_for
from portloom.job.laid import Laid
from portloom.margins.growth import Growth, grows_least
from portloom.rules.book import RULES, rules_of
from portloom.rules.margins import LimitMargin
from portloom.rules.shapes import Rule


@dataclass(frozen=True)
class NearestCase:
    """The case in which the unit carries most."""

    case: str
    when: str
    """The same case as people say it."""
    current: MilliAmps
    limit: MilliAmps


@dataclass(frozen=True)
class NearMisses:
    """Where a plan has no slack."""

    tight: tuple[LimitMargin, ...]
    """The limits of which less than a tenth is left, the most serious first; wires that may be thicker last."""
    first: LimitMargin
    """The first of these, or what would break first where none is near."""
    grows_least: Growth | None
    """The load on the unit that can grow least; None where the unit feeds none."""
    fullest_leg: LimitMargin | None
    """The loom that fills its opening most; None where no leg with a loom has an opening."""
    nearest_case: NearestCase


def near_misses(laid: Laid) -> NearMisses:
    """The near misses of a plan that passed its check, every wire at its size; later loads don't count."""
    laid = replace(laid, later=())
    ranked = _tightest_first(laid)
    tight = _most_serious_first(ranked)
    return NearMisses(
        tight=tight,
        first=next(iter(tight), ranked[0]),
        grows_least=grows_least(laid),
        fullest_leg=max(_of_looms(laid), key=lambda margin: margin.share, default=None),
        nearest_case=_nearest(laid),
    )


def tight_margins(laid: Laid) -> tuple[LimitMargin, ...]:
    """Return only the limits of which less than a tenth is left, the most serious first."""
    return _most_serious_first(_tightest_first(replace(laid, later=())))


def _tightest_first(laid: Laid) -> list[LimitMargin]:
    return sorted(margins(laid), key=lambda margin: -margin.share)


def _most_serious_first(ranked: Sequence[LimitMargin]) -> tuple[LimitMargin, ...]:
    """Of what is near, that which only another plan eases comes before what a thicker wire eases."""
    return tuple(sorted((margin for margin in ranked if margin.near), key=lambda margin: margin.may_be_thicker))


def margins(laid: Laid) -> Iterator[LimitMargin]:
    """Return every margin that a rule in force keeps, in the order of the book, then of the files."""
    return _kept_by(rules_of(laid.site.job), laid)


def _of_looms(laid: Laid) -> Iterator[LimitMargin]:
    """Return the margins of looms, also where their rule is set aside."""
    return _kept_by((rule for rule in RULES if rule.of_looms), laid)


def _kept_by(rules: Iterable[Rule], laid: Laid) -> Iterator[LimitMargin]:
    for rule in rules:
        yield from rule.margins(laid) if rule.margins else ()


def _nearest(laid: Laid) -> NearestCase:
    job = laid.site.job
    drawn = [
        MilliAmps(sum(w.circuit.current for w in laid.outputs if job.circuit_on(w.circuit, case))) for case in job.cases
    ]
    number = drawn.index(max(drawn))
    told = named_for(job.cases[number], (load for wired in laid.outputs for load in wired.circuit.members))
    return NearestCase(told.label, told.said, drawn[number], job.unit.feed.limit)


# --- as JSON


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

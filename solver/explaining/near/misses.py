"""Near misses of a plan: every limit that is close, and what would break first."""

from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass, replace

from solver.explaining.near.currents import main_fuse, sums, trips
from solver.explaining.near.growth import Growth, grows_least
from solver.explaining.near.looms import openings
from solver.explaining.near.margins import Margin
from solver.explaining.near.voltages import cranking, drops, earth_lifts
from solver.job.laid import Laid
from solver.rules.book import rules_of
from solver.rules.shapes import Rule
from solver.words.quantities import MilliAmps

KINDS: dict[str, Callable[[Laid, Rule], Iterator[Margin]]] = {
    "wire": drops,
    "main-fuse": main_fuse,
    "trip": trips,
    "opening": openings,
    "cranking": cranking,
    "signal": earth_lifts,
}
"""What has a margin beside sums of currents, by the slug of the rule that keeps it."""
OF_THE_BIKE = ("wire", "main-fuse", "trip", "opening", "signal")
"""What is judged of all units at once; the others of each unit by itself."""


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

    tight: tuple[Margin, ...]
    """The margins within 10 % of their limit, the tightest first."""
    first: Margin
    """What would break first, near or not."""
    grows_least: Growth | None
    """The load on the unit that can grow least; None where the unit feeds none."""
    fullest_leg: Margin | None
    """The loom that fills its opening most; None where no leg with a loom has an opening."""
    nearest_case: NearestCase


def near_misses(laid: Laid) -> NearMisses:
    """The near misses of a plan that passed its check, every wire at its settled size; later loads don't count."""
    laid = replace(laid, later=())
    ranked = _tightest_first(laid)
    return NearMisses(
        tight=_within_a_tenth(ranked),
        first=ranked[0],
        grows_least=grows_least(laid),
        fullest_leg=max(openings(laid), key=lambda margin: margin.share, default=None),
        nearest_case=_nearest(laid),
    )


def tight_margins(laid: Laid) -> tuple[Margin, ...]:
    """Return only the margins within 10 % of their limit, the tightest first."""
    return _within_a_tenth(_tightest_first(replace(laid, later=())))


def _tightest_first(laid: Laid) -> list[Margin]:
    return sorted(margins(laid), key=lambda margin: -margin.share)


def _within_a_tenth(ranked: Sequence[Margin]) -> tuple[Margin, ...]:
    return tuple(margin for margin in ranked if margin.near)


def margins(laid: Laid) -> Iterator[Margin]:
    """Return every margin that a rule in force keeps, in the order of the book, then of the files."""
    units = laid.site.units
    each = [laid.of(unit) for unit in units] if len(units) > 1 else [laid]
    for rule in rules_of(laid.site.job):
        kind = KINDS.get(rule.slug, sums)
        for part in [laid] if rule.slug in OF_THE_BIKE else each:
            yield from kind(part, rule)


def _nearest(laid: Laid) -> NearestCase:
    job = laid.site.job
    drawn = [
        MilliAmps(sum(w.circuit.current for w in laid.outputs if job.circuit_on(w.circuit, case))) for case in job.cases
    ]
    number = drawn.index(max(drawn))
    return NearestCase(job.cases[number].label, job.cases[number].said, drawn[number], job.unit.feed.limit)

"""Banks and openings that bind: set from what a plan takes that has no such limits."""

from collections.abc import Iterable, Iterator, Sequence
from decimal import Decimal
from functools import cache
from math import isqrt

from portloom.base.clock import Clock
from portloom.job.fixed import sized_fixed_wires
from portloom.job.job import Job
from portloom.rules.book import rules_of
from portloom.rules.sites import sites_of
from portloom.search.best import tableaux_of
from portloom.search.columns import Column, InputColumn, OutputColumn
from portloom.search.model import Model
from portloom.search.places import Found, best_place
from portloom.search.sizing_cuts import in_true_sizes
from portloom.search.solving import Solve, Status
from portloom.search.tableau import Tableau

from .big_bikes import LARGE, Size, big_bike, typed
from .big_units import Entry

SQUEEZES = tuple(Decimal(hundredths) / 100 for hundredths in (92, 97, 102, 107, 115, 130))
BANKS = Decimal("0.90")
OPENINGS = 8
SLEEVE = 1000  # micrometres, the default


def passes_always(_: Tableau, __: tuple[int, ...]) -> None:
    """Take every plan as it is, with the thinnest wires."""


class TooTight(RuntimeError):
    """No squeeze leaves a plan."""


def tableaux(bike: Entry, unit: Entry) -> tuple[Tableau, ...]:
    """Set up the choice at every place of a bike."""
    job = Job(*typed(bike, unit))
    rules = rules_of(job)
    return tableaux_of(job, rules, sites_of(job))


@cache
def tight_bike(seed: int, size: Size = LARGE) -> tuple[Entry, Entry]:
    """Take a seed; give a bike and a unit with banks and openings as tight as leaves two places in three a plan."""
    bike, unit = big_bike(seed, size)
    ends = [best_place([one], passes_always, Clock(None)) for one in tableaux(bike, unit)]
    loose = [end for end in ends if isinstance(end, Found)]
    for squeeze in SQUEEZES:
        tight = _squeezed(bike, loose, squeeze), _limited(unit, loose, BANKS * squeeze)
        if 3 * sum(_has_a_plan(one) for one in tableaux(*tight)) >= 2 * size.places:
            return tight
    raise TooTight(f"big bike {seed}")


def _has_a_plan(choice: Tableau) -> bool:
    """Tell whether any plan passes with true wire sizes; without a goal that is quickly found or ruled out."""
    rules = rules_of(choice.site.job)
    while (end := Model(choice).solve(Solve(None))).status is Status.BEST:
        stricter = in_true_sizes(rules, choice, end.chosen)
        if stricter is None:
            return True
        choice = stricter()
    return False


def _squeezed(bike: Entry, loose: Sequence[Found], squeeze: Decimal) -> Entry:
    """Return the fullest legs openings: a part of what the plans take there at the place that takes most."""
    legs = bike["frame"]["legs"]
    taken = [_areas(found) for found in loose]
    most = [max(areas.get(number, 0) for areas in taken) for number in range(len(legs))]
    fullest = sorted(range(len(legs)), key=lambda number: (-most[number], number))[:OPENINGS]
    wide = {number: isqrt(int(squeeze * most[number]) // 16) + SLEEVE for number in fullest}
    cut = [leg | ({"opening": f"{Decimal(wide[n]) / 1000} mm"} if n in wide else {}) for n, leg in enumerate(legs)]
    return bike | {"frame": bike["frame"] | {"legs": cut}}


def _limited(unit: Entry, loose: Sequence[Found], squeeze: Decimal) -> Entry:
    """Return each bank a part of what the cheapest plan draws from it."""
    cheapest = min(loose, key=lambda found: found.cost)
    limits = {bank: f"{max(1000, int(squeeze * _drawn(cheapest, bank)))} mA" for bank in unit["banks"]}
    return unit | {"banks": limits}


def _areas(found: Found) -> dict[int, int]:
    """Sum 25 x d^2 in each leg."""
    sums: dict[int, int] = {}
    for legs, diameter in _wires(found):
        for number in legs:
            sums[number] = sums.get(number, 0) + 25 * diameter**2
    return sums


def _wires(found: Found) -> Iterator[tuple[Iterable[int], int]]:
    site = found.tableau.site
    for wire in sized_fixed_wires(site):
        yield from [(wire.wire.run.legs, wire.diameter)] * wire.count
    for column in _used(found):
        if isinstance(column, OutputColumn):
            yield column.wired.legs, column.wired.drawn.diameter
        elif isinstance(column, InputColumn):  # these bikes have no multiplexers; main fuses are no wires
            yield column.wired.run.legs, site.job.reels[0].diameter


def _used(found: Found) -> Iterator[Column]:
    for column, times in zip(found.tableau.columns, found.chosen, strict=True):
        yield from [column] * times


def _drawn(found: Found, bank: str) -> int:
    """Return the most that a bank gives in any case, in mA."""
    job = found.tableau.site.job
    on_bank = [
        column.wired.circuit
        for column in _used(found)
        if isinstance(column, OutputColumn) and column.kind.like.bank == bank
    ]
    return max(sum(one.current for one in on_bank if job.circuit_on(one, case)) for case in job.cases)

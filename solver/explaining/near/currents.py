"""Margins of currents: trips and inrushes of outputs, banks, the unit in all, and the main fuse on its feed."""

from collections.abc import Iterator
from fractions import Fraction

from solver.electrics.ampacity import derated
from solver.electrics.trip import peak_of, trip_values
from solver.explaining.near.margins import NONE_LEFT, Margin, among, amperes_left
from solver.job.bundles import Bundles
from solver.job.demands import feed_demands
from solver.job.fixed import conductor_of
from solver.job.laid import Laid
from solver.job.site import Site
from solver.job.wired import WiredOutput
from solver.rules.book import sums_of
from solver.rules.facts import FEED_LIMIT, FactKey
from solver.rules.main_fuse import largest_for_unit
from solver.rules.shapes import Row, Rule
from solver.words.figures import amperes, peak_amperes
from solver.words.quantities import MicroAmps, MilliAmps

# --- outputs


def trips(laid: Laid, rule: Rule) -> Iterator[Margin]:
    """Return for each output its circuit's 1.25 x steady current and its inrush, against what it gives at most."""
    for wired in laid.outputs:
        yield _steady(wired, rule)
        yield _inrush(wired, rule)


def _steady(wired: WiredOutput, rule: Rule) -> Margin:
    circuit, port = wired.circuit, wired.output.name
    highest = max(trip_values(wired.output), default=wired.output.limit)
    wanted = MilliAmps(-(-5 * circuit.current // 4))
    left = MilliAmps(4 * highest // 5 - circuit.current)
    more = f"{amperes(left)} more may be drawn" if left else "no more may be drawn"
    sentence = (
        f"{circuit.label} on {port}: for {amperes(circuit.current)} a trip of {amperes(wanted)} is needed, "
        f"{port} goes up to {amperes(highest)}, {more}"
    )
    return Margin(rule.slug, circuit.label, wanted, highest, left, Fraction(5 * circuit.current, 4 * highest), sentence)


def _inrush(wired: WiredOutput, rule: Rule) -> Margin:
    circuit, port = wired.circuit, wired.output.name
    height, peak = circuit.inrush.height, MicroAmps(1000 * peak_of(wired.output))
    left = MicroAmps(peak - height)
    rest = f"{peak_amperes(left)} left" if left else NONE_LEFT
    sentence = (
        f"{circuit.label} on {port}: {peak_amperes(height)} when switched on, "
        f"{port} passes {peak_amperes(peak)} for a moment, {rest}"
    )
    return Margin(rule.slug, circuit.label, height, peak, left, Fraction(height, peak), sentence)


# --- sums


def sums(laid: Laid, rule: Rule) -> Iterator[Margin]:
    """Return for each bank, and for the unit in all, the case in which it carries most, the first of equal ones."""
    for budget in rule.budgets(laid.site) if rule.budgets else ():
        by_fact: dict[FactKey, list[tuple[MilliAmps, Row]]] = {}
        found = sums_of(budget, laid) if any(row.when for row in budget.rows.values()) else {}
        for key, current in found.items():
            row = budget.rows[key]
            by_fact.setdefault(row.fact or (row.subject,), []).append((MilliAmps(current), row))
        for fact, carried in by_fact.items():
            yield _of_sum(rule, fact, *max(carried, key=lambda pair: pair[0])).at(laid.site.own_name)


def _of_sum(rule: Rule, fact: FactKey, current: MilliAmps, row: Row) -> Margin:
    subject = "unit" if fact == FEED_LIMIT else " ".join(fact)
    limit = MilliAmps(row.at_most)
    left = MilliAmps(limit - current)
    told = f"{'the unit in all' if fact == FEED_LIMIT else subject} {row.when}"
    sentence = f"{told}: {amperes(current)} of {amperes(limit)}, {amperes_left(left)}"
    return Margin(rule.slug, subject, current, limit, left, Fraction(current, limit), sentence)


# --- the feed


def main_fuse(laid: Laid, rule: Rule) -> Iterator[Margin]:
    """Return each main fuse against what its feed carries where it is weakest, unless its unit allows less still."""
    bundles = Bundles(laid)
    for unit in laid.site.units:
        site = unit.settle(laid.site.settled)
        yield from (margin.at(site.own_name) for margin in _main_fuse(site, bundles, rule))


def _main_fuse(site: Site, bundles: Bundles, rule: Rule) -> Iterator[Margin]:
    weakest = min(_feed_carries(site, bundles), default=None)
    if weakest is None or site.main_fuse is None or weakest[0] > largest_for_unit(site.job):
        return
    carries, leg, loaded = weakest
    left = MilliAmps(carries - site.main_fuse)
    sentence = (
        f"main fuse {amperes(site.main_fuse)}: the feed of {conductor_of(site, site.feed).size.label} carries "
        f"{amperes(carries)} in {site.job.network.legs[leg].label}{among(loaded)}, {amperes_left(left)}"
    )
    yield Margin(rule.slug, "feed", site.main_fuse, carries, left, Fraction(site.main_fuse, carries), sentence)


def _feed_carries(site: Site, bundles: Bundles) -> Iterator[tuple[MilliAmps, int, int]]:
    """Return what the feed carries in each leg and case, derated, with the leg and the loaded wires in it."""
    ampacity = conductor_of(site, site.feed).ampacity
    for demand in feed_demands(site):
        for leg in site.feed.run.legs:
            loaded = 1 if demand.case is None else max(1, bundles.loaded(leg, demand.case))
            yield derated(ampacity, site.job.insulation, site.job.network.legs[leg].ambient, loaded), leg, loaded

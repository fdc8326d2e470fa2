"""Openings: a loom passes what it must pass.

The loom's diameter is the larger of 1.25 x sqrt(sum of d^2) and the two thickest wires side by
side, plus the sleeve. It is judged in whole micrometres: 25 x sum d^2 <= 16 x (opening - sleeve)^2,
and no two wires with d1 + d2 > opening - sleeve. It lies above every proved packing of three or
more equal circles; for mixed sizes nothing is proved.
Source: packings after Graham, Pirl, Melissen, Fodor; the factor 1.25 common practice, no source.
"""

from collections.abc import Callable, Iterable, Iterator
from dataclasses import replace
from fractions import Fraction

from portloom.base.bike import Leg
from portloom.base.figures import listed, millimetres
from portloom.base.quantities import Micrometres
from portloom.base.values import dataclass
from portloom.job.fixed import lying
from portloom.job.job import Job
from portloom.job.laid import WIRES_TO_UNIT, Laid
from portloom.job.site import Site
from portloom.rules.facts import At, Fact
from portloom.rules.loom import loom_diameter, sleeve_of, wires_in
from portloom.rules.margins import LimitMargin, tenths, tenths_left
from portloom.rules.posted import OfPosts
from portloom.rules.shapes import Addend, Budget, BudgetRow, Key, Rule

MOST_WIRES = WIRES_TO_UNIT + 1
"""A multiplexer's own wires in a leg: data, supply and return."""


@dataclass(frozen=True)
class _Narrow:
    """A leg with an opening, and the width that it leaves for wires."""

    number: int
    label: str
    clear: int


def _narrow_legs(job: Job) -> tuple[_Narrow, ...]:
    return tuple(
        _Narrow(number, leg.label, max(0, leg.opening - sleeve_of(job, leg)))
        for number, leg in enumerate(job.network.legs)
        if leg.opening is not None
    )


_Adds = Callable[[Iterable[int], int], Iterable[Addend]]


class _Looms:
    """What each wire adds to the sums of the legs that it passes."""

    def __init__(self, site: Site) -> None:
        self._narrow = {leg.number: leg for leg in _narrow_legs(site.job)}
        self._fixed = tuple(lying(site))
        reels = {reel.diameter for reel in site.job.reels}
        self._diameters = sorted(reels | {diameter for _, diameter, _ in self._fixed})
        self._passing = max((len(wire.stretches) for wire in site.fixed_wires), default=1)
        circuits = len(site.job.loads.on_unit) + len(site.job.inputs)
        onward = sum(load.own_switch is not None for load in site.job.loads.on_unit)
        self._many = 1 + circuits + onward + self._fixed_count() + MOST_WIRES * len(site.job.bike.multiplexers)
        self._switch_wire = site.job.reels[0].diameter

    def _fixed_count(self) -> int:
        """Return how many fixed wires lie in a leg at most: one that passes a switch may come back by the same leg."""
        return sum(count for _, _, count in self._fixed) * self._passing

    def _slim(self, leg: _Narrow) -> list[int]:
        """Return the diameters that may lie beside some wire but not beside every one."""
        widest = self._diameters[-1]
        return [d for d in self._diameters if 2 * d <= leg.clear < d + widest]

    def areas(self) -> dict[Key, BudgetRow]:
        """Return one row a leg: 25 x sum d^2 against 16 x the clear width squared."""
        rows: dict[Key, BudgetRow] = {
            n: BudgetRow(leg.label, at_most=16 * leg.clear**2, fact=("opening", leg.label))
            for n, leg in self._narrow.items()
        }
        return self._with_fixed(rows, self.to_area)

    def pairs(self) -> dict[Key, BudgetRow]:
        """Return the rows that keep any two wires from being wider than a leg's clear width together."""
        rows: dict[Key, BudgetRow] = {}
        for number, leg in self._narrow.items():
            fact = ("opening", leg.label)
            rows[number, 0] = BudgetRow(leg.label, at_most=1, fact=fact)
            for slim in self._slim(leg):
                rows[number, slim] = BudgetRow(leg.label, at_most=self._many, fact=fact)
        return self._with_fixed(rows, self.to_pairs)

    def _with_fixed(self, rows: dict[Key, BudgetRow], adds: _Adds) -> dict[Key, BudgetRow]:
        sums: dict[Key, int] = {}
        for legs, diameter, count in self._fixed:
            for key, amount in adds(legs, diameter):
                sums[key] = sums.get(key, 0) + count * amount
        return {key: replace(row, fixed=sums.get(key, 0)) for key, row in rows.items()}

    def to_area(self, legs: Iterable[int], diameter: int) -> Iterator[Addend]:
        """Return what a wire adds to the areas of the legs that it passes."""
        return ((number, 25 * diameter**2) for number in legs if number in self._narrow)

    def to_pairs(self, legs: Iterable[int], diameter: int) -> Iterator[Addend]:
        """At most one wire is wider than half a leg; and none lies beside one too wide for it."""
        for leg in (self._narrow[number] for number in legs if number in self._narrow):
            if 2 * diameter > leg.clear:
                yield (leg.number, 0), 1
            for slim in self._slim(leg):
                if diameter > leg.clear - slim:
                    yield (leg.number, slim), self._many
                elif slim <= diameter:
                    yield (leg.number, slim), 1

    def budget(self, rows: dict[Key, BudgetRow], adds: _Adds, sentence: Callable[[BudgetRow, int], str]) -> Budget:
        """Return the budget of these rows, to which every circuit's wire adds."""
        return Budget(
            rows,
            sentence,
            output=lambda wired: adds(wired.new_legs, wired.drawn.diameter),
            input=lambda wired: adds(wired.new_run.legs, self._switch_wire),
            switch=lambda wired: adds(wired.new_run.legs, self._switch_wire),
            multiplexer=lambda wired: (
                (key, WIRES_TO_UNIT * amount) for key, amount in adds(wired.new_run.legs, self._switch_wire)
            ),
            back=lambda way: adds(way.new_run.legs, self._switch_wire),
        )


def _budgets(site: Site) -> list[Budget]:
    looms = _Looms(site)
    return [
        replace(looms.budget(looms.areas(), looms.to_area, _too_full), summed=_too_full_with),
        replace(looms.budget(looms.pairs(), looms.to_pairs, _too_wide), summed=_too_wide_with),
    ]


def _too_full(row: BudgetRow, found: int) -> str:
    needs, leaves = (Micrometres(round(total**0.5 / 4)) for total in (found, row.at_most))
    return f"{row.subject}: the wires need {millimetres(needs)}, the opening leaves {millimetres(leaves)}"


def _too_wide(row: BudgetRow, found: int) -> str:
    return f"{row.subject}: two wires side by side are wider than the opening leaves"


def _too_full_with(laid: Laid, row: BudgetRow) -> str:
    """Say the same with the wires in it."""
    leg = _leg(laid.site.job, row)
    wires = list(wires_in(laid, leg.number))
    across = millimetres(loom_diameter(diameter for wire in wires for diameter in [wire.diameter] * wire.count))
    told = listed([wire.said for wire in sorted(wires, key=lambda wire: -wire.diameter)])
    return f"in {leg.label} the loom of {told} is {across} thick, the opening leaves {_leaves(leg)}"


def _too_wide_with(laid: Laid, row: BudgetRow) -> str:
    """Say the same with the two thickest wires."""
    leg = _leg(laid.site.job, row)
    wires = sorted(wires_in(laid, leg.number), key=lambda wire: -wire.diameter)
    pair = [replace(wire, count=1) for wire in wires for _ in range(wire.count)][:2]
    across = millimetres(Micrometres(sum(wire.diameter for wire in pair)))
    told = listed([wire.said for wire in pair])
    return f"in {leg.label} {told} are {across} wide side by side, the opening leaves {_leaves(leg)}"


def _leg(job: Job, row: BudgetRow) -> _Narrow:
    return next(leg for leg in _narrow_legs(job) if leg.label == row.subject)


def _leaves(leg: _Narrow) -> str:
    return millimetres(Micrometres(leg.clear))


def _margins(laid: Laid) -> Iterator[LimitMargin]:
    """Return each loom with its sleeve against its opening, by what is larger: all its wires, or the two thickest.

    The loom is rounded up to a whole micrometre, which changes nothing about whether it passes.
    """
    for number, leg in enumerate(laid.site.job.network.legs):
        inside = laid.diameters_in(number)
        if leg.opening is not None and inside:
            yield _margin(leg, leg.opening, sleeve_of(laid.site.job, leg), inside)


def _margin(leg: Leg, opening: Micrometres, sleeve: Micrometres, wires: list[Micrometres]) -> LimitMargin:
    bare = loom_diameter(wires)
    across, two = Micrometres(bare + sleeve), sum(sorted(wires)[-2:])
    which = "the two thickest wires side by side are" if bare == two and len(wires) > 1 else "the loom is"
    left = Micrometres(opening - across)
    sentence = (
        f"{leg.label}: {which} {tenths(across)} with the sleeve, the opening {millimetres(opening)}, "
        f"{tenths_left(left)}"
    )
    return LimitMargin(RULE.slug, leg.label, across, opening, left, Fraction(across, opening), sentence)


def _facts(job: Job) -> Iterator[Fact]:
    for leg in _narrow_legs(job):
        own = job.network.legs[leg.number]
        opening = millimetres(own.opening or Micrometres(0))
        sentence = f"the opening of {leg.label} is {opening}, {_leaves(leg)} without the sleeve"
        if own.opens_to is not None:
            sentence += f", and may be opened up to {millimetres(own.opens_to)}"
        at = At("bike", ("frame", "legs", leg.number, "opening"))
        yield Fact(("opening", leg.label), "opening", leg.label, sentence, at)


RULE = Rule(
    slug="opening",
    protects="wires from being forced or chafed through a bore that is too small",
    about="fire",
    source="proved packings of equal circles; 1.25 common practice, no source",
    right="wires led another way, fewer wires (shared outputs, a multiplexer), a place on the other side, or the "
    "opening opened up where it may be: 'opens' and 'opens_to'",
    budgets=_budgets,
    of_whole_bike=True,
    margins=_margins,
    of_looms=True,
    facts=_facts,
    posts=OfPosts(needs="how long the legs are and what passes their openings", wants=("sizes", "inputs")),
)

"""Margins of openings: each loom against what it must pass."""

from collections.abc import Iterator
from fractions import Fraction

from solver.explaining.near.margins import Margin, tenths, tenths_left
from solver.job.laid import Laid
from solver.rules.opening import RULE, loom_diameter, sleeve_of
from solver.rules.shapes import Rule
from solver.words.bike import Leg
from solver.words.figures import millimetres
from solver.words.quantities import Micrometres


def openings(laid: Laid, rule: Rule = RULE) -> Iterator[Margin]:
    """Return each loom with its sleeve against its opening, by what is larger: all its wires, or the two thickest.

    The loom is rounded up to a whole micrometre, which changes nothing about whether it passes.
    """
    wires = tuple(laid.wires())
    for number, leg in enumerate(laid.site.job.network.legs):
        inside = [diameter for legs, diameter in wires if number in legs]
        if leg.opening is not None and inside:
            yield _opening(rule, leg, leg.opening, sleeve_of(laid.site.job, leg), inside)


def _opening(rule: Rule, leg: Leg, opening: Micrometres, sleeve: Micrometres, wires: list[Micrometres]) -> Margin:
    bare = loom_diameter(wires)
    across, two = Micrometres(bare + sleeve), sum(sorted(wires)[-2:])
    which = "the two thickest wires side by side are" if bare == two and len(wires) > 1 else "the loom is"
    left = Micrometres(opening - across)
    sentence = (
        f"{leg.label}: {which} {tenths(across)} with the sleeve, the opening {millimetres(opening)}, "
        f"{tenths_left(left)}"
    )
    return Margin(rule.slug, leg.label, across, opening, left, Fraction(across, opening), sentence)

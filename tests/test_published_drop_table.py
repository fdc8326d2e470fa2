"""Sizes by current and length: a published table for 12 V and 3 % loss, cell by cell.

Source: engineeringtoolbox.com, page d_730 (amps and wire gauge), 12 V, 3 % voltage drop, American gauges by total
length of wire (out and back, in feet) and current. It follows from CM = K x I x L / E with K = 10.75 ohm circular
mil per foot (from memory), which is ideal copper (IEC 60028) at 29.3 C, and gauges of ASTM B258 from 18 to 1/0, even
ones and 1.
"""

from fractions import Fraction

import pytest

from portloom.base.ampacity import thinnest
from portloom.base.copper import Conductor, resistance_at
from portloom.base.drop import AmpereMetres, MicroVolts, ampere_metres, wire_drop
from portloom.base.quantities import Micrometres, MicroOhms, MilliAmps, MilliCelsius
from portloom.base.sizes import gauge

FOOT_UM = 304_800
AMPERES = (5, 10, 15, 20, 25, 30, 40, 50, 60, 70)
TABLE = {
    15: (16, 12, 10, 10, 8, 8, 6, 6, 4, 4),
    20: (14, 12, 10, 8, 8, 6, 6, 4, 4, 4),
    25: (14, 10, 8, 8, 6, 6, 4, 4, 2, 2),
    30: (12, 10, 8, 6, 6, 4, 4, 2, 2, 2),
    40: (12, 8, 6, 6, 4, 4, 2, 2, 1, 0),
}
"""Gauge by length in feet; 1/0 is written 0."""
OTHERWISE = {(20, 70): 2, (40, 70): 1}
"""The two cells that the formula does not give, by length and current, and what it gives."""
GAUGES = (18, 16, 14, 12, 10, 8, 6, 4, 2, 1, 0)
IDEAL = 17.241
"""Resistance of copper at 20 C, ohm mm2/km (IEC 60028)."""
FINER = 1000
"""Resistances and limit alike are this many times too large, so that whole microohms are fine enough."""
THREE_PER_CENT = MicroVolts(Fraction(360_000 * FINER))
WARM = MilliCelsius(29_300)


def conductor(number: int) -> Conductor:
    """Return a gauge of ideal copper."""
    resistance = MicroOhms(round(FINER * 1000 * IDEAL / float(gauge(number).square_mm)))
    return Conductor(gauge(number), resistance, Micrometres(1), MilliAmps(10**6))


REELS = {number: conductor(number) for number in GAUGES}


def over(feet: int, amperes: int) -> AmpereMetres:
    """Return the moment of a current over a length at 29.3 C."""
    return ampere_metres(MilliAmps(amperes * 1000), Micrometres(feet * FOOT_UM), WARM)


def chosen(feet: int, amperes: int) -> Conductor | None:
    """Return the thinnest that loses 0.36 V at most."""
    return thinnest(tuple(REELS.values()), MilliAmps(amperes * 1000), over(feet, amperes), THREE_PER_CENT)


def test_k_is_copper_at_29_3_c() -> None:
    """K = 10.75 ohm circular mil per foot is 17.241 ohm mm2/km at 29.3 C; a circular mil is 0.0005067 mm2."""
    per_foot = IDEAL / 1000 * 0.3048 / 0.00050671
    assert per_foot * float(resistance_at(WARM)) == pytest.approx(10.75, abs=0.005)


@pytest.mark.parametrize("feet", TABLE)
@pytest.mark.parametrize("amperes", AMPERES)
def test_a_cell_of_the_table(feet: int, amperes: int) -> None:
    """48 of the 50 cells are the thinnest gauge within 0.36 V; two are 2 and 1 by the formula, not 4 and 1/0."""
    printed = TABLE[feet][AMPERES.index(amperes)]
    assert chosen(feet, amperes) == REELS[OTHERWISE.get((feet, amperes), printed)]


def test_the_two_other_cells_differ_as_stated() -> None:
    """4 AWG over 20 ft at 70 A loses 0.361 V, just above the limit; 1 AWG over 40 ft at 70 A loses 0.3597 V, below."""
    assert (TABLE[20][-1], TABLE[40][-1]) == (4, 0)
    for number, mils, feet in ((4, 41_740, 20), (1, 83_690, 40)):
        lost = float(wire_drop(REELS[number], over(feet, 70))) / 1e6 / FINER
        assert lost == pytest.approx(10.75 * 70 * feet / mils, abs=0.0002)
    assert wire_drop(REELS[4], over(20, 70)) > THREE_PER_CENT
    assert wire_drop(REELS[1], over(40, 70)) <= THREE_PER_CENT
    assert sum(len(row) for row in TABLE.values()) - len(OTHERWISE) == 48

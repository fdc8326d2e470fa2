"""The wire catalogue against published tables of copper: gauges, greatest resistances, temperature, mass.

Sources: ASTM B258 (American gauges); IEC 60028 (copper of 100 % conductivity: 17.241 ohm mm2/km at 20 C);
IEC 60228 class 5, plain and tinned; NBS Handbook 100 (density); FAA AC 43.13-1B par. 11-66 and Table 11-9.
"""

from itertools import pairwise
from math import pi

import pytest

from portloom.base.copper import CATALOGUE, DEFAULT_REELS, Conductor, catalogue, copper_mass, resistance_at
from portloom.base.drop import conductor_temperature
from portloom.base.quantities import Micrometres, MilliAmps, MilliCelsius
from portloom.base.sizes import gauge, parse_size
from portloom.job.network import Network
from portloom.job.routed import paths
from unasked import bike_from_text

IDEAL = 17.241
"""Resistance of copper at 20 C, ohm mm2/km (IEC 60028)."""
GAUGES = [
    # AWG, diameter in mm, area in mm2, circular mils, ideal resistance in ohm/km at 20 C (ASTM B258)
    (10, 2.5882, 5.2612, 10383, 3.277),
    (11, 2.3048, 4.1723, 8234, 4.132),
    (12, 2.0525, 3.3088, 6530, 5.211),
    (13, 1.8278, 2.6240, 5178, 6.571),
    (14, 1.6277, 2.0809, 4107, 8.285),
    (15, 1.4495, 1.6502, 3257, 10.448),
    (16, 1.2908, 1.3087, 2583, 13.174),
    (17, 1.1495, 1.0378, 2048, 16.612),
    (18, 1.0237, 0.8230, 1624, 20.948),
    (19, 0.9116, 0.6527, 1288, 26.415),
    (20, 0.8118, 0.5176, 1022, 33.308),
    (21, 0.7229, 0.4105, 810, 42.001),
    (22, 0.6438, 0.3255, 642, 52.962),
    (23, 0.5733, 0.2582, 510, 66.784),
    (24, 0.5106, 0.2047, 404, 84.213),
]
PRINTED_AREAS = {10: 5.26, 12: 3.31, 14: 2.08, 16: 1.31, 18: 0.823, 20: 0.518, 22: 0.326, 24: 0.205}
"""AWG and mm2, to three digits. Source: ASTM B258."""
STRANDED = {20: 34.6, 18: 21.8, 16: 13.7, 14: 8.62, 12: 5.43, 10: 3.409}
"""AWG and ohm/km, stranded plain copper: from memory."""
CLASS_5 = {
    "0.5": (39.0, 40.1),
    "0.75": (26.0, 26.7),
    "1": (19.5, 20.0),
    "1.5": (13.3, 13.7),
    "2.5": (7.98, 8.21),
    "4": (4.95, 5.09),
    "6": (3.30, 3.39),
    "10": (1.91, 1.95),
    "16": (1.21, 1.24),
}
"""IEC 60228 class 5: mm2, greatest ohm/km at 20 C plain and tinned."""
FROM_MEMORY = {"0.35": 54.4, "2": 9.42, "3": 6.15}
"""ISO 6722-1, ohm/km plain, from memory."""
OUTSIDE = {
    "0.5": 1.7, "0.75": 1.9, "1": 2.1, "1.5": 2.4, "2": 2.8, "2.5": 3.0, "3": 3.4, "4": 3.7, "6": 4.3, "10": 6.0,
    "0.35": 1.4, "16": 7.2,
}  # fmt: skip
"""Greatest outer diameter in mm of thin-wall cable sold to ISO 6722 class B; 0.35 and 16 mm2 from memory."""
PLAIN, TINNED = catalogue(105, "plain"), catalogue(105, "tinned")


@pytest.mark.parametrize(("number", "diameter", "area", "mils", "ohms"), GAUGES)
def test_a_gauges_area_is_that_of_its_diameter(
    number: int, diameter: float, area: float, mils: int, ohms: float
) -> None:
    """ASTM B258: diameter, area, circular mils and ideal resistance of a gauge are those of the table."""
    square = float(gauge(number).square_mm)
    assert square == pytest.approx(area, abs=0.00015)  # the published 0.012668 is itself rounded
    assert square == pytest.approx(pi / 4 * diameter**2, abs=0.0003)
    assert (4 / pi * square) ** 0.5 == pytest.approx(diameter, abs=0.00015)
    assert 4 / pi * square / 0.0254**2 == pytest.approx(mils, abs=0.7)
    assert IDEAL / square == pytest.approx(ohms, rel=0.0004)


def test_a_gauge_is_thinner_by_the_39th_root_of_92() -> None:
    """ASTM B258: each step takes 92^(1/39) = 1.1229322 off the diameter; 36 AWG has 0.127 mm, 4/0 460 mils."""
    for number in range(10, 24):
        step = (gauge(number).area / gauge(number + 1).area) ** 0.5
        assert step == pytest.approx(1.1229322, rel=0.0003)
    assert float(gauge(36).square_mm) == pytest.approx(pi / 4 * 0.127**2, abs=0.00005)
    assert float(gauge(-3).square_mm) == pytest.approx(pi / 4 * (0.460 * 25.4) ** 2, rel=0.0001)


@pytest.mark.parametrize(("number", "area"), PRINTED_AREAS.items())
def test_areas_as_printed(number: int, area: float) -> None:
    """The areas of the even gauges to three digits (ASTM B258)."""
    assert float(f"{gauge(number).square_mm:.3g}") == area


@pytest.mark.parametrize("conductor", [*CATALOGUE, *TINNED.values()], ids=lambda c: f"{c.size.label} {c.resistance}")
def test_no_wire_is_better_than_copper(conductor: Conductor) -> None:
    """Every greatest resistance listed is above that of ideal copper, and less than a fifth above (IEC 60028)."""
    ideal = IDEAL * 1000 / float(conductor.size.square_mm)
    assert ideal < conductor.resistance < 1.2 * ideal


@pytest.mark.parametrize(("area", "plain", "tinned"), [(area, *row) for area, row in CLASS_5.items()])
def test_resistances_of_class_5(area: str, plain: float, tinned: float) -> None:
    """IEC 60228 class 5: the greatest resistances, plain and tinned, are the published columns."""
    size = parse_size(f"{area} mm2")
    assert PLAIN[size].resistance == round(plain * 1000)
    assert TINNED[size].resistance == round(tinned * 1000)


def test_resistances_of_the_other_sizes() -> None:
    """Stranded gauges, from memory, as are 0.35, 2 and 3 mm2 (ISO 6722-1); 8 and 6 AWG of FAA Table 11-9."""
    for number, ohms in STRANDED.items():
        assert PLAIN[gauge(number)].resistance == round(ohms * 1000)
    for area, ohms in FROM_MEMORY.items():
        assert PLAIN[parse_size(f"{area} mm2")].resistance == round(ohms * 1000)
    for number, per_1000_feet in {8: 0.70, 6: 0.44}.items():  # tin-plated, ohm/1000 ft
        assert PLAIN[gauge(number)].resistance == round(per_1000_feet / 304.8 * 1e6)
        assert TINNED[gauge(number)] == PLAIN[gauge(number)]


def test_tinned_copper_is_worse_by_at_most_three_per_cent() -> None:
    """Where IEC 60228 has no tinned value 3 % is added, the most that its own columns differ, to the per cent."""
    assert max(round(100 * (tinned / plain - 1)) for plain, tinned in CLASS_5.values()) == 3
    for number, ohms in STRANDED.items():
        assert 1030 * ohms <= TINNED[gauge(number)].resistance < 1030 * ohms + 1


def test_outer_diameters() -> None:
    """Thin-wall cable's column by metric size; a gauge has that of the next larger metric size; thicker is wider."""
    for area, across in OUTSIDE.items():
        assert PLAIN[parse_size(f"{area} mm2")].diameter == round(across * 1000)
    for conductor in CATALOGUE:
        if conductor.size.label.endswith("AWG"):
            larger = min((a for a in OUTSIDE if float(a) >= float(conductor.size.square_mm)), key=float)
            assert conductor.diameter == round(OUTSIDE[larger] * 1000)
    assert all(thin.diameter <= thick.diameter for thin, thick in pairwise(CATALOGUE))


def test_the_catalogue_runs_from_thin_to_thick() -> None:
    """A thicker size never has more resistance nor less ampacity; the usual reels are all in the catalogue."""
    assert all(one.size < other.size for one, other in pairwise(CATALOGUE))
    for table in (PLAIN, TINNED):
        assert all(thin.resistance > thick.resistance for thin, thick in pairwise(table.values()))
        assert all(thin.ampacity <= thick.ampacity for thin, thick in pairwise(table.values()))
    assert set(DEFAULT_REELS) <= set(PLAIN)


@pytest.mark.parametrize(("celsius", "kt"), [(40, 0.926), (60, 0.862), (80, 0.806), (85, 0.794), (100, 0.758)])
def test_resistance_at_temperature_against_iec_60228(celsius: int, kt: float) -> None:
    """IEC 60228 divides by Kt = 250 / (230 + T), which is apart from the FAA's 254.5 / (234.5 + T) by its constant."""
    ours = 1 / float(resistance_at(MilliCelsius(celsius * 1000)))
    other_constant = abs(254.5 / (234.5 + celsius) - 250 / (230 + celsius))
    printed_digit = 0.0005
    assert ours == pytest.approx(kt, abs=other_constant + printed_digit)
    assert other_constant < 0.0035


def test_temperature_coefficient() -> None:
    """Copper at 20 C gains 0.393 % a kelvin (IEC 60028, from memory); at 20 C itself the table stands."""
    assert resistance_at(MilliCelsius(20_000)) == 1
    assert float(resistance_at(MilliCelsius(21_000)) - 1) == pytest.approx(0.00393, abs=0.000005)


LEGS = """
bike: three legs
supply: {running: 14 V, battery: {capacity: 10 Ah, at: a}}
frame:
  legs:
    - {between: [a, cool], length: 796.6 mm}
    - {between: [a, warm], length: 796.6 mm, ambient: 85 C}
    - {between: [a, hot], length: 760.8 mm, ambient: 100 C}
  earth: [a]
places: [{name: here, front: a}]
loads: [{name: lamp, at: cool, current: 1 A}]
"""


def test_a_hot_legs_run_loses_as_much_as_a_longer_cool_one() -> None:
    """FAA par. 11-66: 0.7966 L at 85 C and 0.7608 L at 100 C lose what L loses at 20 C; 0.8642 L does at 60 C."""
    network = Network(bike_from_text(LEGS, "bike").frame.legs)
    cold = 1_000_000 * 254_500  # 1 mA over 1 m at 20 C
    for number, point in enumerate(("cool", "warm", "hot")):
        run = network.wire("a", point)
        assert run is not None
        assert run.legs == (number,)
        found = paths(network, run, "a", {point: MilliAmps(1)}, ())[point].moment
        assert found / cold == pytest.approx(1, abs=0.0001)
    assert 1 / float(resistance_at(MilliCelsius(60_000))) == pytest.approx(0.8642, abs=0.00005)


@pytest.mark.parametrize(("ambient", "works_at"), [(None, 85), (-20, 85), (60, 85), (85, 85), (86, 86), (104, 104)])
def test_a_conductor_works_at_85_c_or_in_more_heat(ambient: int | None, works_at: int) -> None:
    """A conductor is taken at 85 C, in a hotter leg at its ambient: common practice, no source."""
    leg = None if ambient is None else MilliCelsius(ambient * 1000)
    assert conductor_temperature(leg) == works_at * 1000


def test_mass_of_copper() -> None:
    """NBS Handbook 100: 8.89 g/cm3, so 1 m of 1 mm2 is 8.89 g; 1000 ft of 10 AWG are 31.43 lb (from memory)."""
    metre, thousand_feet = Micrometres(1_000_000), Micrometres(304_800_000)
    assert float(copper_mass(parse_size("1 mm2"), metre)) == pytest.approx(8.89)
    assert float(copper_mass(parse_size("2.5 mm2"), metre)) == pytest.approx(22.225)
    assert float(copper_mass(gauge(10), thousand_feet)) / 453.59237 == pytest.approx(31.43, abs=0.01)

"""Colours of insulation: CIEDE2000 by its published pairs, the letter codes, and what looks alike."""

from itertools import combinations
from typing import get_args

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from portloom.base.bike import Colour, ColourCode
from portloom.base.wire_colours import ALIKE_BELOW, PROTECTIVE, REFERENCE, SOLD, Lab, alike, colour_difference, look

PUBLISHED = """
50 2.6772 -79.7751   50 0 -82.7485   2.0425
50 3.1571 -77.2803   50 0 -82.7485   2.8615
50 2.8361 -74.0200   50 0 -82.7485   3.4412
50 -1.3802 -84.2814  50 0 -82.7485   1.0000
50 -1.1848 -84.8006  50 0 -82.7485   1.0000
50 -0.9009 -85.5211  50 0 -82.7485   1.0000
50 0 0               50 -1 2         2.3669
50 -1 2              50 0 0          2.3669
50 2.4900 -0.0010    50 -2.4900 0.0009  7.1792
50 2.4900 -0.0010    50 -2.4900 0.0010  7.1792
50 2.4900 -0.0010    50 -2.4900 0.0011  7.2195
50 2.4900 -0.0010    50 -2.4900 0.0012  7.2195
50 -0.0010 2.4900    50 0.0009 -2.4900  4.8045
50 -0.0010 2.4900    50 0.0010 -2.4900  4.8045
50 -0.0010 2.4900    50 0.0011 -2.4900  4.7461
50 2.5 0             50 0 -2.5       4.3065
50 2.5 0             73 25 -18       27.1492
50 2.5 0             61 -5 29        22.8977
50 2.5 0             56 -27 -3       31.9030
50 2.5 0             58 24 15        19.4535
50 2.5 0             50 3.1736 0.5854   1.0000
50 2.5 0             50 3.2972 0        1.0000
50 2.5 0             50 1.8634 0.5757   1.0000
50 2.5 0             50 3.2592 0.3350   1.0000
60.2574 -34.0099 36.2677  60.4626 -34.1751 39.4387  1.2644
63.0109 -31.0961 -5.8663  62.8187 -29.7946 -4.0864  1.2630
61.2901 3.7196 -5.3901    61.4292 2.2480 -4.9620    1.8731
35.0831 -44.1164 3.7933   35.0232 -40.0716 1.5901   1.8645
22.7233 20.0904 -46.6940  23.0331 14.9730 -42.5619  2.0373
36.4612 47.8580 18.3852   36.2715 50.5065 21.2231   1.4146
90.8027 -2.0831 1.4410    91.1528 -1.6435 0.0447    1.4441
90.9257 -0.5406 -0.9208   88.6381 -0.8985 -0.7239   1.5381
6.7747 -0.2908 -2.4247    5.8714 -0.0985 -2.2286    0.6377
2.0776 0.0795 -1.1350     0.9033 -0.0636 -0.5514    0.9082
"""
"""L*a*b* of two colours, and their difference.

Source: Sharma, Wu and Dalal (2005), Table I, doi:10.1002/col.20070; from memory, and compared with the copy in the
tests of the npm package delta-e 0.0.8.
"""
PAIRS = [tuple(map(float, line.split())) for line in PUBLISHED.split("\n") if line]

RENOTATION: dict[ColourCode, tuple[tuple[float, float, float], ...]] = {
    "RD": ((0.5369, 0.2810, 12.00),),  # 2.5R 4/14
    "OG": ((0.5488, 0.3947, 30.03),),  # 2.5YR 6/14
    "GN": ((0.2385, 0.5071, 19.77),),  # 2.5G 5/12
    "BU": ((0.1805, 0.1888, 12.00),),  # 2.5PB 4/10
    "VT": ((0.2619, 0.1903, 12.00),),  # 2.5P 4/10
    "BN": ((0.4954, 0.3692, 6.55), (0.4612, 0.3674, 12.00)),  # 2.5YR 3/6 and 4/6, for 3.5/6
    "YE": ((0.4562, 0.4788, 59.10), (0.4455, 0.4719, 78.66)),  # 5Y 8/12 and 9/12, for 8.5/12
    "BK": ((0.31006, 0.31616, 3.126),),  # N 2/
    "GY": ((0.31006, 0.31616, 19.77),),  # N 5/
    "WH": ((0.31006, 0.31616, 78.66),),  # N 9/
}
"""Chromaticities x, y and luminous reflectance Y of the colours of EIA-359-A, or of those next to one on either side.

Source: the Munsell renotation data (Newhall, Nickerson and Judd 1943), as in the package colour-science 0.4.7; which
notation each colour has is from memory.
"""


def test_all_published_pairs() -> None:
    """There are 34 pairs, and each is met to the four places that are printed, either way round."""
    assert len(PAIRS) == 34
    for *both, published in PAIRS:
        one, other = Lab(*both[:3]), Lab(*both[3:])
        assert colour_difference(one, other) == pytest.approx(published, abs=5.1e-5)
        assert colour_difference(other, one) == pytest.approx(published, abs=5.1e-5)


LABS = st.builds(Lab, st.floats(0, 100), st.floats(-100, 100), st.floats(-100, 100))


@given(one=LABS, other=LABS)
@settings(max_examples=300, deadline=None, derandomize=True, database=None)
def test_a_difference_is_no_way_round(one: Lab, other: Lab) -> None:
    """A colour does not differ from itself, and two differ as much either way round."""
    assert colour_difference(one, one) == 0
    assert colour_difference(one, other) >= 0
    assert colour_difference(one, other) == pytest.approx(colour_difference(other, one), abs=1e-6)


def lab_of(x: float, y: float, luminous: float) -> Lab:
    """Return L*a*b* under illuminant C. Source: CIE 15; Y of the renotation is 0.975 of that (ASTM D1535)."""
    here = (x / y * luminous * 0.00975, luminous * 0.00975, (1 - x - y) / y * luminous * 0.00975)
    white = (0.31006 / 0.31616, 1.0, (1 - 0.31006 - 0.31616) / 0.31616)
    f = [
        (v / w) ** (1 / 3) if v / w > 216 / 24389 else (v / w * 24389 / 27 + 16) / 116
        for v, w in zip(here, white, strict=True)
    ]
    return Lab(116 * f[1] - 16, 500 * (f[0] - f[1]), 200 * (f[1] - f[2]))


@pytest.mark.parametrize("code", RENOTATION)
def test_reference_colours_are_those_of_the_renotation(code: ColourCode) -> None:
    """Each reference lies within a just visible difference of the published colour, or midway between two."""
    labs = [lab_of(*row) for row in RENOTATION[code]]
    middle = Lab(*(sum(values) / len(labs) for values in zip(*labs, strict=True)))
    assert colour_difference(REFERENCE[code], middle) < (0.3 if len(labs) == 1 else 1.0)


def test_letter_codes() -> None:
    """Source: IEC 60757, its fourteen colours and green-and-yellow, in its order."""
    codes = ["BK", "BN", "RD", "OG", "YE", "GN", "BU", "VT", "GY", "WH", "PK", "GD", "TQ", "SR", "GNYE"]
    assert list(get_args(ColourCode)) == codes
    assert [*REFERENCE, PROTECTIVE] == codes
    assert list(SOLD) == codes[: codes.index("GD")]


def test_what_is_taken_for_one_another() -> None:
    """Silver passes for grey or white, and gold for yellow; grey and white are told apart, as all others are."""
    near = {(a, b) for a, b in combinations(REFERENCE, 2) if alike(Colour(base=a), Colour(base=b))}
    assert near == {("YE", "GD"), ("GY", "SR"), ("WH", "SR")}


def test_no_pair_is_close_to_the_limit() -> None:
    """A reference that is off by a just visible difference changes nothing that is taken for another."""
    differences = [colour_difference(REFERENCE[a], REFERENCE[b]) for a, b in combinations(REFERENCE, 2)]
    assert min(abs(difference - ALIKE_BELOW) for difference in differences) > 1


def coloured(text: str) -> Colour:
    """Read 'BU/WH' or 'BU'."""
    return Colour.model_validate(dict(zip(("base", "stripe"), text.split("/"), strict=False)))


@pytest.mark.parametrize(
    ("one", "other", "same"),
    [
        ("BU/WH", "BU/WH", True),
        ("BU/WH", "BU/RD", False),
        ("BU/WH", "BU", False),
        ("BU/WH", "WH/BU", False),
        ("BU/BU", "BU", True),
        ("YE/GD", "YE", True),
        ("YE/BK", "GD/BK", True),
        ("GNYE", "GN/YE", True),
        ("GNYE", "YE/GN", True),
        ("GNYE", "GN", False),
    ],
)
def test_stripes(one: str, other: str, same: bool) -> None:  # noqa: FBT001
    """Base and stripe must both look alike; a stripe in the colour of its base is none; green-yellow goes both ways."""
    assert alike(coloured(one), coloured(other)) is same
    assert alike(coloured(other), coloured(one)) is same
    assert alike(coloured(one), coloured(one))


def test_a_base_and_its_stripe_stay_apart() -> None:
    """Source: IEC 60757 has an order for two letter codes and none for base and stripe, so these are two fields."""
    assert look(coloured("RD/BU")) == ("RD", "BU")
    assert look(coloured("BU/RD")) == ("BU", "RD")

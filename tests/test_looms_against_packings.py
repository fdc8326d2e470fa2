"""A loom's diameter against the proved packings of equal circles in a circle.

Sources, radius of the outer circle by radius of the inner ones: R. L. Graham 1968 (5 to 7), U. Pirl 1969 (8 to
10), H. Melissen 1994 (11), F. Fodor 2000, 2003 and 1999 (12, 13 and 19), Ekanayake and LaFountain 2024 (14);
best known, not proved: M. Goldberg 1971 (16, 20), G. E. Reis 1975 (17), E. Friedman's list (15, 18).
"""

from math import pi, sin, sqrt

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from portloom.base.quantities import Micrometres
from portloom.rules.loom import loom_diameter

PROVED = {
    1: 1.0,
    2: 2.0,
    3: 1 + 2 / sqrt(3),
    4: 1 + sqrt(2),
    5: 1 + sqrt(2 * (1 + 1 / sqrt(5))),
    6: 3.0,
    7: 3.0,
    8: 1 + 1 / sin(pi / 7),
    9: 1 + sqrt(2 * (2 + sqrt(2))),
    10: 3.814,  # 3.813..., the last digit rounded up
    11: 1 + 1 / sin(pi / 9),
    12: 4.030,  # 4.029...
    13: 2 + sqrt(5),
    14: 4.329,  # 4.328...
    19: 1 + sqrt(2) + sqrt(6),
}
BEST_KNOWN = {
    15: 1 + sqrt(6 + 2 / sqrt(5) + 4 * sqrt(1 + 2 / sqrt(5))),
    16: 4.616,
    17: 4.793,
    18: 1 + sqrt(2) + sqrt(6),
    20: 5.123,
}
PRINTED = {3: 2.154701, 4: 2.414214, 5: 2.701302, 8: 3.304765, 9: 3.613126, 11: 3.923804, 13: 4.236068, 19: 4.863703}
"""The same as the list prints them."""
DIAMETERS = st.integers(1000, 14_000)


def loom(*diameters: int) -> Micrometres:
    """Return the diameter of a loom of wires (um)."""
    return loom_diameter(Micrometres(d) for d in diameters)


def test_the_closed_forms_are_the_printed_ratios() -> None:
    """The closed forms used here give the digits that the list prints."""
    assert {count: round(PROVED[count], 6) for count in PRINTED} == PRINTED


@pytest.mark.parametrize("across", [1400, 1700, 2111, 7200])
@pytest.mark.parametrize(("count", "ratio"), (PROVED | BEST_KNOWN).items())
def test_wires_of_one_size_have_room(count: int, ratio: float, across: int) -> None:
    """The loom is never narrower than the packing, and for three or more at most 13 % wider."""
    found = loom(*[across] * count)
    assert found >= ratio * across
    if count >= 3:
        assert found <= 1.13 * ratio * across + 1  # rounded up to a micrometre


def test_two_unlike_wires_lie_side_by_side() -> None:
    """Geometry: two circles need the sum of their diameters, 1.25 x sqrt(5^2 + 4^2) = 8.004 mm would be too little."""
    assert loom(5000, 4000) == 9000
    assert loom(4000, 5000) == 9000
    assert loom(5000, 4000, 1000) == 9000


@given(wires=st.lists(DIAMETERS, min_size=1, max_size=30), another=DIAMETERS)
@settings(max_examples=300, deadline=None, derandomize=True, database=None)
def test_another_wire_never_makes_a_loom_thinner(wires: list[int], another: int) -> None:
    """Adding a wire never shrinks a loom, nor does a thicker wire in place of one; the order does not matter."""
    before = loom(*wires)
    assert loom(*wires, another) >= before
    assert loom(*wires[:-1], wires[-1] + another) >= before
    assert loom(*reversed(wires)) == before


@given(wires=st.lists(DIAMETERS, min_size=1, max_size=30))
@settings(max_examples=300, deadline=None, derandomize=True, database=None)
def test_a_loom_holds_at_least_the_area_of_its_wires(wires: list[int]) -> None:
    """Geometry: a circle is no smaller in area than what lies in it, nor narrower than any two in it."""
    found = loom(*wires)
    assert found**2 >= sum(d * d for d in wires)
    assert all(found >= one + other for i, one in enumerate(wires) for other in wires[:i])


@given(wires=st.lists(DIAMETERS, min_size=1, max_size=30))
@settings(max_examples=300, deadline=None, derandomize=True, database=None)
def test_a_loom_is_rounded_up_by_less_than_a_micrometre(wires: list[int]) -> None:
    """It is the smallest whole number D with 16 D^2 >= 25 x sum of d^2 that is no less than the two thickest."""
    found, squares = loom(*wires), 25 * sum(d * d for d in wires)
    two = sum(sorted(wires)[-2:])
    assert 16 * found**2 >= squares
    assert found == two or 16 * (found - 1) ** 2 < squares

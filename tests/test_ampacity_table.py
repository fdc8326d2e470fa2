"""Ampacity: 33 CFR 183.425 Table 5 with its notes, and what is never accepted above it.

Sources: 33 CFR 183.425 Table 5 (amperes at 30 C), Note 1 (engine spaces, 50 C) and Note 2 (bundles) as a US Coast
Guard compliance guideline reprints them; 33 CFR 183.455 (a fuse is at most 150 % of the table's value).
"""

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from outcomes import EXAMPLES, PROFILES, planned
from portloom.base.ampacity import bundling_factor, carries_in_leg, derated, most_loaded
from portloom.base.copper import INSULATIONS, TABLE_5, catalogue
from portloom.base.quantities import MilliAmps, MilliCelsius
from portloom.base.sizes import WireSize, gauge, parse_size
from portloom.documents.document import Plan

COLUMNS = (60, 75, 80, 90, 105, 125, 200)
PUBLISHED = {
    18: (10, 10, 15, 20, 20, 25, 25),
    16: (15, 15, 20, 25, 25, 30, 35),
    14: (20, 20, 25, 30, 35, 40, 45),
    12: (25, 25, 35, 40, 45, 50, 55),
    10: (40, 40, 50, 55, 60, 70, 70),
    8: (55, 65, 70, 70, 80, 90, 100),
    6: (80, 95, 100, 100, 120, 125, 135),
}
"""Table 5: amperes by gauge, a column for each temperature of the insulation."""
AREAS = {18: 0.823, 16: 1.309, 14: 2.081, 12: 3.309, 10: 5.261, 8: 8.366, 6: 13.302}
"""Square millimetres by gauge (ASTM B258)."""
THINNER = {"0.75 mm2": 14, "0.5 mm2": 11, "20 AWG": 11, "0.35 mm2": 7}
"""Amperes at 105 C of sizes below the table, from memory (common practice, no source)."""
ENGINE_SPACE = {18: 17, 16: 21, 14: 30, 12: 38, 10: 51}
"""Amperes by gauge at 105 C in an engine space, as published with the table."""
FACTOR_AT_50_C = {60: 0.58, 75: 0.75, 80: 0.78, 90: 0.82, 125: 0.89}
"""Note 1 in the other columns, from memory. 200 C has 1.00 there; here it is below, on the safe side."""
HOT, SPACE = MilliCelsius(105_000), MilliCelsius(50_000)


def amperes(current: float) -> MilliAmps:
    """Return a current in milliamperes."""
    return MilliAmps(round(current * 1000))


@pytest.mark.parametrize("number", PUBLISHED)
def test_a_row_of_table_5(number: int) -> None:
    """Every column of the row, in the table and in the catalogue for that insulation."""
    assert INSULATIONS == COLUMNS
    assert TABLE_5[number] == PUBLISHED[number]
    for column, value in zip(COLUMNS, PUBLISHED[number], strict=True):
        assert catalogue(column, "plain")[gauge(number)].ampacity == value * 1000


def test_the_table_is_of_30_c() -> None:
    """At 57 C insulation of 105 C leaves sqrt(48 / 75) = 0.8 of what the table has, to a millionth; at 30 C all."""
    kiloampere, at_57 = MilliAmps(1_000_000), MilliCelsius(57_000)
    assert carries_in_leg(kiloampere, HOT, at_57, 1, MilliAmps(800_000))
    assert not carries_in_leg(kiloampere, HOT, at_57, 1, MilliAmps(800_001))
    for ambient in (None, MilliCelsius(-10_000), MilliCelsius(30_000)):
        assert carries_in_leg(kiloampere, HOT, ambient, 1, kiloampere)
    assert not carries_in_leg(kiloampere, HOT, MilliCelsius(30_001), 1, kiloampere)


@pytest.mark.parametrize("column", COLUMNS)
def test_a_metric_size_carries_what_the_next_smaller_gauge_does(column: int) -> None:
    """Common practice: 1 mm2 as 18 AWG, 1.5 and 2 as 16, 2.5 and 3 as 14, 4 as 12, 6 as 10, 10 as 8, 16 as 6."""
    found = catalogue(column, "plain")
    for area in ("1", "1.5", "2", "2.5", "3", "4", "6", "10", "16"):
        smaller = min(number for number, square in AREAS.items() if square <= float(area))
        assert found[parse_size(f"{area} mm2")].ampacity == 1000 * PUBLISHED[smaller][COLUMNS.index(column)]


@pytest.mark.parametrize(("label", "value"), THINNER.items())
def test_sizes_below_the_table(label: str, value: int) -> None:
    """At 105 C from memory; in other columns in proportion to 18 AWG, rounded down to a milliampere."""
    size = parse_size(label)
    assert catalogue(105, "plain")[size].ampacity == value * 1000
    assert catalogue(60, "plain")[size].ampacity == value * 500
    assert catalogue(80, "plain")[size].ampacity == value * 750
    assert catalogue(200, "plain")[size].ampacity == value * 1250


def test_tinned_copper_carries_as_much() -> None:
    """Table 5 makes no difference between plain and tinned copper."""
    plain, tinned = (catalogue(105, "plain"), catalogue(105, "tinned"))
    assert [wire.ampacity for wire in plain.values()] == [wire.ampacity for wire in tinned.values()]


def test_engine_spaces_of_note_1() -> None:
    """0.85 at 50 C for 105 C insulation within 1 %; the published 17, 21, 30, 38 and 51 A within 2 %."""
    assert derated(amperes(1000), HOT, SPACE, 1) == pytest.approx(850_000, rel=0.01)
    for number, published in ENGINE_SPACE.items():
        assert derated(amperes(PUBLISHED[number][4]), HOT, SPACE, 1) == pytest.approx(1000 * published, rel=0.02)


@pytest.mark.parametrize(("column", "factor"), FACTOR_AT_50_C.items())
def test_note_1_in_the_other_columns(column: int, factor: float) -> None:
    """From memory: the factors of the other columns, within 1 %."""
    insulation = MilliCelsius(column * 1000)
    assert derated(amperes(1000), insulation, SPACE, 1) == pytest.approx(1_000_000 * factor, rel=0.01)


def test_silicone_in_an_engine_space() -> None:
    """From memory, Note 1 leaves 200 C its whole value at 50 C; here it keeps 94 %, which is on the safe side."""
    assert derated(amperes(1000), MilliCelsius(200_000), SPACE, 1) == pytest.approx(939_000, rel=0.01)


def test_cool_air_gives_nothing() -> None:
    """The table is for 30 C; a cooler leg carries no more."""
    for ambient in (None, MilliCelsius(-20_000), MilliCelsius(30_000)):
        assert derated(amperes(20), HOT, ambient, 1) == 20_000


@pytest.mark.parametrize(
    ("loaded", "share"),
    [(1, 100), (2, 100), (3, 70), (4, 60), (6, 60), (7, 50), (24, 50), (25, 40), (60, 40)],
)
def test_bundles_of_note_2(loaded: int, share: int) -> None:
    """Three wires keep 70 %, four to six 60 %, seven to 24 50 %, 25 and more 40 %."""
    assert bundling_factor(loaded) == share


@pytest.mark.parametrize(
    ("value", "ambient", "loaded", "published"),
    [
        (20, None, 1, 20.0),
        (20, None, 3, 14.0),
        (20, None, 5, 12.0),
        (20, None, 7, 10.0),
        (25, None, 3, 17.5),
        (25, None, 6, 15.0),
        (25, None, 24, 12.5),
        (20, SPACE, 1, 17.0),
        (20, SPACE, 5, 10.2),
        (35, None, 12, 17.5),
        (35, SPACE, 12, 14.9),
    ],
)
def test_derated_values_as_published(value: int, ambient: MilliCelsius | None, loaded: int, published: float) -> None:
    """18 AWG at 105 C: 20, 14, 12, 10 A; 16 AWG: 25, 17.5, 15, 12.5 A; both notes together within 1 %."""
    found = derated(amperes(value), HOT, ambient, loaded)
    assert found == pytest.approx(1000 * published, rel=0.01 if ambient else 0)


@pytest.mark.parametrize(
    ("ambient", "loaded", "limit"),
    [
        (30, 1, 20.0),
        (30, 3, 14.0),
        (30, 4, 12.0),
        (30, 7, 10.0),
        (30, 25, 8.0),
        (57, 1, 16.0),  # (105 - 57) / 75 = 0.64, whose root is 0.8
        (86.25, 1, 10.0),  # a quarter, whose root is a half
        (57, 5, 9.6),
        (86.25, 30, 4.0),
    ],
)
def test_a_limit_that_is_met_exactly_is_kept(ambient: float, loaded: int, limit: float) -> None:
    """18 AWG at 105 C carries its derated value to the milliampere, and not one more."""
    where = MilliCelsius(round(ambient * 1000))
    assert carries_in_leg(amperes(20), HOT, where, loaded, amperes(limit))
    assert not carries_in_leg(amperes(20), HOT, where, loaded, MilliAmps(amperes(limit) + 1))
    assert derated(amperes(20), HOT, where, loaded) == amperes(limit)


@given(
    ampacity=st.sampled_from([7, 11, 14, 20, 25, 35, 60, 120]),
    column=st.sampled_from(COLUMNS),
    ambient=st.none() | st.integers(-20, 59),
    tenths=st.integers(1, 1300),
)
@settings(max_examples=300, deadline=None, derandomize=True, database=None)
def test_how_many_wires_may_lie_there_by_trial(ampacity: int, column: int, ambient: int | None, tenths: int) -> None:
    """The most loaded wires beside which a current is carried are found by trying each number up to 60."""
    there = None if ambient is None else MilliCelsius(ambient * 1000)
    wire = (amperes(ampacity), MilliCelsius(column * 1000), there)
    most = most_loaded(*wire, amperes(tenths / 10))
    for loaded in range(1, 61):
        assert carries_in_leg(*wire, loaded, amperes(tenths / 10)) == (most is None or loaded <= most)


PLANS = [
    ("harbour-trail", "eleven-way"),
    ("bare-single", "six-way"),
    ("market-parallel", "fourteen-way"),
    ("dressed-tourer", "eleven-way"),
]


def protected(plan: Plan) -> list[tuple[WireSize, MilliAmps]]:
    """Return every wire with what protects it: trips, main fuse, fuses of fed loads."""
    outputs = [(line.size, line.trip) for line in plan.outputs]
    fed = [(line.size, line.fuse) for line in plan.fed if line.fuse is not None]
    return [*outputs, (plan.only.feed.size, plan.only.feed.main_fuse), *fed]


def of_the_table(size: WireSize) -> int:
    """Return what the table says of a size at 105 C, in milliamperes."""
    if size.label in THINNER:
        return 1000 * THINNER[size.label]
    return 1000 * PUBLISHED[min(n for n, square in AREAS.items() if square <= float(size.square_mm))][4]


@pytest.mark.parametrize(("bike", "unit"), PLANS)
def test_no_fuse_is_above_its_wire(bike: str, unit: str) -> None:
    """33 CFR 183.455 allows a fuse of 150 % of the table's value; no trip and no fuse is even above 100 %."""
    texts = (EXAMPLES / f"{bike}.yaml").read_text("utf-8"), (PROFILES / f"{unit}.yaml").read_text("utf-8")
    found = protected(planned(*texts))
    assert len(found) > 5
    for size, rating in found:
        assert rating <= of_the_table(size) < 1.5 * of_the_table(size)

"""Filament lamps draw their greatest watts at the test voltage of UN Regulation No. 37, and are not rescaled.

Sources of the rows that were seen: H1, a copy of its category sheet (cryer.org.uk, 'H1 lamp'); H4, DIN EN 60809;
H17, UN R37 supplement 39; PY21/5W, working document GRE/2012/34. The other rows are from memory, and the table says so.
"""

import pytest

from portloom.base.bike import Load
from portloom.base.current import steady_current
from portloom.base.lamps import LAMPS
from portloom.base.quantities import MilliVolts

SEEN = [
    # lamp, nominal W, greatest W, test V
    ("H1", 55, 68, 13.2),
    ("H4 main", 60, 75, 13.2),
    ("H4 dipped", 55, 68, 13.2),
    ("H17 main", 35, 37, 13.2),
    ("H17 dipped", 35, 37, 13.2),
    ("PY21/5W indicator", 21, 26.5, 13.5),
    ("PY21/5W position", 5, 6.6, 13.5),
]
FROM_MEMORY = [
    ("H3", 55, 68, 13.2),
    ("H7", 55, 58, 13.2),
    ("H8", 35, 43, 13.2),
    ("H9", 65, 73, 13.2),
    ("H11", 55, 62, 13.2),
    ("HB3", 60, 73, 13.2),
    ("HB4", 51, 62, 13.2),
    ("HS1 main", 35, 36.75, 13.2),
    ("HS1 dipped", 35, 36.75, 13.2),
    ("P21/5W brake", 21, 26.5, 13.5),
    ("P21/5W tail", 5, 6.6, 13.5),
    ("P21W", 21, 26.5, 13.5),
    ("PY21W", 21, 26.5, 13.5),
    ("H21W", 21, 26.5, 13.5),
    ("R10W", 10, 11, 13.5),
    ("RY10W", 10, 11, 13.5),
    ("R5W", 5, 5.5, 13.5),
    ("W5W", 5, 5.5, 13.5),
    ("WY5W", 5, 5.5, 13.5),
    ("C5W", 5, 5.5, 13.5),
    ("T4W", 4, 4.4, 13.5),
    ("W3W", 3, 3.45, 13.5),
    ("W16W", 16, 21.35, 13.5),
    ("H6W", 6, 7.35, 13.5),
]
PLANNING = [
    # greatest watts over test voltage, to a hundredth of an ampere
    ("H4 main", 5.68),
    ("H4 dipped", 5.15),
    ("H1", 5.15),
    ("H7", 4.39),
    ("P21W", 1.96),
    ("PY21/5W indicator", 1.96),
    ("W5W", 0.41),
    ("R5W", 0.41),
]


@pytest.mark.parametrize(("lamp", "nominal", "greatest", "test"), SEEN + FROM_MEMORY)
def test_a_lamps_row_is_that_of_its_sheet(lamp: str, nominal: float, greatest: float, test: float) -> None:
    """Nominal watts, greatest watts and test voltage are those of the category sheet."""
    row = LAMPS[lamp]
    assert (row.nominal, row.greatest, row.test) == (nominal * 1000, round(greatest * 1000), round(test * 1000))


def test_only_rows_that_were_seen_are_marked_so() -> None:
    """Rows from memory are marked, and no other row is there."""
    assert sorted(lamp for lamp, row in LAMPS.items() if row.seen) == sorted(row[0] for row in SEEN)
    assert sorted(lamp for lamp, row in LAMPS.items() if not row.seen) == sorted(row[0] for row in FROM_MEMORY)


@pytest.mark.parametrize(("lamp", "amperes"), PLANNING)
def test_planning_current(lamp: str, amperes: float) -> None:
    """The planning current is greatest watts over test voltage: 75 W at 13.2 V are 5.68 A."""
    assert round(LAMPS[lamp].current / 1000, 2) == amperes


@pytest.mark.parametrize(("lamp", "milliamperes"), [("H4 main", 5682), ("H4 dipped", 5152), ("W5W", 408)])
def test_planning_current_is_rounded_up_to_the_milliampere(lamp: str, milliamperes: int) -> None:
    """75 / 13.2 is 5.6818..., 68 / 13.2 is 5.1515..., 5.5 / 13.5 is 0.4074... A."""
    assert LAMPS[lamp].current == milliamperes


@pytest.mark.parametrize("running", [12_800, 14_000, 15_000])
def test_a_lamps_current_is_not_rescaled(running: int) -> None:
    """A lamp draws the same at every running voltage; a power is divided by it."""
    lamp = Load.model_validate({"name": "lamp", "at": "here", "lamp": "H4 dipped"})
    power = Load.model_validate({"name": "lamp", "at": "here", "power": "68 W", "kind": "filament"})
    assert steady_current(lamp, MilliVolts(running)) == 5152
    assert steady_current(power, MilliVolts(running)) == -(-68_000_000 // running)

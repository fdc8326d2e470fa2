"""Battery leads and earth straps, by hand: U = I x R with IEC 60228 class 5, plain, at 85 C (FAA AC 43.13-1B).

What each may lose while cranking is common practice, no source: 0.3 V to the starter, 0.1 V from engine to frame,
0.2 V from frame to battery. Heating for 10 s: IEC 60949, copper K 226 A s^0.5/mm2.
"""

from math import log, sqrt

import pytest

from laid_bikes import laid_example, laid_text
from portloom.base.leads import lead_size
from portloom.base.quantities import Micrometres, MilliAmps, MilliVolts
from portloom.documents.wiring.leads import lead_parts
from rule_bikes import LAMP, OUT, bike, unit

CLASS_5 = {"6 mm2": 3.30, "10 mm2": 1.91, "16 mm2": 1.21, "25 mm2": 0.780, "35 mm2": 0.554, "50 mm2": 0.386}
"""mohm/m at 20 C; from 25 mm2 on from memory."""
AT_85_C = (234.5 + 85) / 254.5


@pytest.mark.parametrize("amperes", [40, 90, 120, 200, 400])
@pytest.mark.parametrize("metres", [0.3, 0.8, 1.5])
@pytest.mark.parametrize("may_lose", [0.1, 0.3])
def test_a_lead_is_the_thinnest_that_loses_little_and_stays_cool(amperes: int, metres: float, may_lose: float) -> None:
    """Every thinner one loses more, or is hotter than 160 C after 10 s."""
    bears = 226 * sqrt(log((160 + 234.5) / (85 + 234.5)) / 10)
    good = [
        label
        for label, resistance in CLASS_5.items()
        if amperes * resistance * AT_85_C * metres / 1000 <= may_lose and amperes <= bears * float(label.split()[0])
    ]
    current, length = MilliAmps(1000 * amperes), Micrometres(round(1_000_000 * metres))
    size = lead_size(current, length, MilliVolts(round(1000 * may_lose)))
    assert (size.label if size else None) == next(iter(good), None)


def sizes(starter: str) -> list[str]:
    """Return the sizes of lead, engine's strap and battery's strap of the trial bike."""
    text = bike(f"{LAMP}, current: 1 A").replace("capacity: 10 Ah, at: tray}", f"capacity: 10 Ah, at: tray}}{starter}")
    return [part.size for part in lead_parts(laid_text(text, unit(OUT)).site.job)]


def test_leads_and_straps_have_sizes_where_the_file_says_what_the_starter_draws() -> None:
    """509 mm at 120 A: 6 mm2 loses 0.253 V; 300 mm of strap 0.149 V, and 0.086 V with 10 mm2."""
    assert sizes(", starter: {draws: 120 A, at: neck}") == ["6 mm2 or thicker", "10 mm2 or thicker", "6 mm2 or thicker"]


@pytest.mark.parametrize("starter", ["", ", starter: {at: neck}"])
def test_they_are_the_makers_where_nothing_says_what_it_draws(starter: str) -> None:
    """No size is guessed."""
    assert sizes(starter) == ["as thick as the bike's maker has it"] * 3


@pytest.mark.parametrize(
    ("example", "unit_name", "where"),
    [
        ("harbour-trail", "eleven-way", "battery to starter motor"),
        ("bare-single", "six-way", "battery to starter motor, where there is one"),
    ],
)
def test_a_bike_that_is_kicked_is_not_told_that_it_has_a_starter_motor(
    example: str, unit_name: str, where: str
) -> None:
    """The Bare Single has a kick start; a file may leave out a starter that the unit has no part in."""
    assert next(part.where for part in lead_parts(laid_example(example, unit_name).site.job)) == where

"""Wires as somebody posted them, just right and just wrong, to a milliampere.

Sources: 33 CFR 183.425 Table 5: 1 mm2 (18 AWG) carries 20 A, and at 57 C sqrt(48 / 75) = 0.8 of it, 16 A. The bikes and
outputs are made up.
"""

import pytest

from laid_bikes import laid_text
from portloom.base.quantities import MilliAmps
from portloom.base.sizes import parse_size
from portloom.base.unit import Output
from portloom.rules.as_posted import AsPosted, wire_alone_said, wire_said
from rule_bikes import LAMP, OUT, bike, unit

OUTPUT = Output.model_validate({"name": "out 1", "limit": "30 A", "trip": ["20 A", "25 A"], "wire_max": "1 mm2"})
TOO_THICK = "out 1 takes wire of up to 1 mm2, 1.5 mm2 is posted"
TOO_THIN = "out 1 is set to trip at 25 A, and its wire of 1 mm2 carries 20 A even where it runs alone and cool"


@pytest.mark.parametrize(
    ("trip", "size", "said"),
    [
        (20_000, "1 mm2", []),
        (25_000, "1 mm2", [TOO_THIN]),
        (22_000, "1 mm2", []),  # the output can't be set to that, which is told by itself
        (None, "1 mm2", []),
        (20_000, "1.5 mm2", [TOO_THICK]),
        (None, "1.5 mm2", [TOO_THICK]),
        (25_000, None, []),
    ],
)
def test_a_posted_wire_alone(trip: int | None, size: str | None, said: list[str]) -> None:
    """Where nothing is known of the bike: the terminal, and what the wire carries at most."""
    posted = None if trip is None else MilliAmps(trip), None if size is None else parse_size(size)
    assert list(wire_alone_said(OUTPUT, *posted)) == said


@pytest.mark.parametrize(
    ("heat", "trip", "right"),
    [("", 20_000, True), ("", 20_001, False), (", ambient: 57 C", 16_000, True), (", ambient: 57 C", 16_001, False)],
)
def test_a_posted_wire_carries_its_trip_in_every_leg(heat: str, trip: int, *, right: bool) -> None:
    """By way of a leg that may be hot, and of one that is not."""
    lamp = LAMP.replace("neck", "bracket")
    laid = laid_text(bike(f"{lamp}, current: 1 A", neck=f"509 mm{heat}"), unit(OUT))
    posted = AsPosted(laid.outputs[0], MilliAmps(trip), parse_size("1 mm2"))
    assert len(posted.run.legs) == 2
    assert (wire_said(posted) is None) is right

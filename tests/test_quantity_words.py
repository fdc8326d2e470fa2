"""Quantities: what is written is what is kept, to the last small unit.

The sizes of the units are those of the SI (BIPM, The International System of Units, 9th edition, table 7:
milli 10^-3, centi 10^-2, kilo 10^3; table 8: minute 60 s, hour 3600 s).
"""

from decimal import Decimal
from typing import get_args

import pytest
from hypothesis import given
from hypothesis import strategies as st

from portloom.base import quantities
from portloom.base.quantities import Measure, QuantityError
from portloom.base.sizes import gauge, metric, parse_size

SI = {
    "m": Decimal(1), "cm": Decimal("0.01"), "mm": Decimal("0.001"), "A": Decimal(1), "mA": Decimal("0.001"),
    "V": Decimal(1), "mV": Decimal("0.001"), "W": Decimal(1), "kW": Decimal(1000), "mW": Decimal("0.001"),
    "ohm": Decimal(1), "Ω": Decimal(1), "mohm": Decimal("0.001"), "mΩ": Decimal("0.001"), "Hz": Decimal(1),
    "kHz": Decimal(1000), "s": Decimal(1), "ms": Decimal("0.001"), "min": Decimal(60), "h": Decimal(3600),
    "Ah": Decimal(1), "mAh": Decimal("0.001"), "C": Decimal(1), "°C": Decimal(1), "%": Decimal("0.01"), "x": Decimal(1),
}  # fmt: skip
SMALL = {
    "Current": "0.001", "StandbyCurrent": "0.000001", "Voltage": "0.001", "Power": "0.001", "Resistance": "0.000001",
    "Length": "0.000001", "Extra": "0.000001", "WholeMillimetres": "0.001", "Duration": "0.000001", "Charge": "0.001",
    "Temperature": "0.001", "Frequency": "0.001", "Share": "0.0001", "Multiple": "0.001",
}  # fmt: skip
"""The small unit in which each quantity is kept, in units of the SI."""


def measure(name: str) -> Measure:
    """Return the measure of the quantity called ``name``."""
    return next(part for part in get_args(getattr(quantities, name)) if isinstance(part, Measure))


@given(st.sampled_from(sorted(SMALL)), st.data(), st.integers(1, 10**9))
def test_round_trip(name: str, data: st.DataObject, whole: int) -> None:
    """A whole number of small units, written in any of its units with or without a space, is read back exactly."""
    wanted = measure(name)
    unit = data.draw(st.sampled_from(sorted(wanted.units)))
    number = whole * Decimal(SMALL[name]) / SI[unit]
    space = data.draw(st.sampled_from(["", " ", "\u00a0"]))
    if number * SI[unit] == whole * Decimal(SMALL[name]) and len(f"{number:f}") < 15:
        assert wanted.parse(f"{number:f}{space}{unit}") == whole


@given(st.sampled_from(sorted(SMALL)), st.text(max_size=12))
def test_garbage_is_misread(name: str, text: str) -> None:
    """Any text gives a whole number or Misread, never another error."""
    try:
        halves: tuple[object, ...] = (measure(name).parse(text),)
    except QuantityError as error:
        halves = (error.what, error.right)
    assert all(halves) or halves == (0,)


@given(st.sampled_from(sorted(SMALL)), st.integers(0, 10**6), st.integers(0, 99))
def test_decimal_comma(name: str, whole: int, rest: int) -> None:
    """A decimal comma is called one, with the point in its place."""
    wanted = measure(name)
    unit = next(iter(wanted.units))
    with pytest.raises(QuantityError, match=f"^decimal comma in '{whole},{rest} {unit}'; write {whole}.{rest} {unit}$"):
        wanted.parse(f"{whole},{rest} {unit}")


@pytest.mark.parametrize("text", ["9" * 16 + " A", "9" * 5000 + " A", "0." + "0" * 30 + "1 A", "1e5 A", "٣ A"])
def test_absurd_numbers(text: str) -> None:
    """Numbers that no meter shows are refused in words."""
    with pytest.raises(QuantityError):
        measure("Current").parse(text)


def test_currents_round_up_once() -> None:
    """A steady current finer than 1 mA is rounded up to it."""
    assert measure("DrawnCurrent").parse("400.1 mA") == 401
    assert measure("DrawnCurrent").parse("4.2 A") == 4200


@given(st.integers(1, 9999), st.integers(0, 9999), st.sampled_from(["mm2", "mm²", " mm2"]))
def test_metric_size(whole: int, parts: int, unit: str) -> None:
    """A metric size is kept to 0.0001 mm2."""
    size = parse_size(f"{whole}.{parts:04d}{unit}")
    assert size.area == whole * 10_000 + parts
    assert size == metric(Decimal(f"{whole}.{parts:04d}"))


@pytest.mark.parametrize(("number", "square_mm"), [(10, "5.26"), (16, "1.31"), (20, "0.518"), (40, "0.00501")])
def test_gauges(number: int, square_mm: str) -> None:
    """The areas of American gauges are those of the table in ASTM B258 to three figures (from memory)."""
    assert abs(gauge(number).square_mm - Decimal(square_mm)) <= Decimal("0.01") * Decimal(square_mm)
    assert parse_size(f"{number} AWG") == gauge(number)


@pytest.mark.parametrize("text", ["", "1", "0 mm2", "41 AWG", "-1 mm2", "1,5 mm2", "9" * 5000 + " mm2", None])
def test_no_sizes(text: str | None) -> None:
    """What is no size is refused in words."""
    with pytest.raises(QuantityError):
        parse_size(text)

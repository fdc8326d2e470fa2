"""Figures as people read them."""

from decimal import ROUND_HALF_UP, Decimal
from fractions import Fraction

from solver.words.quantities import MicroAmps, Micrometres, Microseconds, MilliAmps, MilliCelsius


def plain(number: Decimal) -> str:
    """Write a number without needless zeros: 12, 12.5."""
    text = f"{number:f}"
    return text.rstrip("0").rstrip(".") if "." in text else text


def amperes(current: MilliAmps) -> str:
    """Write a current in amperes, to the milliampere."""
    return f"{plain(Decimal(current) / 1000)} A"


def peak_amperes(current: MicroAmps) -> str:
    """Write an inrush in amperes, to a hundredth."""
    return f"{plain((Decimal(current) / 1_000_000).quantize(Decimal('0.01'), ROUND_HALF_UP))} A"


def millimetres(length: Micrometres) -> str:
    """Write a length in millimetres."""
    return f"{plain(Decimal(length) / 1000)} mm"


def milliseconds(time: Microseconds) -> str:
    """Write a time in milliseconds."""
    return f"{plain(Decimal(time) / 1000)} ms"


def volts(microvolts: Fraction) -> str:
    """Write a voltage in volts, to a hundredth, rounded up: a loss is never made smaller."""
    hundredths = -(-microvolts // 10_000)
    return f"{Decimal(int(hundredths)) / 100:.2f} V"


def volts_left(microvolts: Fraction | int) -> str:
    """Write a voltage in volts, to a hundredth, rounded down: what is left is never made larger."""
    return f"{Decimal(int(microvolts // 10_000)) / 100:.2f} V"


def celsius(temperature: MilliCelsius) -> str:
    """Write a temperature."""
    return f"{plain(Decimal(temperature) / 1000)} C"


def listed(names: list[str] | tuple[str, ...]) -> str:
    """Write names as a list: 'a', 'a and b', 'a, b and c'."""
    return " and ".join(filter(None, [", ".join(names[:-1]), *names[-1:]]))

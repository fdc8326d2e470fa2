"""Quantities, exact and typed: a current is never a voltage.

Inside, every quantity is a whole number of its small unit, so that a limit that is met exactly is
kept. What a person writes (``55 W``, ``350 mm``, ``1.5 mm2``) is parsed here, once.
"""

import re
from collections.abc import Callable, Mapping
from decimal import Decimal
from fractions import Fraction
from math import ceil, floor
from typing import Annotated, Any, NewType

from pydantic import GetCoreSchemaHandler, GetJsonSchemaHandler
from pydantic.json_schema import JsonSchemaValue
from pydantic_core import CoreSchema, PydanticCustomError, core_schema

from portloom.base.values import dataclass

MilliAmps = NewType("MilliAmps", int)
MicroAmps = NewType("MicroAmps", int)
MilliVolts = NewType("MilliVolts", int)
MilliWatts = NewType("MilliWatts", int)
MicroOhms = NewType("MicroOhms", int)
Micrometres = NewType("Micrometres", int)
Microseconds = NewType("Microseconds", int)
MilliAmpHours = NewType("MilliAmpHours", int)
MilliCelsius = NewType("MilliCelsius", int)
MilliHertz = NewType("MilliHertz", int)
BasisPoints = NewType("BasisPoints", int)
"""A share, in hundredths of a per cent."""
Thousandths = NewType("Thousandths", int)
"""A multiple (``2 x``), in thousandths."""

NUMBER = re.compile(r"[+-]?([0-9]{1,15}(\.[0-9]{0,15})?|\.[0-9]{1,15})")
QUANTITY = re.compile(rf"(?P<number>{NUMBER.pattern})\s*(?P<unit>[^\d\s.,+-].*)?")
DECIMAL_COMMA = re.compile(r"[+-]?\d+,\d+(?P<unit>\s*\D.*)?")
MOST = 10**13
"""More small units than anything on a bike has: 10,000 km of wire, or 115 days."""


class QuantityError(ValueError):
    """A word that can't be read as what is wanted: what is wrong, and what would be right."""

    def __init__(self, what: str, right: str) -> None:
        """Take the two halves of the message."""
        super().__init__(f"{what}; {right}")
        self.what = what
        self.right = right


@dataclass(frozen=True, eq=False)
class Measure:
    """How one quantity is written: its name, the size of each unit in small units, an example."""

    name: str
    units: Mapping[str, Decimal]
    example: str
    zero: bool = False
    negative: bool = False
    round_up: bool = False

    def parse(self, text: object) -> int:
        """Return the whole number of small units that ``text`` says; raise Misread, a ValueError, otherwise."""
        if not isinstance(text, str):
            raise QuantityError(f"a {self.name} is missing here", f"write one, such as {self.example}")
        found = QUANTITY.fullmatch(text.strip())
        if found is None:
            raise self._not_a_quantity(text.strip())
        amount = Decimal(found["number"])
        size = self._unit_size(found["number"], found["unit"])
        self._check_sign(text, amount)
        return self._whole(text, amount, size)

    def _not_a_quantity(self, text: str) -> QuantityError:
        if found := DECIMAL_COMMA.fullmatch(text):
            unit = "" if found["unit"] else f" with its unit, such as {self.example}"
            return QuantityError(f"decimal comma in '{text}'", f"write {text.replace(',', '.')}{unit}")
        return QuantityError(f"'{text}' is not a {self.name}", f"write it such as {self.example}")

    def _unit_size(self, number: str, unit: str | None) -> Decimal:
        wanted = " or ".join(", ".join(self.units).rsplit(", ", 1))
        if unit is None:
            raise QuantityError(f"'{number}' has no unit", f"write a {self.name} in {wanted}, such as {self.example}")
        size = self.units.get(unit.strip())
        if size is None:
            raise QuantityError(
                f"'{unit.strip()}' is not a unit of {self.name}", f"write it in {wanted}, such as {self.example}"
            )
        return size

    def _check_sign(self, text: str, amount: Decimal) -> None:
        if amount < 0 and not self.negative:
            raise QuantityError(f"a {self.name} can't be negative, as '{text}' is", f"write it such as {self.example}")
        if amount == 0 and not (self.zero or self.negative):
            raise QuantityError(f"a {self.name} can't be '{text}'", f"write more than zero, such as {self.example}")

    def _whole(self, text: str, amount: Decimal, size: Decimal) -> int:
        exact = Fraction(amount) * Fraction(size)
        whole = ceil(exact) if self.round_up else floor(exact)
        if abs(whole) > MOST:
            raise QuantityError(f"'{text}' is more than any {self.name} on a bike", f"write it such as {self.example}")
        if whole == exact or self.round_up:
            return whole
        finest, step = min(self.units.items(), key=lambda pair: pair[1])
        raise QuantityError(
            f"'{text}' is too fine", f"a {self.name} is kept in whole steps of {Decimal(1) / step} {finest}"
        )

    def __get_pydantic_core_schema__(self, source: type[Any], handler: GetCoreSchemaHandler) -> CoreSchema:
        """Let pydantic read the field by this measure."""
        return core_schema.no_info_plain_validator_function(parsed_by(self.parse))

    def __get_pydantic_json_schema__(self, schema: CoreSchema, handler: GetJsonSchemaHandler) -> JsonSchemaValue:
        """Describe the field as text with a unit."""
        units = "|".join(re.escape(unit) for unit in self.units)
        sign = "[+-]?" if self.negative else "[+]?"
        return {
            "type": "string",
            "pattern": rf"^{sign}([0-9]+(\.[0-9]*)?|\.[0-9]+)\s*({units})$",
            "description": f"a {self.name} in {', '.join(self.units)}",
            "examples": [self.example],
        }


def parsed_by(parse: Callable[[Any], Any]) -> Callable[[Any], Any]:
    """Turn a parser's Misread into pydantic's own kind of error, its text unchanged."""

    def parsed(value: object) -> object:
        try:
            return parse(value)
        except QuantityError as error:
            raise PydanticCustomError("said", "{what}; {right}", {"what": error.what, "right": error.right}) from error

    return parsed


def units(**sizes: str) -> dict[str, Decimal]:
    """Return the size of each unit in small units."""
    return {unit: Decimal(size) for unit, size in sizes.items()}


_LENGTH = units(mm="1000", cm="10000", m="1000000")
_CURRENT = units(A="1000", mA="1")
_RESISTANCE = units(mohm="1000", ohm="1000000") | {"mΩ": Decimal(1000), "Ω": Decimal(1000000)}
_SHARE = {"%": Decimal(100)}

Current = Annotated[MilliAmps, Measure("current", _CURRENT, "4.2 A")]
DrawnCurrent = Annotated[MilliAmps, Measure("current", _CURRENT, "4.2 A", round_up=True)]
StandbyCurrent = Annotated[MicroAmps, Measure("current", units(mA="1000", A="1000000"), "0.4 mA", zero=True)]
Voltage = Annotated[MilliVolts, Measure("voltage", units(V="1000", mV="1"), "14.0 V")]
Power = Annotated[MilliWatts, Measure("power", units(W="1000", kW="1000000", mW="1"), "55 W")]
Resistance = Annotated[MicroOhms, Measure("resistance", _RESISTANCE, "10 mohm", zero=True)]
Length = Annotated[Micrometres, Measure("length", _LENGTH, "350 mm")]
Extra = Annotated[Micrometres, Measure("length", _LENGTH, "100 mm", zero=True)]
WholeMillimetres = Annotated[int, Measure("length", units(mm="1", cm="10", m="1000"), "50 mm", zero=True)]
Duration = Annotated[
    Microseconds, Measure("time", units(ms="1000", s="1000000", min="60000000", h="3600000000"), "50 ms")
]
Charge = Annotated[MilliAmpHours, Measure("capacity", units(Ah="1000", mAh="1"), "10 Ah")]
Temperature = Annotated[
    MilliCelsius, Measure("temperature", {"C": Decimal(1000), "°C": Decimal(1000)}, "85 C", negative=True)
]
Frequency = Annotated[MilliHertz, Measure("rate", units(Hz="1000", kHz="1000000"), "400 Hz")]
Share = Annotated[BasisPoints, Measure("share", _SHARE, "10 %", zero=True)]
Multiple = Annotated[Thousandths, Measure("multiple", units(x="1000"), "2 x")]

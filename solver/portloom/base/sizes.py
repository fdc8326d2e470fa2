"""The size of a wire: metric (``1.5 mm2``) or AWG (``16 AWG``)."""

import re
from decimal import ROUND_HALF_EVEN, Decimal
from functools import cache
from typing import Annotated, Any

from pydantic import GetCoreSchemaHandler, GetJsonSchemaHandler
from pydantic.json_schema import JsonSchemaValue
from pydantic_core import CoreSchema, core_schema

from portloom.base.quantities import NUMBER, QuantityError, parsed_by
from portloom.base.values import dataclass

METRIC = re.compile(r"(?P<area>[0-9]{1,4}(?:\.[0-9]{1,4})?)\s*mm(?:2|²)")
GAUGE = re.compile(r"(?P<gauge>[0-9]{1,2})\s*AWG")
LONGEST_GAUGE = 40


@dataclass(frozen=True, order=True)
class WireSize:
    """A wire's cross-section: its area and its trade label."""

    area: int
    """Ten-thousandths of a square millimetre."""
    label: str

    @property
    def square_mm(self) -> Decimal:
        """The area in mm2."""
        return Decimal(self.area) / 10_000


def metric(area: Decimal) -> WireSize:
    """Return the size of ``area`` mm2."""
    return WireSize(int(area * 10_000), f"{area.normalize():f} mm2")


@cache
def gauge(number: int) -> WireSize:
    """Return the size of an American gauge.

    Source: ASTM B258: area 0.012668 mm2 x 92^((36 - n) / 19.5), rounded here to 0.0001 mm2.
    """
    area = Decimal("0.012668") * Decimal(92) ** (Decimal(36 - number) / Decimal("19.5"))
    return WireSize(int((area * 10_000).to_integral_value(ROUND_HALF_EVEN)), f"{number} AWG")


def parse_size(text: object) -> WireSize:
    """Read a size as people write it; raise Misread, a ValueError, with what would be right."""
    if not isinstance(text, str):
        raise QuantityError("a wire size is missing here", "write one, such as 1.5 mm2 or 16 AWG")
    words = text.strip()
    if found := METRIC.fullmatch(words):
        return _positive(metric(Decimal(found["area"])), words)
    if (found := GAUGE.fullmatch(words)) and int(found["gauge"]) <= LONGEST_GAUGE:
        return gauge(int(found["gauge"]))
    raise _not_a_size(words)


def _not_a_size(words: str) -> QuantityError:
    if NUMBER.fullmatch(words):
        return QuantityError(f"'{words}' has no unit", "write a wire size in mm2 or AWG, such as 1.5 mm2 or 16 AWG")
    if re.fullmatch(r"[0-9]+,[0-9]+\s*mm(2|²)", words):
        return QuantityError(f"decimal comma in '{words}'", f"write {words.replace(',', '.')}")
    return QuantityError(f"'{words}' is not a wire size", "write it such as 1.5 mm2 or 16 AWG")


def _positive(size: WireSize, words: str) -> WireSize:
    if size.area <= 0:
        raise QuantityError(f"a wire size can't be '{words}'", "write more than zero, such as 1.5 mm2")
    return size


class _SizeField:
    def __get_pydantic_core_schema__(self, source: type[Any], handler: GetCoreSchemaHandler) -> CoreSchema:
        return core_schema.no_info_plain_validator_function(parsed_by(parse_size))

    def __get_pydantic_json_schema__(self, schema: CoreSchema, handler: GetJsonSchemaHandler) -> JsonSchemaValue:
        return {
            "type": "string",
            "pattern": r"^([0-9]+(\.[0-9]+)?\s*mm(2|²)|[0-9]+\s*AWG)$",
            "description": "a wire size in mm2 or AWG",
            "examples": ["1.5 mm2", "16 AWG"],
        }


Size = Annotated[WireSize, _SizeField()]

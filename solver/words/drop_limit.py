"""A limit on the voltage lost on a whole path: a voltage, or a share of the running voltage."""

from dataclasses import dataclass
from typing import Annotated, Any

from pydantic import GetCoreSchemaHandler, GetJsonSchemaHandler
from pydantic.json_schema import JsonSchemaValue
from pydantic_core import CoreSchema, core_schema

from solver.words.quantities import BasisPoints, Measure, MilliVolts, told, units

SHARE = Measure("share", units(**{"%": "100"}), "5 %")
VOLTAGE = Measure("voltage", units(V="1000", mV="1"), "0.6 V")


@dataclass(frozen=True)
class Drop:
    """The limit as it is written: one of the two."""

    voltage: MilliVolts | None = None
    share: BasisPoints | None = None


def parse_drop(text: object) -> Drop:
    """Read a limit such as ``0.6 V`` or ``4 %``; raise ValueError otherwise."""
    if isinstance(text, str) and text.rstrip().endswith("%"):
        return Drop(share=BasisPoints(SHARE.parse(text)))
    return Drop(voltage=MilliVolts(VOLTAGE.parse(text)))


class _DropField:
    def __get_pydantic_core_schema__(self, source: type[Any], handler: GetCoreSchemaHandler) -> CoreSchema:
        return core_schema.no_info_plain_validator_function(told(parse_drop))

    def __get_pydantic_json_schema__(self, schema: CoreSchema, handler: GetJsonSchemaHandler) -> JsonSchemaValue:
        return {
            "type": "string",
            "pattern": r"^[0-9]+(\.[0-9]+)?\s*(V|mV|%)$",
            "description": "a voltage, or a share of the running voltage",
            "examples": ["0.6 V", "4 %"],
        }


DropLimit = Annotated[Drop, _DropField()]

"""Voltage lost on wires, connectors, fuses, earth points and outputs, and what may be lost at most.

Source: U = I x R; how a conductor's resistance grows with its temperature: FAA AC 43.13-1B par. 11-66.
"""

from fractions import Fraction
from typing import Annotated, Any, NewType

from pydantic import GetCoreSchemaHandler, GetJsonSchemaHandler
from pydantic.json_schema import JsonSchemaValue
from pydantic_core import CoreSchema, core_schema

from portloom.base.copper import CONDUCTOR_TEMPERATURE, Conductor
from portloom.base.quantities import (
    BasisPoints,
    Measure,
    Micrometres,
    MicroOhms,
    MilliAmps,
    MilliCelsius,
    MilliVolts,
    parsed_by,
    units,
)
from portloom.base.values import dataclass

MicroVolts = NewType("MicroVolts", Fraction)
AmpereMetres = NewType("AmpereMetres", int)
"""Current x length x (234.5 C + conductor temperature): mA x um x mC. The same for every wire size."""

NOTHING = MicroVolts(Fraction(0))
NO_MATTER = 10**12
"""More microohms a metre than any wire has: its size does not matter."""
_PER_VOLT = 254_500 * 10**9
"""uohm/m x mA x um x mC in a microvolt, with the 254.5 C of the temperature formula."""


def conductor_temperature(ambient: MilliCelsius | None) -> MilliCelsius:
    """Return the temperature at which a conductor is taken to work: 85 C, in a hotter leg its ambient."""
    return CONDUCTOR_TEMPERATURE if ambient is None else max(CONDUCTOR_TEMPERATURE, ambient)


def ampere_metres(current: MilliAmps, length: Micrometres, temperature: MilliCelsius) -> AmpereMetres:
    """Return the moment of ``current`` over a stretch of wire at ``temperature``."""
    return AmpereMetres(current * length * (234_500 + temperature))


def wire_drop(conductor: Conductor, total: AmpereMetres) -> MicroVolts:
    """Return the voltage lost on a wire of one size over the sum of its moments."""
    return MicroVolts(Fraction(conductor.resistance * total, _PER_VOLT))


def greatest_resistance(allowed: MicroVolts, lost: int, total: AmpereMetres) -> int:
    """Return the greatest resistance at 20 C, in microohms a metre, that keeps a run within ``allowed``.

    ``lost`` nanovolts of it are lost elsewhere (microohms x mA); less than none is left where the
    result is negative. The same formula as wire_drop, turned round, in whole numbers.
    """
    left = 1000 * allowed.numerator - lost * allowed.denominator
    if total == 0:
        return NO_MATTER if left >= 0 else -1
    return _PER_VOLT * left // (1000 * allowed.denominator * total)


def resistance_drop(resistance: MicroOhms, current: MilliAmps) -> MicroVolts:
    """Return the voltage lost in ``resistance``."""
    return MicroVolts(Fraction(resistance * current, 1000))


def fuse_drop(at_rating: MilliVolts, rating: MilliAmps, current: MilliAmps) -> MicroVolts:
    """Return the voltage lost in a fuse: ``at_rating`` at its rating, in proportion below."""
    return MicroVolts(Fraction(at_rating * 1000 * current, rating))


def share_of(voltage: MilliVolts, share: BasisPoints) -> MicroVolts:
    """Return a share of a voltage."""
    return MicroVolts(Fraction(voltage * share, 10))


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
        return core_schema.no_info_plain_validator_function(parsed_by(parse_drop))

    def __get_pydantic_json_schema__(self, schema: CoreSchema, handler: GetJsonSchemaHandler) -> JsonSchemaValue:
        return {
            "type": "string",
            "pattern": r"^[0-9]+(\.[0-9]+)?\s*(V|mV|%)$",
            "description": "a voltage, or a share of the running voltage",
            "examples": ["0.6 V", "4 %"],
        }


DropLimit = Annotated[Drop, _DropField()]

"""The ratings of blade fuses, and how a file says one.

Source: ISO 8820-3 steps (types C, E and F).
"""

from typing import Annotated

from pydantic import GetJsonSchemaHandler
from pydantic.json_schema import JsonSchemaValue
from pydantic_core import CoreSchema

from portloom.base.figures import amperes
from portloom.base.nearest import or_list
from portloom.base.quantities import Measure, MilliAmps, QuantityError, units

STEPS: tuple[MilliAmps, ...] = tuple(
    MilliAmps(tenths * 100)
    for tenths in (10, 20, 30, 40, 50, 75, 100, 150, 200, 250, 300, 350, 400, 500, 600, 700, 800)
)


def steps_beside(rating: MilliAmps) -> str:
    """Say the steps just below and just above a rating that is none."""
    below = [step for step in STEPS if step < rating][-1:]
    above = [step for step in STEPS if step > rating][:1]
    return or_list(amperes(step) for step in (*below, *above))


class _Rating(Measure):
    """A current that is a step."""

    def parse(self, text: object) -> int:
        """Return the step in mA; raise QuantityError where it is none."""
        rating = MilliAmps(super().parse(text))
        if rating not in STEPS:
            what = f"there is no blade fuse of {amperes(rating)}"
            raise QuantityError(what, f"write {steps_beside(rating)}, steps of ISO 8820-3")
        return rating

    def __get_pydantic_json_schema__(self, schema: CoreSchema, handler: GetJsonSchemaHandler) -> JsonSchemaValue:
        """Describe the field as a current that is a step."""
        steps = or_list(amperes(step) for step in STEPS)
        return {**super().__get_pydantic_json_schema__(schema, handler), "description": f"a fuse's rating: {steps}"}


FuseRating = Annotated[MilliAmps, _Rating("fuse rating", units(A="1000", mA="1"), "40 A")]

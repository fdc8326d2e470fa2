"""What all entries of a file share: frozen, no unknown keys, and words that stay words."""

import re
from typing import Annotated

from pydantic import BaseModel, BeforeValidator, ConfigDict, PlainValidator, StringConstraints, WithJsonSchema

from portloom.base.quantities import NUMBER, QuantityError, parsed_by

COUNT = re.compile(r"0*[1-9][0-9]{0,2}")


class Entry(BaseModel):
    """One mapping of a file; unknown keys are refused."""

    model_config = ConfigDict(frozen=True, extra="forbid", populate_by_name=True, defer_build=True)


def _as_list(value: object) -> object:
    return value if isinstance(value, list | tuple) else [value]


def _true_or_false(value: object) -> bool:
    if value in (True, "true", "True", "TRUE"):  # the spellings of YAML 1.2's core schema
        return True
    if value in (False, "false", "False", "FALSE"):
        return False
    raise QuantityError(f"'{value}' is neither true nor false", "write true or false")


def _count(value: object) -> int:
    if isinstance(value, int):
        return value
    if isinstance(value, str) and COUNT.fullmatch(value):
        return int(value)
    raise QuantityError(f"'{value}' is not a count", "write a whole number from 1 to 999, without a unit")


def _price(value: object) -> str:
    if isinstance(value, str) and NUMBER.fullmatch(value) and not value.startswith("-"):
        return value
    raise QuantityError(f"'{value}' is not a price", "write a bare number, such as 240")


Name = Annotated[str, StringConstraints(strip_whitespace=True, min_length=1)]
Names = Annotated[tuple[Name, ...], BeforeValidator(_as_list)]
TrueFalse = Annotated[bool, PlainValidator(parsed_by(_true_or_false)), WithJsonSchema({"type": "boolean"})]
Count = Annotated[int, PlainValidator(parsed_by(_count)), WithJsonSchema({"type": "integer", "minimum": 1})]
Price = Annotated[str, PlainValidator(parsed_by(_price)), WithJsonSchema({"type": "number", "minimum": 0})]


def one_or_several(value: object) -> object:
    """Let a single word stand for a list of one."""
    return _as_list(value)

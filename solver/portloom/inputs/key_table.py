"""Every key of a bike's file and of a unit's, as ``portloom keys`` tells them: read from the typed classes alone."""

import re
from collections.abc import Iterator
from decimal import Decimal
from typing import Literal, NamedTuple, get_args, get_origin

from pydantic.fields import FieldInfo

from portloom.base.bike import Bike, LaterLoad
from portloom.base.entries import Count, Entry, TrueFalse
from portloom.base.quantities import Measure
from portloom.base.sizes import Size
from portloom.base.unit import Unit
from portloom.inputs.schema import ALSO, SEVERAL, SIZE_EXAMPLE, choices_of, entry_of, fields, parts_of

File = Literal["bike", "unit"]
MODELS: dict[File, type[Entry]] = {"bike": Bike, "unit": Unit}
DEFAULT = re.compile(r"[,;] default (?P<value>.+)$")
"""How a description ends that tells what holds where the key is not written."""
LIKE: dict[type[Entry], str] = {LaterLoad: "loads"}
"""Entries that are made after others, and the key under which those stand."""
NEEDED = "needed"
NONE = "-"


class KeyRow(NamedTuple):
    """One key: the entry that it is in, what it means, what it takes, and what holds without it."""

    entry: tuple[str, ...]
    key: str
    says: str
    takes: str
    default: str
    leads_to: tuple[str, ...]
    """The entry that it holds, by the keys that lead there; empty where it holds none."""
    like: str
    """The entries whose keys stand here too, such as 'loads' of a later load; empty where there are none."""


def key_rows(file: File) -> tuple[KeyRow, ...]:
    """Return every key of a file, entry by entry, each entry once, in the order in which the classes have them."""
    return tuple(_rows(MODELS[file], (), set()))


def _rows(entry: type[Entry], path: tuple[str, ...], told: set[type[Entry]]) -> Iterator[KeyRow]:
    """Return the keys of an entry, then those of each entry that it holds; what it takes over is told already."""
    told.add(entry)
    inner: list[tuple[type[Entry], tuple[str, ...]]] = []
    like = LIKE.get(entry, "")
    for key in ALSO.get(entry, ()):
        yield KeyRow(path, key, SEVERAL, "names", NONE, (), like)
    for key, field in fields(entry).items():
        below = entry_of(field)
        leads_to = (*path, key) if below is not None and below not in told else ()
        if below is not None and below not in told:
            inner.append((below, leads_to))
        if not _taken_over(entry, field, key):
            yield KeyRow(path, key, _says(field), _takes(field), _default(entry, key, field), leads_to, like)
    for below, leads_to in inner:
        if below not in told:
            yield from _rows(below, leads_to, told)


def _taken_over(entry: type[Entry], field: FieldInfo, key: str) -> bool:
    """Tell whether an entry has a key just as the one that it is made after, such as a later load after a load."""
    above = entry.__base__
    if above is None or above is Entry or not issubclass(above, Entry):
        return False
    same = fields(above).get(key)
    return same is not None and same.description == field.description


def _says(field: FieldInfo) -> str:
    return DEFAULT.sub("", str(field.description))


def _takes(field: FieldInfo) -> str:
    """Say what may stand after the key: its words, its units, or what sort of thing."""
    words = choices_of(field)
    if words:
        return ", ".join(f"'{word}'" if "," in word else word for word in words)
    measures = _measures(field)
    if measures:
        return _amount(field, measures)
    parts = (*field.metadata, *parts_of(field.annotation))
    if any(part in get_args(Size)[1:] for part in parts):
        return f"mm2, AWG: {SIZE_EXAMPLE}"
    return next((said for kind, said in OF_METADATA if any(part in get_args(kind)[1:] for part in parts)), _sort(field))


OF_METADATA = ((TrueFalse, "true, false"), (Count, "a whole number"))


def _units(measure: Measure) -> list[str]:
    return [unit for unit in measure.units if unit.isascii()]


def _sort(field: FieldInfo) -> str:
    if entry_of(field) is not None:
        return "entries" if _is_several(field) else "keys of its own"
    if any(get_origin(part) is dict for part in parts_of(field.annotation)):
        return "NAME: TEXT, each"
    return "a name, or several" if _is_several(field) else "text"


def _is_several(field: FieldInfo) -> bool:
    return any(get_origin(part) in (tuple, dict) for part in parts_of(field.annotation))


def _amount(field: FieldInfo, measures: list[Measure]) -> str:
    if len(measures) > 1:
        return f"pairs: [{', '.join(measure.example for measure in measures)}]"
    amount = f"{', '.join(_units(measures[0]))}: {measures[0].example}"
    if any(get_origin(part) is dict for part in parts_of(field.annotation)):
        return f"NAME: TEXT, each in {amount}"
    return f"{amount}, or several" if _is_several(field) else amount


def _measures(field: FieldInfo) -> list[Measure]:
    return [part for part in (*field.metadata, *parts_of(field.annotation)) if isinstance(part, Measure)]


def _default(entry: type[Entry], key: str, field: FieldInfo) -> str:
    """Return what holds where the key is not written, as it would be written."""
    said = DEFAULT.search(str(field.description))
    if said is not None:
        return said["value"]
    if field.is_required():
        return NEEDED if key not in ("name", *ALSO.get(entry, ())) or entry not in ALSO else "or names"
    return _written(field.default, next(iter(_measures(field)), None))


def _written(value: object, measure: Measure | None) -> str:
    """Return a default in the words of a file; a quantity in the unit of its example."""
    match value:
        case bool():
            return str(value).lower()
        case int() if measure is not None:
            unit = measure.example.split()[-1]
            return f"{(Decimal(value) / measure.units[unit]).normalize():f} {unit}"
        case int() | str():
            return str(value)
        case tuple() if value and all(isinstance(each, str) for each in value):
            return ", ".join(value)
        case _:
            return NONE

"""The examples say what a builder knows, and nothing that follows from it.

What a part brings is told in the catalogue, and tested there; here it is that no example writes it out.
"""

from collections.abc import Iterator
from copy import deepcopy
from typing import Any

import pytest
import yaml

from outcomes import EXAMPLES
from portloom.inputs.files import bike_from_text
from portloom.inputs.parts.filling import TAKEN_KEYS
from portloom.inputs.problems import BadFile
from slices import third_of

BIKES = sorted(EXAMPLES.glob("*.yaml"))
LISTS = ("loads", "later", "inputs")


def written(text: str) -> dict[str, Any]:
    """Return a bike's entries, words as words."""
    return dict(yaml.load(text, yaml.BaseLoader))  # noqa: S506 - words stay words


def without_one(entries: dict[str, Any]) -> Iterator[tuple[str, dict[str, Any]]]:
    """Return the bike without each key of a load or an input that parts bring, and whose key it was."""
    for section in LISTS:
        for number, entry in enumerate(entries[section]):
            for key in (key for key in TAKEN_KEYS if key in entry):
                fewer = deepcopy(entries)
                del fewer[section][number][key]
                yield f"{section}: {entry.get('name', entry.get('part'))}: {key}", fewer


def read(entries: dict[str, Any]) -> dict[str, Any] | None:
    """Return what is read of some entries, or None where they leave something open."""
    try:
        return bike_from_text(yaml.safe_dump(entries, sort_keys=False), "bike").model_dump()
    except BadFile:
        return None


@third_of("path", BIKES, 0)
def test_a_key_that_is_written_says_something(path: Any) -> None:
    """Without any one key that parts bring the file is another bike, or asks."""
    entries = written(path.read_text("utf-8"))
    whole = read(entries)
    assert whole is not None
    assert [told for told, fewer in without_one(entries) if read(fewer) == whole] == []


@pytest.mark.parametrize("path", BIKES, ids=lambda path: path.stem)
def test_nothing_of_a_bike_is_opened_up_unnamed(path: Any) -> None:
    """An opening that may get wider says what is opened; no leg with one is a tube, a bar or a fork by its name."""
    for leg in bike_from_text(path.read_text("utf-8"), "bike").frame.legs:
        assert (leg.opens is None) == (leg.opens_to is None)
        assert leg.opens is None or not {"tube", "bar", "handlebar", "fork", "yoke"} & set(leg.label.split())

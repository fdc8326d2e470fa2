"""``portloom keys``: what it says of a key is what the schema says, and what holds without it is what is read."""

from collections import Counter
from typing import Any

import pytest

from calls import Portloom
from portloom.base.assumptions import TABLE
from portloom.base.bike import Bike, Supply, Weights
from portloom.base.margin import Margin
from portloom.inputs.key_table import File, KeyRow, key_rows
from portloom.inputs.schema import bike_schema, unit_schema

SCHEMAS: dict[File, dict[str, Any]] = {"bike": bike_schema(), "unit": unit_schema()}


def _described(schema: dict[str, Any]) -> Counter[tuple[str, str]]:
    """Count the keys of all entries with what they say; what a later load has of a load, once."""
    entries = [schema, *schema["$defs"].values()]
    load = schema["$defs"].get("Load", {}).get("properties", {})
    found: Counter[tuple[str, str]] = Counter()
    for entry in entries:
        for key, field in entry["properties"].items():
            if not ("worth" in entry["properties"] and load.get(key, {}).get("description") == field["description"]):
                found[key, field["description"]] += 1
    return found


def _whole(row: KeyRow, said: set[str]) -> str:
    """Return the description that a row is of, with the default that stands in a column of its own."""
    ends = (f"{row.says}{sign} default {row.default}" for sign in ",;")
    return next((end for end in ends if end in said), row.says)


@pytest.mark.parametrize("file", ["bike", "unit"])
def test_each_key_says_what_the_schema_says(file: File) -> None:
    """Every key of every entry, no more and no less, word for word."""
    described = _described(SCHEMAS[file])
    said = {text for _, text in described}
    assert Counter((row.key, _whole(row, said)) for row in key_rows(file)) == described


def _row(file: File, *path: str) -> KeyRow:
    return next(row for row in key_rows(file) if (*row.entry, row.key) == path)


def test_defaults_are_those_that_are_read() -> None:
    """A default is written as a file would have it, and means what holds without the key."""
    assert Supply.model_fields["resting"].default == 12_600
    assert _row("bike", "supply", "resting").default == "12.6 V"
    assert Weights().ability == 100
    assert _row("bike", "weights", "ability").default == "100 mm"
    assert Margin().share == 1000
    assert _row("bike", "margin", "share").default == "10 %"
    assert Bike.model_fields["stand"].default == _row("bike", "stand").default == "side"
    assert _row("unit", "outputs", "pwm").default == "false"
    assert _row("unit", "outputs", "resistance").default == "10 mohm"


def test_what_must_be_there_says_so() -> None:
    """A key without which a file is refused has no default."""
    assert _row("bike", "frame", "legs", "length").default == "needed"
    assert _row("bike", "loads", "name").default == "its part"
    assert _row("unit", "outputs", "name").default == "or names"


def test_units_and_words() -> None:
    """What a key takes is told by its units, or by its words."""
    assert _row("unit", "outputs", "trip").takes == "A, mA: 4.2 A, or several"
    assert _row("unit", "banks").takes == "NAME: TEXT, each in A, mA: 4.2 A"
    assert _row("unit", "outputs", "trip_curve").takes == "pairs: [2 x, 50 ms]"
    assert _row("bike", "loads", "fed").takes == "unit, relay, fuse"
    assert _row("bike", "brakes").takes == "two, one, 'two, one switch'"
    assert _row("bike", "loads", "leads").takes == "mm2, AWG: 1.5 mm2"


def test_one_key(portloom: Portloom) -> None:
    """One key is told wherever it stands, with the keys below it; a slip gives the nearest."""
    told = portloom("keys", "bike", "opening").stdout
    assert "A bike's file, under frame: legs" in told
    assert "opens_to" not in told
    assert "capacity at the ten-hour rate" in portloom("keys", "bike", "battery").stdout
    slip = portloom("keys", "unit", "trop")
    assert (slip.returncode, slip.stderr) == (2, "portloom keys: a unit's file has no key 'trop'; write 'trip'\n")


def test_what_may_be_assumed_is_listed(portloom: Portloom) -> None:
    """Every default that a bike's file may change, with its source."""
    told = portloom("keys", "bike", "assume").stdout
    assert [default.name for default in TABLE if f"  {default.name} " not in told] == []

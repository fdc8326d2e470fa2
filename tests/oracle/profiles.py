"""The YAML text of a unit profile, read without the program under test."""

from collections.abc import Iterator
from fractions import Fraction
from functools import lru_cache
from typing import Any

from .catalogue import USUAL
from .fuses import largest_within_ma
from .loads import words
from .quantities import quantity, whole
from .reading import tree_of
from .things import InPort, Output, Unit


@lru_cache(maxsize=16)
def read_unit(text: str) -> Unit:
    """Take a profile's YAML text; give the unit in base units."""
    data = tree_of(text)
    feed = data["feed"]
    limit = whole(feed["limit"], "current")
    return Unit(
        limit_ma=limit,
        fuse_max_ma=whole(feed["fuse_max"], "current") if "fuse_max" in feed else largest_within_ma(limit),
        lowest_mv=quantity(feed["lowest"], "voltage") if "lowest" in feed else None,
        largest=_largest(feed),
        face=feed.get("face", "front"),
        banks={name: whole(limit, "current") for name, limit in data.get("banks", {}).items()},
        outputs=tuple(_output(item) for item in each(data["outputs"])),
        inputs=tuple(_input(item) for item in each(data.get("inputs", []))),
    )


def each(items: list[dict[str, Any]]) -> Iterator[dict[str, Any]]:
    """Return ports one by one where several are written at once."""
    for item in items:
        for name in item.get("names", [item.get("name")]):
            yield {**item, "name": name}


def _largest(item: dict[str, Any]) -> Fraction | None:
    return USUAL.wire(item["wire_max"]).area if "wire_max" in item else None


def _output(item: dict[str, Any]) -> Output:
    limit = whole(item["limit"], "current")
    said = item.get("trip", item["limit"])
    trips = [whole(text, "current") for text in ([said] if isinstance(said, str) else said)]
    dimming = {"dim"} if item.get("pwm") == "true" else set()
    curve = [(quantity(multiple, "multiple"), quantity(time, "time")) for multiple, time in item.get("trip_curve", [])]
    return Output(
        name=item["name"],
        limit_ma=limit,
        peak_ma=whole(item["peak"], "current") if "peak" in item else limit,
        peak_ms=quantity(item.get("peak_for", "0 ms"), "time"),
        trips_ma=tuple(sorted(trips)),
        abilities=words(item.get("switch_modes", "steady")) | dimming,
        face=item.get("face", "front"),
        largest=_largest(item),
        bank=item.get("bank", ""),
        follow=item.get("follow", ""),
        mohm=quantity(item.get("resistance", "10 mohm"), "resistance"),
        curve=tuple(sorted(curve)),
        refuses_coils=item.get("inductive") == "false",
        key_off=item.get("key_off", "never"),
    )


def _input(item: dict[str, Any]) -> InPort:
    pulse = item.get("pulse", {})
    return InPort(
        name=item["name"],
        accepts=words(item["accepts"]),
        face=item.get("face", "front"),
        up_to_mv=quantity(pulse["up_to"], "voltage") if "up_to" in pulse else None,
        rate_hz=quantity(pulse["rate"], "frequency") if "rate" in pulse else None,
    )

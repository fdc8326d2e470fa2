"""Random bikes that were built, and the same once something was added, taken away, or burnt."""

import random
from functools import cache
from typing import Any

import yaml

from oracle.random_bikes import random_case
from portloom.documents.json import plan_json
from portloom.inputs.files import unit_from_text
from portloom.planning.plan import Planned, plan
from unasked import bike_from_text

Json = dict[str, Any]
FAMILIES = (
    "plain", "banks", "openings", "cases", "follow", "wires", "sharing", "later", "bundles", "faults", "safety",
    "keyoff", "cranking", "coils", "returns", "feeds", "main fuses",
)  # fmt: skip
"""Those in which every load is on the unit, with no multiplexers, no dashes and no switch of a load's own."""


@cache
def built(seed: int, family: str) -> tuple[str, str, Json] | None:
    """Return the texts of a random bike and its unit, and the printed plan; None where nothing fits."""
    bike, unit = random_case(seed, family)
    found = plan(bike_from_text(bike, "bike"), unit_from_text(unit, "unit"))
    return (bike, unit, plan_json(found.plan)) if isinstance(found, Planned) else None


def changed(bike: str, printed: Json, seed: int) -> str:
    """Return the text of a bike to which one to three things were done."""
    rng, data = random.Random(f"changed {seed}"), yaml.safe_load(bike)
    data["built on"] = [line["port"] for line in (*printed["outputs"], *printed["inputs"])]
    for _ in range(rng.choice((1, 1, 2, 3))):
        rng.choice((_more, _more, _less, _burnt, _other))(rng, data)
    del data["built on"]
    return str(yaml.safe_dump(data, sort_keys=False))


def _points(data: Json) -> list[str]:
    return list(dict.fromkeys(point for leg in data["frame"]["legs"] for point in leg["between"]))


def _named(data: Json, name: str) -> list[Json]:
    return [switch for switch in data["inputs"] if name in switch.get("operates", ())]


def _more(rng: random.Random, data: Json) -> None:
    """One more of a load, at another point, worked by the same switches, now and then in its share group."""
    like = rng.choice(data["loads"])
    if (
        "from" in like
        or "own_switch" in like
        or like.get("part") in ("brake lamp", "left indicator", "right indicator")
    ):
        return
    name = f"added {len(data['loads'])}"
    if "part" not in like and "share" not in like and rng.random() < 0.5:
        like["share"] = f"group of {like['name']}"
    more = {**like, "name": name, "at": rng.choice(_points(data))}
    more.pop("avoid", None)
    for switch in _named(data, like["name"]):
        switch["operates"] = [*switch["operates"], name]
    data["loads"].append(more)


def _less(rng: random.Random, data: Json) -> None:
    """One load less, and no switch works it."""
    gone = rng.choice(data["loads"])
    named = {name for load in data["loads"] for name in load.get("from", ())}
    if len(data["loads"]) < 2 or gone["name"] in named or gone["name"] in str(data.get("set_aside", "")):
        return
    for switch in _named(data, gone["name"]):
        left = [name for name in switch["operates"] if name != gone["name"]]
        if not left and "tells" not in switch:
            return
        switch["operates"] = left
        if not left:
            del switch["operates"]
    data["loads"] = [load for load in data["loads"] if load is not gone]


def _burnt(rng: random.Random, data: Json) -> None:
    """A port that was built on can't be used any more."""
    ports = data["built on"]
    data.setdefault("out_of_use", {})[rng.choice(ports)] = "burnt"


def _other(rng: random.Random, data: Json) -> None:
    """A load draws another current."""
    load = rng.choice(data["loads"])
    if "current" in load:
        load["current"] = f"{rng.choice((2, 15, 30, 60)) / 10:g} A"

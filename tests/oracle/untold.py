"""What must be told or done together on random bikes, and is not: safety switches, pairs of indicators, `follow`."""

from . import fittings, riding
from .drafts import FACES, Draft, Item
from .shortages import driven


def untold(made: Draft) -> None:
    """Put on what needs switches, but leave one thing or two untold."""
    words: set[str] = set()
    for items, asked in made.rng.sample(riding.SAFE[:4], 2):
        words |= set(asked)
        for item in items:
            add_load(made, {**item, "at": made.rng.choice(made.points)})
    if made.chance(0.4):
        driven(made)[0]["mode"] = "engine-run"
        made.unit["outputs"][0]["switch_modes"] = ["engine-run", "steady"]
    told = sorted(words)
    told = made.rng.sample(told, len(told) - made.rng.choice([1, 1, 2]))
    for some in filter(None, (told[:2], told[2:])):
        add_switch(made, {"at": made.rng.choice(made.points), "signal": "earth", "tells": some})


def pairs(made: Draft) -> None:
    """Put indicators of one side on that do not go together: one alone, not both flashing, by different switches."""
    spoilt = made.rng.choice(["alone", "steady", "apart"])
    for place in ("front", "rear") if spoilt != "alone" else ("front",):
        name = f"{place} left"
        add_load(made, {"name": name, "at": made.rng.choice(made.points), "part": "left indicator", **riding.LEFT})
        if spoilt == "apart" or place == "front":
            switch = {"at": made.rng.choice(made.points), "signal": "earth"}
            add_switch(made, {**switch, "operates": [name] if spoilt == "apart" else ["front left", "rear left"]})
    if spoilt == "alone":
        made.bike["inputs"][-1]["operates"] = ["front left"]
    if spoilt == "steady":
        made.bike["loads"][-1]["mode"] = "steady"


def following(made: Draft) -> None:
    """Let outputs do what the switch on some input says, whether it operates their loads or not."""
    names = [port["name"] for port in made.unit["inputs"]]
    for output in made.unit["outputs"]:
        if made.chance(0.6):
            output["follow"] = made.rng.choice(names)


def add_load(made: Draft, item: Item) -> None:
    """Put a load on, and an output for it."""
    made.bike["loads"].append(item)
    number = len(made.unit["outputs"]) + 1
    made.unit["outputs"].append({"name": f"out {number}", **fittings.output_for(made, item)})


def add_switch(made: Draft, item: Item) -> None:
    """Put a switch on, and an input for it."""
    made.bike["inputs"].append({"name": f"switch {len(made.bike['inputs']) + 1}", **item})
    port = {"accepts": [item["signal"]], "face": made.rng.choice(FACES)}
    made.unit["inputs"].append({"name": f"in {len(made.unit['inputs']) + 1}", **port})

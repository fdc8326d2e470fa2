"""Random bikes with ignition coils: their current comes back through what switches them."""

from . import fittings
from .drafts import Draft, Item, fixed_points, tidy
from .stressed import lowest_at_loads
from .tightening import tighten_thickened

ENGINE_ON = ["key on", "cranking", "day", "night"]
SWITCHERS = ("ignition box", "engine controller", "points")
# A load without a part, so that nothing but its words says what it is.
BESIDE: tuple[Item, ...] = (
    {"name": "camera", "current": "1.4 A", "kind": "electronics"},
    {"name": "route screen", "power": "40 W", "kind": "electronics"},
    {"name": "beacon", "power": "21 W", "kind": "filament"},
    {"name": "water pump", "current": "3.9 A", "kind": "motor"},
)


def coils(made: Draft) -> None:
    """Put on coils and what switches them, some by the frame, fed past the unit or from others; then tighten."""
    loads = made.bike["loads"]
    loads += [_spread(made, item) for item in made.rng.sample(BESIDE, made.rng.randint(1, 2))]
    loads += [_switcher(made, part) for part in made.rng.sample(SWITCHERS[:2], made.rng.randint(1, 2))]
    there = [item["part"] for item in loads if "part" in item]
    for number in range(made.rng.randint(1, 3)):
        loads.append(_coil(made, f"coil {number + 1}", made.rng.choice([*there, *there, "points"])))
    _second_box(made)
    made.bike |= {"stand": "none", "later": []}
    fittings.add_outputs(made, made.rng.randint(0, 1))
    _ports(made)
    made.bike["reels"] = made.rng.choice(
        [["0.35 mm2", "0.75 mm2", "1.5 mm2", "4 mm2", "10 mm2"], ["1 mm2", "2.5 mm2", "6 mm2"]]
    )
    made.unit["feed"].pop("wire_max")
    made.bike["frame"]["connectors"] = made.rng.sample(made.points, made.rng.randint(0, 2))
    if made.chance(0.3):
        made.bike["limits"] = {"drop": {"engine": made.rng.choice(["0.5 V", "0.42 V", "0.37 V", "0.3 V"])}}
    if made.chance(0.4):
        lowest_at_loads(made)
    if made.chance(0.9):
        tighten_thickened(made)


def _spread(made: Draft, item: Item) -> Item:
    return {**item, "at": made.rng.choice(made.points), "mode": "steady", "when": ["key on", "day", "night"]}


def _coil(made: Draft, name: str, by: str) -> Item:
    item: Item = {"name": name, "part": "ignition coil", "kind": "ignition coil", "switched_by": by}
    item |= {"at": made.rng.choice(made.points), "mode": "steady", "when": ENGINE_ON}
    item |= {"current": made.rng.choice(["2.7 A", "4.1 A", "6.3 A", "9.2 A"]), "share": "ignition"}
    if made.chance(0.1):
        item["fed"] = "relay"
    return item


def _switcher(made: Draft, part: str) -> Item:
    item: Item = {"name": part, "part": part, "kind": "electronics", "mode": "steady", "when": ENGINE_ON}
    item |= {"at": made.rng.choice(made.points), "current": made.rng.choice(["300 mA", "1.2 A", "2.2 A"])}
    item["share"] = "ignition" if part == "ignition box" else "controllers"
    if made.chance(0.15):
        item["at"] = made.rng.choice(fixed_points(made, made.bike["supply"]["battery"]["at"]))
        item["return"] = "frame"
    elif made.chance(0.15):
        item["fed"] = "relay"
    elif made.chance(0.15):
        item = {key: item[key] for key in item if key not in ("when", "mode", "share")}
        item["from"] = [made.bike["loads"][0]["name"]]
    return item


def _second_box(made: Draft) -> None:
    """Put a second box on, after the first or before it: coils go to the first of the file."""
    boxes = [item for item in made.bike["loads"] if item.get("part") == "ignition box"]
    if boxes and made.chance(0.3):
        second = {**_switcher(made, "ignition box"), "name": "second box"}
        made.bike["loads"].insert(made.rng.choice([1, len(made.bike["loads"])]), second)


def _ports(made: Draft) -> None:
    """Return the outputs high trips that some take long to, and the unit an input with its switch to earth."""
    for output in made.unit["outputs"]:
        limit = max(made.rng.choice([8, 13, 20]), int(output["limit"].split()[0]))
        output |= {"limit": f"{limit} A", "peak": f"{made.rng.choice([90, 150, 300])} A", "switch_modes": ["steady"]}
        output["trip"] = [tidy(limit * part) for part in made.rng.choice([(1,), (0.6, 1), (0.4, 1)])]
        if made.chance(0.5):
            slow = made.rng.choice([1, 4, 8])
            output["trip_curve"] = [["2 x", "30 s"], ["6 x", f"{slow * 200} ms"], ["20 x", f"{slow * 90} ms"]]
    made.unit["feed"] |= {"limit": "60 A", "fuse_max": "35 A"}
    switch: Item = {"name": "switch", "at": made.rng.choice(made.points), "signal": "earth", "normally": "open"}
    made.bike["inputs"] = [{**switch, "tells": ["engine stop"]}]
    made.unit["inputs"] = [{"name": "in 1", "accepts": ["earth"], "face": made.rng.choice(["front", "rear"])}]

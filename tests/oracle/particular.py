"""Random bikes in which wires, sharing, later loads or feeds of their own decide."""

from . import fittings
from .drafts import Draft, Item, tidy
from .usual import spoil, total_a, usual


def wires(made: Draft) -> None:
    """Make legs long, with few sizes, small terminals, connectors, tight drop limits."""
    usual(made, spare=2)
    legs = made.bike["frame"]["legs"]
    for leg in legs:
        leg["length"] = made.odd_mm(200, 1300)
        if made.chance(0.1):
            leg["ambient"] = "95 C"
    made.bike["frame"]["connectors"] = made.rng.sample(made.points, 2)
    made.bike["reels"] = made.rng.choice(
        [["0.5 mm2", "1 mm2", "2.5 mm2", "6 mm2"], ["0.75 mm2", "1.5 mm2", {"size": "4 mm2"}], ["18 AWG", "10 AWG"]]
    )
    made.unit["feed"].pop("wire_max")
    for group in made.rng.sample(["headlamp", "position lamps", "other"], 2):
        made.bike.setdefault("limits", {}).setdefault("drop", {})[group] = made.rng.choice(["0.6 V", "0.4 V", "4 %"])
    for output in made.unit["outputs"]:
        output["wire_max"] = made.rng.choice(["1 mm2", "1.5 mm2", "2.5 mm2", "4 mm2"])
        output["resistance"] = made.rng.choice(["5 mohm", "10 mohm", "30 mohm"])
    made.rng.choice(made.bike["loads"])["leads"] = "0.35 mm2"
    made.bike["assume"] = {"earth point": made.rng.choice(["2 mohm", "5 mohm"])}


def sharing(made: Draft) -> None:
    """Let loads and switches share, with fewer ports than things."""
    usual(made, loads=(4, 6))
    shared = {"share": "lamps", "when": ["day", "night"], "mode": "steady"}
    for item in made.bike["loads"]:
        if made.chance(0.65):
            item.update(shared)
    told = {}
    if made.chance(0.5):
        made.bike["loads"][0]["part"] = "brake lamp"
        made.bike["brakes"] = "one"
        told = {"tells": "rear brake"}
    for item in made.bike["inputs"]:
        if "operates" in item:
            item.update({"share": "bar", "operates": [made.bike["loads"][0]["name"]], "signal": "earth", **told})
    for port in made.unit["inputs"]:
        port["accepts"] = sorted({*port["accepts"], "earth"})
    outputs = [fittings.output_for(made, {**item, "current": "6 A", "power": "6 W"}) for item in made.bike["loads"]]
    keep = len(outputs) - made.rng.randint(0, 1)
    made.unit["outputs"] = [{"name": f"out {n + 1}", **output} for n, output in enumerate(outputs[:keep])]
    for output in made.unit["outputs"]:
        output["peak"] = f"{made.rng.choice([60, 90, 120])} A"


def later(made: Draft) -> None:
    """Name loads that may be added one day."""
    usual(made, loads=(3, 5), spare=2)
    choice: list[Item] = [
        {"name": "second heated seat", "power": "41 W", "kind": "heater", "mode": "dim"},
        {"name": "fog lamps", "power": "23 W", "kind": "led", "when": ["night"]},
        {"name": "tyre pump", "current": "4.4 A", "kind": "motor", "when": ["key on"]},
        {"name": "marker lamps", "power": "9 W", "kind": "filament", "mode": "flash"},
    ]
    made.bike["later"] = made.rng.sample(choice, made.rng.randint(1, 3))
    for item in made.bike["later"]:
        item["worth"] = made.odd_mm(300, 3900)
    for output in made.unit["outputs"]:
        output["bank"] = "A"
    made.unit["banks"] = {"A": tidy(total_a(made) * made.rng.choice([0.9, *[1.02, 1.15, 1.3, 1.5] * 2]))}
    if made.chance(0.3):
        del made.bike["later"]
    if made.chance(0.2):
        spoil(made)


def fed(made: Draft) -> None:
    """Add relays, fused feeds and a load fed from two others."""
    fittings.add_loads(made, made.rng.randint(4, 6))
    loads = made.bike["loads"]
    for item in made.rng.sample(loads, 2):
        item["fed"] = made.rng.choice(["relay", "fuse"])
        item.pop("mode", None)
        if item["fed"] == "fuse" or made.chance(0.3):
            item["own_switch"] = made.rng.choice(made.points)
    plain = [item["name"] for item in loads if "fed" not in item]
    fittings.add_outputs(made, 1)
    taps = {"name": "tell-tale", "at": made.rng.choice(made.points), "power": "1.2 W", "kind": "led"}
    loads.append({**taps, "from": made.rng.sample(plain, 2)})
    fittings.add_inputs(made, made.rng.randint(2, 4), 0)
    made.bike["later"] = []
    made.bike["weights"] = {"ampere": f"{made.rng.randint(10, 200)} mm"}
    if made.chance(0.3):
        spoil(made)

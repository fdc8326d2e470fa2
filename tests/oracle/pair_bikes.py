"""Random small bikes for two units: mostly no unit could take all alone, now and then both can't."""

import random

from . import fittings
from .drafts import FACES, POINTS, Draft, Item, tidy, written
from .fittings import worst_case_a
from .fusing import ample
from .riding import LEFT, SAFE

RIGHT = {**LEFT, "when": ["indicating right", "hazard"], "share": "right side"}
CROWDS = {"left indicator": "side", "right indicator": "side"}
CROWDS |= dict.fromkeys(("ignition", "fuel pump", "starter solenoid"), "engine")
SIDES = (("left", "front", LEFT), ("left", "rear", LEFT), ("right", "front", RIGHT), ("right", "rear", RIGHT))


def pair_case(seed: int) -> tuple[str, str, str]:
    """Take a seed; give the YAML texts of a bike and of two units."""
    made = _draft(random.Random(f"pair {seed}"))
    other = Draft(made.rng, made.bike, {"unit": "other way"})
    fittings.add_loads(made, made.rng.randint(2, 4))
    told = _crowd(made)
    _switches(made, told)
    _guest(made)
    twice = _units(made, other)
    _limits(made, other)
    _later(made)
    return written(made.bike), written(made.unit), written(made.unit if twice else other.unit)


def _draft(rng: random.Random) -> Draft:
    """Return a bike with a small frame, two places or three, and nothing on it."""
    bike: Item = {"bike": "Harbour Trail trial", "supply": {"running": "14.0 V"}, "loads": [], "inputs": []}
    made = Draft(rng, bike, {"unit": "trial way"})
    points = POINTS[: rng.randint(4, 6)]
    ties = [(rng.choice(points[:number]), point) for number, point in enumerate(points) if number]
    if made.chance(0.5):
        ties.append((points[0], points[-1]))
    pairs = list({frozenset(pair): pair for pair in ties}.values())
    bike["frame"] = {
        "legs": [{"between": list(pair), "length": made.odd_mm(90, 900)} for pair in pairs],
        "earth": rng.sample(points, rng.randint(1, 2)),
    }
    bike["supply"]["battery"] = {"capacity": "10 Ah", "at": points[0]}
    bike["places"] = [
        {"name": f"place {number + 1}", "front": point, "rear": rng.choice(points)}
        | ({"way_round": "either"} if made.chance(0.25) else {})
        for number, point in enumerate(rng.sample(points, rng.choice([2, 2, 3])))
    ]
    if made.chance(0.3):
        _add_nook(made)
    return made


def _add_nook(made: Draft) -> None:
    """Add a place that few wires lead to."""
    leg = {"between": [made.rng.choice(made.points), "nook"], "length": "60 mm"}
    made.bike["frame"]["legs"].append({**leg, "opening": f"{made.rng.choice([4, 5, 6])} mm"})
    made.bike["places"] = [*made.bike["places"][:2], {"name": "nook", "front": "nook"}]


def _crowd(made: Draft) -> list[str]:
    """Put on loads that belong together or must be told something, most times; give what is told."""
    told: list[str] = []
    if made.chance(0.35):
        for items, words in made.rng.sample(SAFE[:4], made.rng.randint(1, 2)):
            made.bike["loads"] += [{**item, "at": made.rng.choice(made.points)} for item in items]
            told += [word for word in words if word not in told]
    elif made.chance(0.5):
        for side, end, says in SIDES if made.chance(0.3) else SIDES[:2]:
            item = {"name": f"{end} {side}", "part": f"{side} indicator", "at": made.rng.choice(made.points), **says}
            made.bike["loads"].append(item)
    for reason in ("brakes", "stand", "clutch"):
        if made.chance(0.1):
            made.bike[reason] = {"brakes": "one", "stand": "none", "clutch": "automatic"}[reason]
    return told[:-1] if told and made.chance(0.1) else told


def _switches(made: Draft, told: list[str]) -> None:
    """Add a switch for each side of indicators, some that operate one load or two, and what tells these."""
    items = made.bike["inputs"]
    for side in ("left", "right"):
        names = [load["name"] for load in made.bike["loads"] if load.get("part") == f"{side} indicator"]
        if names:
            items.append({"operates": names, "normally": "open"})
    while told:
        items.append({"tells": [told.pop() for _ in range(min(len(told), made.rng.randint(1, 3)))]})
    names = [load["name"] for load in made.bike["loads"] if "indicator" not in load.get("part", "")]
    for _ in range(made.rng.randint(0, 2)):
        items.append({"operates": made.rng.sample(names, min(len(names), made.rng.randint(1, 2)))})
    if made.chance(0.25):
        items.append({"tells": made.rng.choice(["key", "engine turning"])})
    for number, item in enumerate(items):
        at, other = made.rng.sample(made.points, 2)
        item |= {"name": f"switch {number + 1}", "at": [at, other] if made.chance(0.1) else at}
        item["signal"] = made.rng.choice(["earth", "earth", "supply"])
    if made.chance(0.2) and len(items) > 1:
        for item in items[-2:]:
            item |= {"share": "bar", "signal": "earth"}


def _guest(made: Draft) -> None:
    """Feed a load from two others, or by a relay, now and then."""
    loads = [item for item in made.bike["loads"] if "part" not in item or "indicator" in item["part"]]
    if made.chance(0.25) and len(loads) > 1:
        tapped = made.rng.sample(loads, 2)
        lamp: Item = {"name": "tell-tale", "at": made.rng.choice(made.points), "power": "1.2 W", "kind": "led"}
        made.bike["loads"].append({**lamp, "from": [item["name"] for item in tapped]})
    elif made.chance(0.15) and loads:
        item = made.rng.choice(loads)
        if "indicator" not in item.get("part", ""):
            item["fed"] = "relay"
    if made.chance(0.3) and len(loads) > 1:
        for item in loads[:2]:
            if "part" not in item:
                item |= {"share": "pair", "when": ["day", "night"], "mode": "steady"}


def _units(made: Draft, other: Draft) -> bool:
    """Each unit outputs for a bit more than half of the loads, and inputs; tell whether the first is had twice."""
    needing = [item for item in made.bike["loads"] if "from" not in item and item.get("fed") != "fuse"]
    parts = _parted(made, needing)
    for one, mine in zip((made, other), parts, strict=True):
        extra = made.rng.sample(needing, min(len(needing), made.rng.choice([0, 1, 2, 2])))
        outputs = [fittings.output_for(made, item) for item in [*mine, *extra] or needing[:1]]
        one.unit |= {"outputs": [{"name": f"out {n + 1}", **output} for n, output in enumerate(outputs)]}
        one.unit["feed"] = {"face": made.rng.choice(FACES)}
        one.unit["inputs"] = [
            {"name": f"in {n + 1}", "accepts": ["earth", "supply"], "face": made.rng.choice(FACES)}
            for n in range(max(1, len(made.bike["inputs"]) - made.rng.choice([0, 0, 0, 0, 1])))
        ]
    return made.chance(0.15)


def _parted(made: Draft, needing: list[Item]) -> tuple[list[Item], list[Item]]:
    """Part loads into two lots; mostly what must be on one unit is in one lot."""
    crowds: dict[object, list[Item]] = {}
    for item in needing:
        part = item.get("part", "")
        crowds.setdefault(CROWDS.get(part, item["name"]), []).append(item)
    lots: tuple[list[Item], list[Item]] = ([], [])
    for crowd in sorted(crowds.values(), key=len, reverse=True):
        fuller = len(lots[0]) > len(lots[1])
        lots[fuller if made.chance(0.85) else not fuller].extend(crowd)
    return lots if made.chance(0.5) else (lots[1], lots[0])


def _limits(made: Draft, other: Draft) -> None:
    """Let each unit carry a part of what all draw, or all; squeeze wires, openings and voltages now and then."""
    worst = worst_case_a(made)
    for one in (made, other):
        limit = max(made.rng.choice([2, 8, 8, 8]), worst * made.rng.choice([0.6, 0.8, 1, 1.3]))
        one.unit["feed"]["limit"] = tidy(limit)
        if made.chance(0.75):
            one.unit["feed"]["fuse_max"] = ample(limit * made.rng.choice([1, 1, 0.6]))
        if made.chance(0.3):
            one.unit["feed"]["wire_max"] = made.rng.choice(["1 mm2", "2.5 mm2", "4 mm2", "4 mm2"])
        if made.chance(0.2):
            one.unit["banks"] = {"A": tidy(max(1.0, worst * made.rng.uniform(0.3, 0.9)))}
            for output in one.unit["outputs"][:2]:
                output["bank"] = "A"
        if made.chance(0.15):
            one.unit["outputs"][0]["follow"] = "in 1"
    _squeeze(made)
    if made.chance(0.2):
        _crank(made, other)


def _squeeze(made: Draft) -> None:
    """Let openings, drops, what is charged, or the reels bear on wires and fuses now and then."""
    if made.chance(0.35):
        for leg in made.rng.sample(made.bike["frame"]["legs"], made.rng.randint(1, 2)):
            leg["opening"] = f"{made.rng.choice([8, 10, 11, 12, 14])} mm"
    if made.chance(0.2):
        made.bike["limits"] = {"drop": {"other": made.rng.choice(["260 mV", "320 mV", "420 mV"])}}
    if made.chance(0.1):
        made.bike["supply"]["charging"] = {"idle": "40 W", "cruise": "90 W", "joins": "unit", "fuse": "30 A"}
    if made.chance(0.2):
        made.bike["reels"] = made.rng.choice([["0.5 mm2", "1 mm2", "2.5 mm2"], ["0.75 mm2", "4 mm2"]])


def _crank(made: Draft, other: Draft) -> None:
    load = next(item for item in made.bike["loads"] if "from" not in item)
    load["when"] = ["key on", "cranking", "day", "night"]
    load["lowest"] = made.rng.choice(["8.7 V", "8.8 V", "8.9 V"])
    made.rng.choice([made, other]).unit["feed"]["lowest"] = made.rng.choice(["8.8 V", "8.85 V", "8.9 V"])


def _later(made: Draft) -> None:
    made.bike["later"] = []
    if made.chance(0.3):
        choice: list[Item] = [
            {"name": "fog lamps", "power": "23 W", "kind": "led", "when": ["night"]},
            {"name": "heated grips", "power": "36 W", "kind": "heater", "mode": "dim"},
            {"name": "socket", "current": "3 A"},
        ]
        made.bike["later"] = made.rng.sample(choice, made.rng.randint(1, 2))
    if made.chance(0.5):
        made.bike["weights"] = {
            "ampere": f"{made.rng.randint(0, 90)} mm",
            "ability": f"{made.rng.randint(0, 190)} mm",
            "later": f"{made.rng.randint(200, 2900)} mm",
        }

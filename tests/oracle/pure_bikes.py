"""Random crowds of few loads on few outputs, in which nothing but ports, modes, kinds, bans and sums can decide."""

import random

from .drafts import Item, tidy, written

LEGS = [{"between": ["tray", "neck"], "length": "150 mm"}]
CURRENTS_A = (0.9, 1.1, 1.8, 2.7, 3.5, 4.3)
TRIPS = [tidy(half / 2) for half in range(2, 41)]
SHARES = (0.45, 0.7, 0.9, 1.2)


def pure_case(seed: int) -> tuple[str, str]:
    """Take a seed; give the YAML texts of a bike of three to five loads and of a unit."""
    rng = random.Random(f"pure {seed}")
    loads = [_load(rng, number) for number in range(rng.randint(3, 5))]
    if rng.random() < 0.6:
        _group(rng, loads)
    bike = {
        "bike": "Harbour Trail trial",
        "supply": {"running": "14.0 V", "battery": {"capacity": "10 Ah", "at": "tray"}},
        "frame": {"legs": LEGS, "earth": ["tray"]},
        "places": [{"name": "under seat", "front": "tray"}],
        "loads": loads,
        "later": [],
        "inputs": [],
    }
    return written(bike), written(_unit(rng, loads))


def _load(rng: random.Random, number: int) -> Item:
    mode = rng.choice(["steady", "steady", "hold", "dim", ["hold", "dim"]])
    kind = rng.choice(["heater", "heater", "electronics", "horn"])
    current = f"{rng.choice(CURRENTS_A)} A"
    return {"name": f"load {number + 1}", "at": "neck", "when": ["day"], "current": current, "kind": kind, "mode": mode}


def _group(rng: random.Random, loads: list[Item]) -> None:
    """Let two loads or three name one group; most of them may not share."""
    group = rng.sample(loads, rng.randint(2, min(3, len(loads) - 1)))
    for item in group:
        item |= {"share": "group", "mode": group[0]["mode"]}
    match rng.randint(0, 3):
        case 0:
            group[0]["except"] = ["night"]
        case 1:
            group[0]["part"], group[1]["part"] = "dipped beam", "main beam"
        case 2:
            group[0]["mode"] = "steady"


def _unit(rng: random.Random, loads: list[Item]) -> Item:
    total = sum(float(item["current"].removesuffix(" A")) for item in loads)
    banks = rng.choice([[], ["A"], ["A", "B"]])
    outputs: list[Item] = []
    for _ in range(rng.randint(1, 3)):
        words = rng.choice([["steady"], ["hold", "steady"], ["hold"]])
        kind: Item = {"limit": "20 A", "peak": "120 A", "trip": TRIPS, "switch_modes": words}
        kind |= {"pwm": rng.random() < 0.6, "inductive": rng.random() < 0.7}
        if banks:
            kind["bank"] = rng.choice(banks)
        outputs += [dict(kind) for _ in range(rng.randint(1, 2))]
    return {
        "unit": "trial way",
        "feed": {"limit": tidy(max(2.5, total * rng.choice(SHARES))), "fuse_max": "80 A"},
        "banks": {name: tidy(total * rng.choice(SHARES) / len(banks)) for name in banks},
        "outputs": [{"name": f"out {number + 1}", **output} for number, output in enumerate(outputs)],
        "inputs": [],
    }

"""Random bikes in which safety links, or what an output takes with the key off, decide."""

from . import fittings
from .drafts import Draft, Item, tidy

LEFT = {"kind": "led", "power": "2 W", "when": ["indicating left", "hazard"], "mode": "flash", "share": "left side"}
# Loads that come together, and what must be told for them.
SAFE: tuple[tuple[tuple[Item, ...], tuple[str, ...]], ...] = (
    (
        (
            {"name": "solenoid", "part": "starter solenoid", "current": "2.1 A", "kind": "relay coil", "mode": "start"}
            | {"when": ["cranking"]},
        ),
        ("neutral", "clutch", "side stand"),
    ),
    (
        ({"name": "spark", "part": "ignition", "current": "3 A", "kind": "ignition coil"},),
        ("engine stop", "neutral", "side stand"),
    ),
    (
        ({"name": "fuel pump", "part": "fuel pump", "current": "3.5 A", "kind": "motor", "when": ["cranking", "day"]},),
        ("engine stop", "neutral", "side stand"),
    ),
    (
        ({"name": "brake lamp", "part": "brake lamp", "lamp": "P21W", "when": ["braking"]},),
        ("front brake", "rear brake"),
    ),
    (
        (
            {"name": "front left", "part": "left indicator", **LEFT},
            {"name": "rear left", "part": "left indicator", **LEFT},
        ),
        (),
    ),
)


def safety(made: Draft) -> None:
    """Put on what needs switches on the unit; now and then a switch is missing, or a rule set aside."""
    chosen = made.rng.sample(SAFE, made.rng.randint(2, 3))
    for items, _ in chosen:
        made.bike["loads"] += [{**item, "at": made.rng.choice(made.points)} for item in items]
    if len(made.bike["loads"]) < 4:
        fittings.add_loads(made, 1)
    fittings.add_outputs(made, made.rng.randint(0, 2))
    told = sorted({word for _, words in chosen for word in words})
    told = _without(made, told) if made.chance(0.15) else told
    _tell(made, told)
    _pair(made)
    made.bike["later"] = []
    _ports(made)


def _without(made: Draft, told: list[str]) -> list[str]:
    """Leave one thing untold; give a reason why that may be, or none."""
    if not told:
        return told
    missing = made.rng.choice(told)
    reasons: dict[str, Item] = {
        "clutch": {"clutch": "automatic"},
        "side stand": {"stand": "none"},
        "neutral": {"set_aside": {"start": "agreed", "run": "agreed"}},
        "front brake": {"brakes": "one"},
        "rear brake": {"brakes": "one"},
    }
    if made.chance(0.3):
        made.bike["set_aside"] = {made.rng.choice(["start", "run"]): "agreed"}
    elif made.chance(0.75):
        made.bike |= reasons.get(missing, {})
    return [word for word in told if word != missing]


def _tell(made: Draft, told: list[str]) -> None:
    """Add switches that tell these, up to three things each."""
    left, names = list(told), [item["name"] for item in made.bike["loads"]]
    made.rng.shuffle(left)
    while left:
        some = [left.pop() for _ in range(min(len(left), made.rng.randint(1, 3)))]
        item: Item = {"name": f"switch {len(made.bike['inputs']) + 1}", "at": made.rng.choice(made.points)}
        made.bike["inputs"].append(item | {"signal": made.rng.choice(["earth", "supply"]), "tells": some})
    if made.chance(0.5):
        item = {"name": "button", "at": made.rng.choice(made.points), "signal": "earth"}
        made.bike["inputs"].append(item | {"operates": [made.rng.choice(names)]})


def _pair(made: Draft) -> None:
    """Operate indicators by one switch, or break up the pair."""
    pair = [item for item in made.bike["loads"] if item.get("part") == "left indicator"]
    if not pair:
        return
    button: Item = {"name": "left button", "at": made.rng.choice(made.points), "signal": "earth"}
    names = [item["name"] for item in pair]
    if made.chance(0.2):
        match made.rng.randint(0, 2):
            case 0:
                names.pop()
            case 1:
                made.rng.choice(pair)["mode"] = "steady"
            case _:
                made.bike["loads"].remove(pair[1])
                names.remove(pair[1]["name"])
                made.bike["inputs"] = [
                    {**item, "operates": names} if pair[1]["name"] in item.get("operates", []) else item
                    for item in made.bike["inputs"]
                ]
        if made.chance(0.5):
            made.bike.setdefault("set_aside", {})["indicator-pair"] = "agreed"
    made.bike["inputs"].append({**button, "operates": names})


def _ports(made: Draft) -> None:
    """Return the unit inputs, as many as needed or one more, at both faces."""
    asked = [item["signal"] for item in made.bike["inputs"]] + ["earth"] * made.rng.randint(0, 1)
    made.rng.shuffle(asked)
    made.unit["inputs"] = [
        {"name": f"in {n + 1}", "accepts": sorted({signal, made.rng.choice(["earth", "supply"])})}
        | {"face": made.rng.choice(["front", "rear"])}
        for n, signal in enumerate(asked)
    ]


KEY_OFF: tuple[Item, ...] = (
    {"name": "clock", "current": "60 mA", "when": ["asleep", "parked", "key on", "day", "night"]},
    {"name": "siren", "current": "2.2 A", "kind": "horn", "when": ["asleep"]},
    {"name": "parking lamp", "lamp": "W5W", "when": ["parked", "night"]},
    {"name": "left lamp", "power": "21 W", "kind": "filament", "when": ["indicating left", "hazard"], "mode": "flash"},
    {"name": "cooling fan", "part": "fan", "current": "3.3 A", "kind": "motor", "when": ["fan running"]},
    {"name": "water pump", "current": "1.9 A", "kind": "motor", "when": ["run-on", "day", "night"]},
    {"name": "air pump", "current": "2.8 A", "kind": "motor"},
    {"name": "seat warmer", "power": "25 W", "kind": "heater", "run_on": "3 min"},
    {"name": "valve", "current": "900 mA", "kind": "relay coil", "when": ["day", "night"]},
    {"name": "screen", "current": "700 mA", "except": ["night"]},
)


def keyoff(made: Draft) -> None:
    """Let some outputs be live with the key off, some take coils; some loads have suppressors."""
    made.bike["events"] = {"hazard": {"in": made.rng.choice([["parked", "day", "night"], ["day", "night"]])}}
    for pattern in made.rng.sample(KEY_OFF, made.rng.randint(3, 5)):
        item: Item = {**pattern, "at": made.rng.choice(made.points)}
        if made.chance(0.3):
            item["suppressed"] = True
        made.bike["loads"].append(item)
    fittings.add_outputs(made, made.rng.randint(1, 3))
    for output in made.unit["outputs"]:
        output["inductive"] = made.rng.choice([True, True, False])
        output["key_off"] = made.rng.choice(["never", "timed", "always", "always", "always"])
        output["trip"] = [tidy(float(output["limit"].split()[0]) * part) for part in (0.2, 0.4, 0.6, 1)]
        for word in ("inductive", "key_off"):
            if made.chance(0.15):
                del output[word]
    if made.chance(0.2):
        made.rng.choice(made.bike["loads"])["fed"] = "relay"
    if made.chance(0.25):
        lamp: Item = {"name": "tell-tale", "at": made.rng.choice(made.points), "power": "1.2 W", "kind": "led"}
        names = [item["name"] for item in made.bike["loads"] if "fed" not in item]
        made.bike["loads"].append({**lamp, "from": made.rng.sample(names, 2)})
    fittings.add_inputs(made, made.rng.randint(1, 3), made.rng.randint(0, 1))
    made.bike["later"] = made.rng.choice([[], [], [{**made.rng.choice(KEY_OFF), "name": "one day"}]])
    if made.chance(0.12):
        made.bike["set_aside"] = {made.rng.choice(["key-off", "inductive"]): "agreed"}

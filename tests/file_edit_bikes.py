"""Small random bikes that do not fit their unit: three to six loads, one to four outputs, few inputs.

Made up; no real machine. A seed is a number, and each bike has a generator of its own. Seeds take turns in what the
bike has most of and what the unit has too little of.
"""

from collections.abc import Callable
from random import Random
from typing import Any

from file_edit_sets import Bench, bigger_than, has_plan, is_read, text_of
from file_edit_told import KNOWN

Item = dict[str, Any]
TRIES = 60
LOADS: tuple[tuple[Item, ...], ...] = (
    ({"name": "upper lamp", "at": "neck", "power": "70 W", "kind": "filament"},),
    ({"name": "lower lamp", "at": "neck", "power": "50 W", "kind": "filament"},),
    ({"name": "rear lamp", "at": "tail", "power": "30 W", "kind": "filament"},),
    ({"name": "blower", "at": "tray", "current": "2 A", "kind": "motor"},),
    ({"name": "wiper", "at": "neck", "current": "3 A", "kind": "motor"},),
    ({"name": "tail lamp", "part": "tail lamp", "at": "tail", "lamp": "P21/5W tail"},),
    ({"name": "position lamp", "part": "position lamp", "at": "neck", "lamp": "W5W"},),
    ({"name": "dipped beam", "part": "dipped beam", "at": "neck", "lamp": "H4 dipped"},),
    ({"name": "brake lamp", "part": "brake lamp", "at": "tail", "lamp": "P21/5W brake"},),
    ({"name": "horn", "part": "horn", "at": "neck", "current": "3 A"},),
    ({"name": "fan", "part": "fan", "at": "engine", "current": "4 A"},),
    ({"name": "left spot", "part": "spot lamp", "at": "neck", "power": "35 W", "kind": "filament", "when": ["day"]},
     {"name": "right spot", "part": "spot lamp", "at": "neck", "power": "35 W", "kind": "filament", "when": ["day"]}),
    ({"name": "grips", "part": "heated grips", "at": "bar", "power": "36 W"},),
    ({"name": "seat", "part": "heated seat", "at": "tray", "power": "30 W"},),
    ({"name": "socket", "part": "socket", "at": "bar", "current": "2 A"},),
    ({"name": "alarm", "part": "alarm", "at": "tray", "current": "0.05 A"},),
    ({"name": "camera", "at": "neck", "current": "0.6 A"},),
    ({"name": "map lamp", "at": "bar", "power": "12 W", "kind": "filament", "when": ["night"]},),
    ({"name": "winch", "at": "tail", "current": "5 A", "kind": "motor", "when": ["day"]},),
)  # fmt: skip
MAY_DIM = ("upper lamp", "rear lamp", "map lamp", "grips", "seat", "left spot", "position lamp")
MAY_BE_FED = ("blower", "upper lamp", "fan", "winch", "camera", "socket", "map lamp", "alarm", "seat")
WORKED = ("fan", "left spot", "right spot", "grips", "seat", "map lamp", "winch", "camera")
"""Those that a switch may work; the brake lamp's and the horn's switch are always there."""


FAMILIES: tuple[tuple[tuple[str, ...], tuple[str, ...]], ...] = (
    (("upper lamp", "lower lamp", "camera"), ("outputs", "tight")),
    (("blower", "wiper", "camera"), ("outputs", "inductive")),
    (("camera", "rear lamp", "guest"), ("tight", "peak")),
    (("alarm", "blower", "camera", "fed"), ("outputs", "key off")),
    (("socket", "fed", "camera", "openings"), ("outputs",)),
    (("grips", "seat", "map lamp", "switches"), ("inputs",)),
    (("camera", "map lamp", "fan", "switches", "alike"), ("inputs",)),
    (("upper lamp", "socket", "camera", "rear lamp", "friends"), ("outputs", "feed limit")),
    (("upper lamp", "map lamp", "rear lamp", "dim"), ("dimming", "outputs")),
    ((), ("outputs", "bank", "modes", "openings")),
)
"""What a bike has for sure, and what its unit may have too little of."""


def random_bench(seed: int) -> Bench:
    """Return the first bike of a seed that does not fit its unit."""
    has, short = FAMILIES[seed % len(FAMILIES)]
    for number in range(TRIES):
        bike, unit = map(text_of, _drawn(Random(seed * TRIES + number), has, short))
        if not has_plan(bike, unit):
            return Bench(bike, unit, bigger_than(unit, KNOWN))
    raise LookupError(f"every bike of seed {seed} fits")


HELD: tuple[tuple[tuple[str, ...], tuple[str, ...]], ...] = (
    (("pins",), ()),
    (("alike",), ("tight",)),
    (("pins", "alike"), ("modes",)),
    (("pins", "dead", "grips", "switches"), ("inputs",)),
    (("pins", "alike", "dead", "friends"), ("outputs",)),
)
"""The same of bikes with what the builder has decided: pins, loads on outputs alike, dead ports."""


def held_bench(seed: int) -> Bench:
    """Return the first bike of a seed that does not fit its unit, and has something decided that a file may say."""
    has, short = HELD[seed % len(HELD)]
    for number in range(TRIES):
        rng = Random(f"held {seed} {number}")
        bike, unit = _drawn(rng, (*has, "switches"), short)
        _decide(rng, bike, unit, has)
        texts = text_of(bike), text_of(unit)
        if is_read(*texts) and not has_plan(*texts):
            return Bench(*texts, bigger_than(texts[1], KNOWN))
    raise LookupError(f"every bike of seed {seed} fits")


def _decide(rng: Random, bike: Item, unit: Item, has: tuple[str, ...]) -> None:
    """Hold two to four loads and switches to a port or off it, make loads alike, put a port out of use."""
    outputs, inputs = ([port["name"] for port in unit[key]] for key in ("outputs", "inputs"))
    loads = [load for load in bike["loads"] if not {"fed", "from"} & set(load)]
    if "pins" in has:
        held = [(load, outputs) for load in loads] + [(switch, inputs) for switch in bike["inputs"]]
        for thing, ports in rng.sample(held, min(len(held), rng.randint(2, 4))):
            thing[rng.choice(["on", "on", "not_on"])] = rng.choice(ports)
    if "alike" in has and len(loads) > 1:
        names = [load["name"] for load in rng.sample(loads, min(len(loads), rng.choice([2, 2, 3])))]
        bike["alike"] = [names]
    if "dead" in has and len(outputs) > 1:
        bike["out_of_use"] = {rng.choice([*outputs, *inputs]): "burnt"}


def _drawn(rng: Random, has: tuple[str, ...], short: tuple[str, ...]) -> tuple[Item, Item]:
    """Return a bike and its unit."""
    loads = _loads(rng, has)
    bike: Item = {
        "bike": "Trial",
        "supply": {"running": "14 V", "battery": {"capacity": "10 Ah", "at": "tray"}},
        "frame": {
            "legs": _legs(rng, 0.9 if "openings" in has + short else 0.15),
            "earth": ["tray", *rng.choice([[], ["engine"]])],
        },
        "places": rng.choice([
            [{"name": "on the tray", "front": "tray"}],
            [{"name": "under the seat", "front": "tray", "rear": "tail", "way_round": "either"}],
            [{"name": "behind the neck", "front": "neck"}],
        ]),
        "loads": loads,
        "inputs": _inputs(rng, loads, has),
        "later": [],
        "ignition": "own",
        "stand": "none",
    }  # fmt: skip
    for name, often, dress in DRESS:
        if rng.random() < (0.9 if name in has else often):
            dress(rng, bike)
    return bike, _unit(rng, bike, {*short} if not short or rng.random() < 0.7 else {rng.choice(short)})


def _loads(rng: Random, has: tuple[str, ...]) -> list[Item]:
    most = rng.randint(3, 5)
    pool = sorted(rng.sample(LOADS, len(LOADS)), key=lambda several: several[0]["name"] not in has)
    loads: list[Item] = []
    for several in pool:
        if len(loads) + len(several) <= most:
            loads += [dict(load) for load in several]
    for load in loads:
        if load["name"] in MAY_DIM and rng.random() < (0.5 if "dim" in has else 0.15):
            load["mode"] = "dim"
        if load["name"] not in ("brake lamp", "alarm") and rng.random() < (0.4 if "fed" in has else 0.1):
            load["own_switch"] = rng.choice(["bar", load["at"]])
        if load["name"] in MAY_BE_FED and rng.random() < (0.5 if "fed" in has else 0.1):
            load["fed"] = "fuse" if "own_switch" in load and rng.random() < 0.5 else "relay"
    return loads


def _legs(rng: Random, narrow: float) -> list[Item]:
    legs: list[Item] = [
        {"between": ["tray", "neck"], "length": "600 mm"},
        {"between": ["tray", "tail"], "length": "400 mm"},
        {"between": ["tray", "engine"], "length": "300 mm"},
        {"between": ["neck", "bar"], "length": "350 mm", "moves": "true"},
    ]
    if rng.random() < 0.5:
        legs.append({"between": ["neck", "engine"], "length": "700 mm"})
    for number in range(2):
        if rng.random() < narrow:
            width = rng.choice([4, 5, 6, 7, 9])
            legs[number]["opening"] = f"{width} mm"
            if rng.random() < 0.5:
                legs[number] |= {"opens_to": f"{width + rng.choice([2, 6])} mm", "opens": "grommet"}
    return legs


def _inputs(rng: Random, loads: list[Item], has: tuple[str, ...]) -> list[Item]:
    names = [load["name"] for load in loads if "own_switch" not in load]
    inputs: list[Item] = [{"name": "key", "part": "key switch", "at": "tray"}] if rng.random() < 0.5 else []
    if "brake lamp" in names:
        inputs.append({"name": "front brake", "part": "front brake switch", "at": "bar"})
        inputs.append({"name": "rear brake", "part": "rear brake switch", "at": "engine"})
    if "horn" in names:
        inputs.append({"name": "horn button", "part": "horn button", "at": "bar"})
    worked = [name for name in names if name in WORKED and rng.random() < 0.7]
    for first, second in zip(worked, [*worked[1:], *worked[:1]], strict=True):
        operates = (
            [first, second] if second != first and rng.random() < (0.5 if "switches" in has else 0.15) else [first]
        )
        inputs.append({"name": f"switch of {first}", "at": "bar", "signal": "earth", "action": "latch",
                       "operates": operates})  # fmt: skip
        if "alike" in has:
            inputs[-1]["share"] = "alike"
    if not inputs:
        inputs = [{"name": "key", "part": "key switch", "at": "tray"}]
    return inputs


# --- what only some bikes have


def _guest(rng: Random, bike: Item) -> None:
    feeders = [load["name"] for load in bike["loads"] if not {"fed", "from"} & set(load)]
    kind = rng.choice([{"kind": "led", "power": "1 W"}, {"kind": "filament", "power": rng.choice(["6 W", "35 W"])}])
    if feeders:
        fed_by = rng.sample(feeders, min(len(feeders), rng.choice([1, 2])))
        bike["loads"].append({"name": "guest lamp", "at": "neck", **kind, "from": fed_by})


def _dash(rng: Random, bike: Item) -> None:
    shows = [rng.choice(bike["inputs"])["name"]]
    bike["loads"].append({"name": "dash", "part": "dash", "at": "neck", "current": "0.3 A", "shows": shows})


def _gatherer(rng: Random, bike: Item) -> None:
    bike["multiplexers"] = [
        {"name": "old gatherer", "at": [rng.choice(["neck", "bar"])], "ways": "2", "takes": ["earth"]}
    ]


def _friends(rng: Random, bike: Item) -> None:
    """Write one group at two loads, or none at one that has one by its part."""
    loads = [load for load in bike["loads"] if not {"fed", "from"} & set(load)]
    for load in rng.sample(loads, min(len(loads), 2)):
        load["share"] = "old friends"
    if loads and rng.random() < 0.3:
        rng.choice(loads)["share"] = "none"


DRESS: tuple[tuple[str, float, Callable[[Random, Item], None]], ...] = (
    ("guest", 0.1, _guest),
    ("dash", 0.1, _dash),
    ("gatherer", 0.1, _gatherer),
    ("friends", 0.15, _friends),
)


def _unit(rng: Random, bike: Item, short: set[str]) -> Item:
    """Return a unit that is nearly right: of some things it has too little."""
    needing = [load for load in bike["loads"] if not {"fed", "from"} & set(load)]
    count = min(4, max(1, len(needing) - (rng.choice([1, 1, 1, 2]) if "outputs" in short else 0)))
    outputs = [_output(rng, number, short) for number in range(1, count + 1)]
    ports = max(1, len(bike["inputs"]) - (rng.choice([1, 2]) if "inputs" in short else 0))
    feed = rng.choice([6, 8, 12]) if "feed limit" in short else 30
    unit: Item = {
        "unit": "trial way",
        "feed": {"limit": f"{feed} A", "wire_max": "6 mm2", "face": "front"},
        "outputs": outputs,
        "inputs": [
            {"name": f"in {number + 1}", "accepts": rng.choice([["earth"], ["earth", "coded"]])}
            for number in range(ports)
        ],
    }  # fmt: skip
    if "bank" in short:
        unit["banks"] = {"A": f"{rng.choice([4, 5, 8])} A"}
        for output in outputs[:3]:
            output["bank"] = "A"
    return unit


def _output(rng: Random, number: int, short: set[str]) -> Item:
    limit = rng.choice([5, 7, 7, 8] if "tight" in short else [5, 8, 10, 13])
    return {
        "name": f"out {number}",
        "limit": f"{limit} A",
        "peak": f"{limit * (rng.choice([3, 5, 7]) if 'peak' in short else 12)} A",
        "peak_for": "600 ms",
        "trip": [f"{limit / 4:g} A", f"{limit / 2:g} A", f"{limit} A"],
        "face": rng.choice(["front", "front", "rear"]),
        "switch_modes": ["steady"] if "modes" in short and rng.random() < 0.5 else ["steady", "hold"],
        "pwm": "true" if rng.random() < (0.2 if "dimming" in short else 0.8) else "false",
        "wire_max": "2.5 mm2",
        "inductive": "true" if rng.random() < (0.1 if "inductive" in short else 0.9) else "false",
        "key_off": "always" if rng.random() < (0.1 if "key off" in short else 0.95) else "never",
    }

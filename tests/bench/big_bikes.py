"""Large random bikes and units, up to 120 loads, 96 outputs and six places. From a seed, always the same.

All names are invented; no load has a part, so that only current, wire, mode and room decide.
"""

import random
from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass

from portloom.base.bike import Bike
from portloom.base.unit import Unit

from .big_units import Entry, big_unit

IN_A_GROUP = 4


@dataclass(frozen=True)
class Size:
    """How much there is of everything on a bike, and of each kind of port on its unit."""

    unit: str
    groups: int
    """Of four loads each, which may share."""
    alone: int
    operated: int
    """Loads that may not share and have a switch of their own."""
    points: int
    chords: int
    places: int
    outputs: tuple[int, ...]
    inputs: tuple[int, ...]
    thrift: int = 1
    """Each load draws so many times less."""


LITTLE = Size("thirteen-way", 1, 8, 2, 9, 1, 2, (1,) * 13, (3, 2, 1, 1, 1, 1))
SMALL = Size("sixteen-way", 4, 8, 4, 14, 3, 4, (2, 1, 1, 1, 1, 1, 1, 1, 1, 2, 2, 1, 1), (4, 4, 2, 2, 1, 1))
MIDDLE = Size("thirty-two-way", 5, 20, 8, 18, 4, 4, (3, 3, 3, 3, 3, 3, 2, 2, 2, 2, 2, 3, 1), (6, 5, 4, 4, 1, 1))
LARGE = Size("forty-eight-way", 8, 28, 13, 25, 5, 6, (*(4,) * 11, 3, 1), (9, 8, 5, 5, 1, 1))
HUGE = Size("ninety-six-way", 16, 56, 26, 50, 10, 6, (*(8,) * 11, 6, 2), (18, 16, 10, 10, 2, 2), thrift=2)
THREE_HUNDRED = Size("240-way", 40, 140, 65, 16, 4, 6, (*(20,) * 11, 15, 5), (45, 40, 25, 25, 2, 2), thrift=5)
"""On few points: the live side of switches is one shortest tree, and twenty of them and more are too many for it."""
SIZES = {"24x16x4": SMALL, "40x32x4": MIDDLE, "60x48x6": LARGE}
"""By loads, outputs and places."""
EVERY_SIZE = {"tiny": LITTLE, **SIZES, "120x96x6": HUGE}
REELS = ("0.5", "0.75", "1", "1.5", "2.5", "4", "6", "10", "16")
"""Among so many loaded wires only the thickest carries the feed's fuse."""
MODES = ("steady",) * 12 + ("dim",) * 3 + ("flash",) * 2 + ("hold",) * 2 + ("engine-run",)
WHEN: tuple[Entry, ...] = (
    *({},) * 3,
    *({"when": ["day", "night"]},) * 3,
    {"when": ["day"]},
    {"when": ["night"]},
    {"when": ["night"], "except": ["main beam"]},
    {"when": ["main beam"]},
    {"when": ["indicating left", "hazard"]},
    {"when": ["indicating right", "hazard"]},
    {"when": ["braking"]},
    {"when": ["horn"]},
    {"when": ["day", "night"], "except": ["rain"]},
    {"when": ["rain"]},
)
TAKES_DIMMING: tuple[Entry, ...] = ({"kind": "heater"}, {"kind": "filament"}, {"kind": "led", "dims": "true"})
ANY_KIND: tuple[Entry, ...] = (
    *TAKES_DIMMING,
    {"kind": "electronics"},
    {"kind": "led"},
    {"kind": "motor", "suppressed": "true"},
)


def big_bike(seed: int, size: Size = LARGE) -> tuple[Entry, Entry]:
    """Take a seed and a size; give a bike and a unit as in their files, without banks' limits and openings."""
    dice = random.Random(seed)
    points = [f"point {number}" for number in range(1, size.points + 1)]
    loads = list(_loads(dice, points, size))
    legs = list(_legs(dice, points, size.chords))
    bike = {
        "bike": f"big bike {seed}",
        "supply": {"running": "14.0 V", "battery": {"capacity": "20 Ah", "at": "point 1"}},
        "frame": {"legs": legs, "earth": dice.sample(points, 3), "connectors": [points[2]]},
        "places": list(_places(dice, points, size.places)),
        "loads": loads,
        "inputs": list(_switches(dice, points, loads, size)),
        "events": {"rain": {"in": ["day", "night"]}},
        "limits": {"drop": {"other": "1.4 V"}},
        "reels": [f"{reel} mm2" for reel in REELS],
    }
    return bike, big_unit(dice, size.unit, size.outputs, size.inputs)


def typed(bike: Entry, unit: Entry) -> tuple[Bike, Unit]:
    """Read a bike and a unit as the typed models."""
    return Bike.model_validate(bike), Unit.model_validate(unit)


def _legs(dice: random.Random, points: Sequence[str], chords: int) -> Iterator[Entry]:
    """A tree, thin and long like a frame, and a few legs that close rings."""
    for number in range(1, len(points)):
        near = points[max(0, number - dice.randint(1, 4))]
        yield {"between": [near, points[number]], "length": f"{dice.randint(80, 600)} mm"}
    for number in range(chords):
        ends = dice.sample(points, 2)
        yield {"between": ends, "length": f"{dice.randint(300, 900)} mm", "name": f"chord {number + 1}"}


def _places(dice: random.Random, points: Sequence[str], places: int) -> Iterator[Entry]:
    for number in range(1, places + 1):
        front, rear = dice.sample(points, 2)
        yield {"name": f"place {number}", "front": front, "rear": rear}


def _loads(dice: random.Random, points: Sequence[str], size: Size) -> Iterator[Entry]:
    for group in range(1, size.groups + 1):
        common = _common(dice) | {"share": f"group {group}"}
        for member in range(1, IN_A_GROUP + 1):
            yield _load(dice, points, f"load {group}.{member}", common, 800, size.thrift)
    for number in range(1, size.alone + 1):
        yield _load(dice, points, f"load {number}", _common(dice), 2000, size.thrift)


def _common(dice: random.Random) -> Entry:
    return {"mode": dice.choice(MODES), **dice.choice(WHEN)}


def _load(dice: random.Random, points: Sequence[str], name: str, common: Entry, most: int, thrift: int) -> Entry:
    kinds = TAKES_DIMMING if common["mode"] == "dim" else ANY_KIND
    at, current = dice.choice(points), max(100, dice.randint(100, most) // thrift)
    figures = {"name": name, "at": at, "current": f"{current} mA"}
    return figures | common | dice.choice(kinds)


def _switches(dice: random.Random, points: Sequence[str], loads: Sequence[Entry], size: Size) -> Iterator[Entry]:
    """One switch for each group, one for some loads alone, two that say the same, and what the engine tells."""
    names = [f"group {number}" for number in range(1, size.groups + 1)]
    grouped = [[load["name"] for load in loads if load.get("share") == name] for name in names]
    alone = [[load["name"]] for load in loads if "share" not in load]
    worked = [*grouped, *dice.sample(alone, size.operated)]
    for number, operates in enumerate(worked, 1):
        yield _switch(dice, points, f"switch {number}", operates)
    for number in (1, 2):
        yield _switch(dice, points, f"twin {number}", alone[0]) | {"share": "twins", "signal": "earth"}
    yield {"name": "crank sensor", "at": points[4], "signal": "pulse", "tells": "engine turning"}
    yield {"name": "tank sender", "at": points[8], "signal": "sender", "operates": alone[1]}


def _switch(dice: random.Random, points: Sequence[str], name: str, operates: Iterable[str]) -> Entry:
    signal = dice.choice(("earth", "earth", "earth", "supply"))
    return {"name": name, "at": dice.choice(points), "signal": signal, "operates": list(operates)}

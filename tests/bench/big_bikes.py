"""Large random bikes and units: 60 loads, 48 outputs, 25 switches, six places. From a seed, always the same.

All names are invented; no load has a part, so that only current, wire, mode and room decide.
"""

import random
from collections.abc import Iterable, Iterator, Sequence
from typing import Any

from solver.words.bike import Bike
from solver.words.unit import Unit

Entry = dict[str, Any]
GROUPS, IN_A_GROUP, ALONE = 8, 4, 28
POINTS, CHORDS, PLACES = 25, 5, 6
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


def big_bike(seed: int) -> tuple[Entry, Entry]:
    """Take a seed; give a bike and a unit as their files would say them, without banks' limits and openings."""
    dice = random.Random(seed)
    points = [f"point {number}" for number in range(1, POINTS + 1)]
    loads = list(_loads(dice, points))
    bike = {
        "bike": f"big bike {seed}",
        "supply": {"running": "14.0 V", "battery": {"capacity": "20 Ah", "at": "point 1"}},
        "frame": {"legs": list(_legs(dice, points)), "earth": dice.sample(points, 3), "connectors": [points[2]]},
        "places": list(_places(dice, points)),
        "loads": loads,
        "inputs": list(_switches(dice, points, loads)),
        "events": {"rain": {"in": ["day", "night"]}},
        "limits": {"drop": {"other": "1.4 V"}},
        "reels": [f"{size} mm2" for size in REELS],
    }
    return bike, _unit(dice)


def typed(bike: Entry, unit: Entry) -> tuple[Bike, Unit]:
    """Read a bike and a unit as the typed models."""
    return Bike.model_validate(bike), Unit.model_validate(unit)


def _legs(dice: random.Random, points: Sequence[str]) -> Iterator[Entry]:
    """A tree, thin and long like a frame, and a few legs that close rings."""
    for number in range(1, len(points)):
        near = points[max(0, number - dice.randint(1, 4))]
        yield {"between": [near, points[number]], "length": f"{dice.randint(80, 600)} mm"}
    for number in range(CHORDS):
        ends = dice.sample(points, 2)
        yield {"between": ends, "length": f"{dice.randint(300, 900)} mm", "name": f"chord {number + 1}"}


def _places(dice: random.Random, points: Sequence[str]) -> Iterator[Entry]:
    for number in range(1, PLACES + 1):
        front, rear = dice.sample(points, 2)
        yield {"name": f"place {number}", "front": front, "rear": rear}


def _loads(dice: random.Random, points: Sequence[str]) -> Iterator[Entry]:
    for group in range(1, GROUPS + 1):
        common = _common(dice) | {"share": f"group {group}"}
        for member in range(1, IN_A_GROUP + 1):
            yield _load(dice, points, f"load {group}.{member}", common, most=800)
    for number in range(1, ALONE + 1):
        yield _load(dice, points, f"load {number}", _common(dice), most=2000)


def _common(dice: random.Random) -> Entry:
    return {"mode": dice.choice(MODES), **dice.choice(WHEN)}


def _load(dice: random.Random, points: Sequence[str], name: str, common: Entry, most: int) -> Entry:
    kinds = TAKES_DIMMING if common["mode"] == "dim" else ANY_KIND
    figures = {"name": name, "at": dice.choice(points), "current": f"{dice.randint(100, most)} mA"}
    return figures | common | dice.choice(kinds)


def _switches(dice: random.Random, points: Sequence[str], loads: Sequence[Entry]) -> Iterator[Entry]:
    """One switch for each group, one for some loads alone, two that say the same, and what the engine tells."""
    grouped = [[load["name"] for load in loads if load.get("share") == f"group {g}"] for g in range(1, GROUPS + 1)]
    alone = [[load["name"]] for load in loads if "share" not in load]
    worked = [*grouped, *dice.sample(alone, 13)]
    for number, names in enumerate(worked, 1):
        yield _switch(dice, points, f"switch {number}", names)
    for number in (1, 2):
        yield _switch(dice, points, f"twin {number}", alone[0]) | {"share": "twins", "signal": "earth"}
    yield {"name": "crank sensor", "at": "point 5", "signal": "pulse", "tells": "engine turning"}
    yield {"name": "tank sender", "at": "point 9", "signal": "sender", "operates": alone[1]}


def _switch(dice: random.Random, points: Sequence[str], name: str, operates: Iterable[str]) -> Entry:
    signal = dice.choice(("earth", "earth", "earth", "supply"))
    return {"name": name, "at": dice.choice(points), "signal": signal, "operates": list(operates)}


OUTPUTS: tuple[tuple[int, str, str, bool, list[str]], ...] = (
    (4, "15 A", "4 mm2", False, ["steady"]),
    (4, "13 A", "2.5 mm2", False, ["steady", "engine-run"]),
    (4, "10 A", "2.5 mm2", True, ["steady", "hold"]),
    (4, "10 A", "2.5 mm2", False, ["steady", "toggle"]),
    (4, "8 A", "2.5 mm2", False, ["steady", "hold", "flash"]),
    (4, "8 A", "2.5 mm2", True, ["steady", "toggle"]),
    (4, "8 A", "1.5 mm2", False, ["steady", "engine-run", "timed"]),
    (4, "6 A", "2.5 mm2", True, ["steady", "flash"]),
    (4, "6 A", "1.5 mm2", False, ["steady"]),
    (4, "4 A", "1.5 mm2", False, ["steady", "flash", "hold"]),
    (4, "4 A", "1.5 mm2", False, ["steady"]),
    (3, "4 A", "1 mm2", True, ["steady"]),
    (1, "6 A", "1.5 mm2", False, ["steady", "hold"]),
)
"""How many, limit, terminal, dims or not, switch modes; the last one does what the switch on in 1 says."""
TRIPS = {"15 A": ["5 A", "10 A", "15 A"], "13 A": ["4 A", "8 A", "13 A"], "10 A": ["3 A", "6 A", "10 A"]}
TRIPS |= {"8 A": ["2 A", "5 A", "8 A"], "6 A": ["2 A", "4 A", "6 A"], "4 A": ["1 A", "2 A", "4 A"]}
INPUTS: tuple[tuple[int, list[str], str], ...] = (
    (9, ["earth"], "front"),
    (8, ["earth"], "rear"),
    (5, ["earth", "supply"], "front"),
    (5, ["earth", "supply"], "rear"),
    (1, ["earth", "pulse"], "front"),
    (1, ["earth", "sender"], "rear"),
)


def _unit(dice: random.Random) -> Entry:
    return {
        "unit": "forty-eight-way",
        "feed": {"limit": "64 A", "wire_max": "16 mm2", "face": "rear"},
        "banks": dict.fromkeys("ABC", "64 A"),
        "outputs": list(_outputs(dice)),
        "inputs": list(_inputs()),
    }


def _outputs(dice: random.Random) -> Iterator[Entry]:
    """Each kind on a face and in a bank by lot."""
    numbers = iter(range(1, 49))
    for count, limit, terminal, dims, modes in OUTPUTS:
        figures: Entry = {"limit": limit, "trip": TRIPS[limit], "peak": "90 A", "peak_for": "300 ms"}
        figures["wire_max"] = terminal
        figures |= {"pwm": dims, "switch_modes": modes, "inductive": True, "face": dice.choice(("front", "rear"))}
        bank = dice.choice(("A", "B", "C", None))
        for _ in range(count):
            more = ({"bank": bank} if bank else {}) | ({"follow": "in 1"} if count == 1 else {})
            yield {"name": f"out {next(numbers)}", **figures, **more}


def _inputs() -> Iterator[Entry]:
    numbers = iter(range(1, 30))
    for count, accepts, face in INPUTS:
        for _ in range(count):
            pulse = {"pulse": {"up_to": "30 V", "rate": "1 kHz"}} if "pulse" in accepts else {}
            yield {"name": f"in {next(numbers)}", "accepts": accepts, "face": face} | pulse

"""Random bikes with dashes that show loads, switches that the unit reads, and sensors that only they read."""

from . import fittings
from .drafts import Draft, Item
from .multiplexed import multiplexed
from .tightening import tighten
from .usual import usual

SENSORS: tuple[Item, ...] = (
    {"signal": "earth"},
    {"signal": "earth"},
    {"signal": "supply"},
    {"signal": "sender"},
    {"signal": "sender", "wires": "1"},
    {"signal": "pulse", "wires": "2"},
    {"signal": "pulse", "wires": "3"},
    {"signal": "earth", "part": "oil pressure switch"},
    {"signal": "earth", "part": "temperature switch"},
    {"signal": "sender", "part": "fuel level sender"},
    {"signal": "pulse", "part": "speed sensor", "wires": "3"},
)


def shown(made: Draft) -> None:
    """Put on one or two dashes; now and then with a multiplexer, openings that just hold, or loads that share."""
    if made.chance(0.3):
        multiplexed(made)
    else:
        usual(made, loads=(2, 4), inputs=(1, 3), spare=2)
    if made.chance(0.3):
        _share(made)
    dashes = [_dash(made, number) for number in range(made.rng.choice([1, 1, 2]))]
    sensors = [_sensor(made, number) for number in range(made.rng.randint(0, 3))]
    if made.chance(0.3):
        _feed(made)
    loads = [item for item in made.bike["loads"] if "from" not in item]
    for dash in dashes:
        dash["shows"] = _lamps(made, loads, sensors)
    made.bike["loads"] += dashes
    made.bike["inputs"] += [item for item in sensors if any(_shows(dash, item["name"]) for dash in dashes)]
    if made.chance(0.35):
        tighten(made)


def _feed(made: Draft) -> None:
    """Let a relay, or a fuse and a switch of its own, feed a load that shares nothing."""
    alone = [item for item in made.bike["loads"] if not {"from", "share"} & set(item)]
    if alone:
        item = made.rng.choice(alone)
        item |= {"fed": "relay"} if made.chance(0.5) else {"fed": "fuse", "own_switch": made.rng.choice(made.points)}


def _share(made: Draft) -> None:
    """Let some loads share, so that a group can be shown."""
    for item in made.bike["loads"]:
        if made.chance(0.6):
            item |= {"share": "lamps", "when": ["day", "night"], "mode": "steady"}


def _dash(made: Draft, number: int) -> Item:
    """Return a dash with an output that drives it."""
    dash: Item = {"name": f"dash {number + 1}", "part": "dash", "current": "400 mA", "at": made.rng.choice(made.points)}
    output = fittings.output_for(made, dash)
    made.unit["outputs"].append({**output, "name": f"out {len(made.unit['outputs']) + 1}"})
    return dash


def _sensor(made: Draft, number: int) -> Item:
    """Return what only a dash reads; some are read at two places."""
    at = made.rng.sample(made.points, 1 if made.chance(0.85) else 2)
    return {"name": f"sensor {number + 1}", "at": at, **made.rng.choice(SENSORS)}


def _shows(dash: Item, name: str) -> bool:
    return any(name in ([lamp] if isinstance(lamp, str) else lamp) for lamp in dash["shows"])


def _lamps(made: Draft, loads: list[Item], sensors: list[Item]) -> list[str | list[str]]:
    """Choose what a dash shows: each by itself, and now and then two that pull the same way on one lamp."""
    groups = sorted({item["share"] for item in loads if "share" in item})
    first = {next(item["name"] for item in loads if item.get("share") == group) for group in groups}
    names = [*groups, *(item["name"] for item in loads if item["name"] not in first)]
    chosen = made.rng.sample(names, made.rng.randint(0, min(2, len(names))))
    read = [*sensors, *made.rng.sample(made.bike["inputs"], made.rng.randint(0, min(2, len(made.bike["inputs"]))))]
    lamps: list[str | list[str]] = [*chosen, *(item["name"] for item in read if made.chance(0.8))]
    pair = [item["name"] for item in read if item["signal"] == "earth" and item["name"] in lamps][:2]
    if len(pair) == 2 and made.chance(0.5):
        lamps = [lamp for lamp in lamps if lamp not in pair] + [pair]
    return lamps or [read[0]["name"] if read else names[0]]

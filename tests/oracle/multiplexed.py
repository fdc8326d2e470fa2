"""Random bikes with multiplexers: some cheaper than a wire each, some needed, some of no use."""

from . import fittings
from .drafts import FACES, Draft, Item
from .riding import SAFE
from .tightening import tighten
from .usual import usual

SIGNALS = ("earth", "earth", "earth", "earth", "supply", "sender")


def multiplexed(made: Draft) -> None:
    """Put switches near each other, far from the unit, with inputs that are too few now and then."""
    usual(made, loads=(2, 4), inputs=(0, 0))
    bar = _far(made)
    told = _told(made)
    for number in range(made.rng.choice([2, 3, 3, 4, 4, 5])):
        made.bike["inputs"].append(_button(made, number, bar))
    for some in (told[:2], told[2:]):
        if some:
            made.bike["inputs"].append({"name": f"guard of {some[0]}", **_wired(made, bar), "tells": some})
    if made.chance(0.2):
        _share(made)
    made.bike["multiplexers"] = [_box(made, number, bar) for number in range(made.rng.choice([1, 1, 2, 2, 3]))]
    _ports(made)
    if made.chance(0.15):
        made.rng.choice(made.unit["outputs"])["follow"] = made.unit["inputs"][0]["name"]
    if made.chance(0.08):
        made.bike["set_aside"] = {made.rng.choice(["multiplexer", "signal"]): "agreed"}
    if made.chance(0.35):
        tighten(made)


def _far(made: Draft) -> str:
    """Choose a point that no face of the unit meets, if there is one."""
    met = {place.get(face) for place in made.bike["places"] for face in FACES}
    return made.rng.choice([point for point in made.points if point not in met] or made.points)


def _told(made: Draft) -> list[str]:
    """Put on a load for which something must be told, most times; give what."""
    if made.chance(0.4):
        return []
    items, words = made.rng.choice(SAFE[:4])
    for item in items:
        made.bike["loads"].append({**item, "at": made.rng.choice(made.points)})
        output = fittings.output_for(made, item)
        made.unit["outputs"].append({"name": f"out {len(made.unit['outputs']) + 1}", **output})
    if made.chance(0.05):
        return list(words[1:])
    return list(words)


def _wired(made: Draft, bar: str) -> Item:
    """Return where a switch is, mostly at the bar, and its signal."""
    at = bar if made.chance(0.9) else made.rng.choice(made.points)
    other = made.rng.choice([point for point in made.points if point != at])
    return {"at": [at, other] if made.chance(0.12) else at, "signal": made.rng.choice(SIGNALS)}


def _button(made: Draft, number: int, bar: str) -> Item:
    item = {"name": f"button {number + 1}", **_wired(made, bar)}
    if made.chance(0.1):
        return item | {"signal": "pulse", "tells": "engine turning", "level": "12 V", "rate": "300 Hz"}
    if item["signal"] == "sender":
        return item | {"tells": "key"}
    names = [load["name"] for load in made.bike["loads"]]
    return item | {"operates": made.rng.sample(names, made.rng.randint(1, 2)), "normally": "open"}


def _share(made: Draft) -> None:
    """Let two buttons share an input."""
    buttons = [item for item in made.bike["inputs"] if "operates" in item][:2]
    for item in buttons:
        item |= {"share": "bar", "operates": buttons[0]["operates"], "signal": buttons[0]["signal"]}


def _box(made: Draft, number: int, bar: str) -> Item:
    """Return a multiplexer that may stand at the bar, most times, and elsewhere."""
    points = made.rng.sample(made.points, made.rng.randint(1, 2))
    return {
        "name": f"box {number + 1}",
        "at": list(dict.fromkeys([*([bar] if made.chance(0.85) else ()), *points])),
        "ways": made.rng.randint(2, 6),
        "takes": sorted({"earth", *made.rng.sample(SIGNALS, 2)} if made.chance(0.9) else {"supply"}),
    }


def _ports(made: Draft) -> None:
    """Return the unit inputs, one for each switch or one to four too few; some of them take coded signals."""
    asked = [item["signal"] for item in made.bike["inputs"]]
    made.rng.shuffle(asked)
    asked = asked[: max(1, len(asked) - made.rng.choice([0, 0, 0, 0, 0, 1, 2, 3]))]
    coded = made.rng.choice([0, 0.6, 0.9, 0.9])
    made.unit["inputs"] = []
    for number, signal in enumerate(asked):
        accepts = {signal, *(word for word in ("earth", "supply", "sender") if made.chance(0.88))}
        accepts |= {"coded"} if made.chance(coded) else set()
        port: Item = {"name": f"in {number + 1}", "accepts": sorted(accepts), "face": made.rng.choice(FACES)}
        made.unit["inputs"].append(port)

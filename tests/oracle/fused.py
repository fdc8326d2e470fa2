"""Random bikes in which the size of the main fuse decides which outputs drive what, and what may be added."""

from .catalogue import written_size
from .cheapest import cheapest
from .drafts import Draft, Item, tidy
from .fuses import largest_within_ma
from .tightening import tighten
from .usual import usual

ONE_DAY: tuple[Item, ...] = (
    {"name": "second fan", "current": "4.4 A", "kind": "motor", "when": ["fan running"]},
    {"name": "socket", "current": "6.1 A", "kind": "electronics", "when": ["key on"]},
    {"name": "grips", "power": "41 W", "kind": "heater", "when": ["night"]},
)


def main_fuses(made: Draft) -> None:
    """Let each output have a twin, dearer, that trips lower; few loads are on together, so that no fuse is large."""
    usual(made, loads=(3, 4), inputs=(0, 1), spare=0)
    for item in made.bike["loads"]:
        item["when"] = made.rng.choice([["day"], ["night"], ["key on"], ["parked"], ["day", "night"]])
        item.setdefault("mode", "steady")
    made.unit["outputs"] = [one for output in made.unit["outputs"] for one in _twins(made, output)]
    made.bike["weights"] = {"ability": f"{made.rng.randint(150, 400)} mm", "ampere": f"{made.rng.randint(0, 20)} mm"}
    if made.chance(0.5):
        made.bike["later"] = [{**made.rng.choice(ONE_DAY), "worth": made.odd_mm(500, 2500)}]
    made.bike["reels"] = made.rng.choice(
        [["0.5 mm2", "0.75 mm2", "1 mm2", "1.5 mm2", "2.5 mm2", "4 mm2"], ["0.35 mm2", "0.5 mm2", "1 mm2", "4 mm2"]]
    )
    if made.chance(0.4):
        made.rng.choice(made.bike["frame"]["legs"])["ambient"] = made.rng.choice(["70 C", "85 C", "95 C"])
    if made.chance(0.3):
        made.bike["limits"] = {"drop": {"other": made.rng.choice(["0.25 V", "0.3 V", "0.35 V"])}}
    if made.chance(0.3):
        tighten(made)
    _pinch(made)


def _pinch(made: Draft) -> None:
    """Let the unit, its feed's limit or its terminal take no main fuse as large as the cheapest plan's, most times."""
    found = cheapest(made)
    if found is None or made.chance(0.2):
        return
    fuse, smaller = found.site.fuse_ma, largest_within_ma(found.site.fuse_ma - 1)
    thin = [wire for wire in found.site.bike.reels if wire.carries_ma < fuse]
    if thin and made.chance(0.3):
        made.unit["feed"]["wire_max"] = written_size(thin[-1])
    elif smaller and made.chance(0.5):
        made.unit["feed"]["limit"] = tidy((fuse - made.rng.choice([1, 300])) / 1000)
        made.unit["feed"].pop("fuse_max")
    elif smaller:
        made.unit["feed"]["fuse_max"] = tidy(smaller / 1000)


def _twins(made: Draft, output: Item) -> list[Item]:
    """Return an output that trips at its limit only, and one that trips lower and can more."""
    limit = float(output["limit"].split()[0])
    fine = [tidy(limit * part) for part in (0.15, 0.25, 0.35, 0.5, 0.7, 1)]
    able = sorted({*output["switch_modes"], made.rng.choice(["flash", "timed", "toggle"])})
    other = made.rng.choice(["front", "rear"])
    twin = {**output, "name": f"{output['name']} fine", "trip": fine, "switch_modes": able, "face": other}
    return [{**output, "trip": [output["limit"]]}, twin]

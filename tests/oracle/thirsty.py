"""Random bikes in which returns, short feeds or switches of a load's own decide; invented, no real machine."""

from . import fittings
from .brinks import scant_drops
from .drafts import FACES, Draft, Item, fixed_points
from .stressed import materials
from .tightening import tighten, tighten_thickened
from .usual import usual

RETURNING: tuple[Item, ...] = (
    {"name": "dash", "part": "dash", "current": "1.4 A"},
    {"name": "water pump", "current": "7 A", "kind": "motor"},
    {"name": "beacon", "current": "4.3 A", "kind": "filament"},
    {"name": "work lamp", "power": "62 W", "kind": "led"},
    {"name": "heated seat", "power": "98 W", "kind": "heater"},
    {"name": "inverter", "current": "11 A", "kind": "electronics"},
    {"name": "marker", "current": "2.2 A", "kind": "discharge"},
    {"name": "camera", "current": "640 mA"},
)
PAST: tuple[Item, ...] = (
    {"name": "siren", "current": "2.6 A", "kind": "horn", "fed": "fuse"},
    {"name": "flood lamp", "power": "47 W", "kind": "led", "fed": "fuse"},
    {"name": "logger", "current": "300 mA", "fed": "fuse"},
    {"name": "winch contact", "current": "1.2 A", "kind": "relay coil", "fed": "relay"},
)
BULBS: tuple[tuple[Item, Item], ...] = (
    (
        {"name": "dipped beam", "part": "dipped beam", "lamp": "H4 dipped", "when": ["day", "night"]},
        {"name": "main beam", "part": "main beam", "lamp": "H4 main", "when": ["main beam"]},
    ),
    ({"name": "tail", "lamp": "P21/5W tail"}, {"name": "flare", "lamp": "P21/5W brake", "when": ["braking"]}),
    (
        {"name": "low", "power": "38 W", "kind": "led", "bulb": "front"},
        {"name": "high", "power": "54 W", "kind": "led", "bulb": "front", "when": ["main beam"]},
    ),
)


def returns(made: Draft) -> None:
    """Put thirsty loads and bulbs at one or two points far from their earth, so that one return is not enough."""
    for leg in made.bike["frame"]["legs"]:
        leg["length"] = made.odd_mm(300, 1100)
    earth = made.bike["frame"]["earth"]
    far = [point for point in made.points if point not in earth] or made.points
    spots = made.rng.sample(far, min(len(far), made.rng.choice([1, 1, 2])))
    items = [*made.rng.sample(RETURNING, made.rng.randint(2, 4)), *made.rng.sample(PAST, made.rng.randint(0, 3))]
    bulbs = [filament for bulb in made.rng.sample(BULBS, made.rng.choice([0, 0, 1, 1])) for filament in bulb]
    for pattern in (*items, *bulbs):
        made.bike["loads"].append({**pattern, "at": spots[0] if pattern in bulbs else made.rng.choice(spots)})
    for item in made.bike["loads"]:
        if "when" not in item:
            item["when"] = made.rng.choice([["day", "night"], ["day", "night"], ["day"], ["night"]])
    made.rng.shuffle(made.bike["loads"])
    _together(made)
    fittings.add_outputs(made, 0)
    _resist(made)
    if made.chance(0.3):
        made.bike["reels"] = made.rng.choice(
            [["0.5 mm2", "1 mm2", "2.5 mm2"], ["1 mm2", "4 mm2"], ["1.5 mm2", "6 mm2"]]
        )
    fittings.add_inputs(made, made.rng.randint(0, 2), 0)
    made.bike["later"] = []
    if made.chance(0.55):
        _start(made)
    if made.chance(0.3):
        made.bike["assume"] = {"thickest return": made.rng.choice(["2.5 mm2", "6 mm2"])}
    made.bike["frame"]["connectors"] = made.rng.sample(made.points, made.rng.randint(0, 2))
    match made.rng.randint(0, 3):
        case 0:
            tighten(made)
        case 1:
            tighten_thickened(made)
        case _:
            scant_drops(made)


def _start(made: Draft) -> None:
    """Put the starter at an earth point, beside which there is another most times."""
    fixed = fixed_points(made, made.bike["supply"]["battery"]["at"])
    made.bike["frame"]["earth"] = made.rng.sample(fixed, min(len(fixed), made.rng.choice([1, 2, 2, 3])))
    made.bike["supply"]["starter"] = {"draws": "120 A", "at": made.rng.choice(made.bike["frame"]["earth"])}


def _together(made: Draft) -> None:
    """Let two loads share an output now and then; put the switches of those that are fed past the unit somewhere."""
    plain = [item for item in made.bike["loads"] if not {"bulb", "lamp", "part", "fed"} & set(item)]
    if made.chance(0.4):
        for item in plain[:2]:
            item |= {"share": "field", "when": ["day", "night"]}
    for item in made.bike["loads"]:
        if item.get("fed") == "fuse" or ("fed" in item and made.chance(0.5)):
            item["own_switch"] = made.rng.choice([item["at"], made.rng.choice(made.points)])


def _resist(made: Draft) -> None:
    """Let outputs resist more or less, at one face or the other."""
    for output in made.unit["outputs"]:
        output |= {"resistance": made.rng.choice(["5 mohm", "10 mohm", "18 mohm"]), "face": made.rng.choice(FACES)}


def feeds(made: Draft) -> None:
    """Let faces meet the battery's point or one near it, heat its legs, let terminals take little."""
    usual(made, loads=(3, 5), inputs=(1, 2), spare=1)
    home = made.bike["supply"]["battery"]["at"]
    near = [leg for leg in made.bike["frame"]["legs"] if home in leg["between"]]
    _meet(made, home, near)
    _heat(made, near)
    materials(made)
    made.unit["feed"]["wire_max"] = made.rng.choice(["0.75 mm2", "1 mm2", "1.5 mm2", "2.5 mm2", "4 mm2", "10 mm2"])
    if made.chance(0.3):
        made.bike.setdefault("assume", {})["shortest feed"] = made.rng.choice(["150 mm", "900 mm", "2500 mm"])
    if made.chance(0.3):
        made.bike["reels"] = made.rng.choice([["0.5 mm2", "1 mm2", "2.5 mm2"], ["1 mm2", "4 mm2"], ["0.75 mm2"]])
    _resist(made)
    if made.chance(0.6):
        scant_drops(made)
    else:
        tighten(made)


def _meet(made: Draft, home: str, near: list[Item]) -> None:
    for place in made.bike["places"]:
        for face in FACES:
            if made.chance(0.6):
                point = made.rng.choice(made.rng.choice(near)["between"])
                place[face] = point if made.chance(0.5) else home


def _heat(made: Draft, near: list[Item]) -> None:
    """Shorten legs, heat them, and lay wires with a current in one of them."""
    for leg in near:
        if made.chance(0.35):
            leg["length"] = made.odd_mm(61, 190)
        if made.chance(0.5):
            leg["ambient"] = made.rng.choice(["50 C", "70 C", "85 C", "88 C", "95 C"])
    if made.chance(0.6):
        start, end = made.rng.choice(near)["between"]
        beside: Item = {"name": "stator", "from": start, "to": end, "size": "2.5 mm2", "count": made.rng.randint(1, 3)}
        made.bike["alongside"] = [beside | {"current": made.rng.choice(["900 mA", "1 A", "12 A"])}]


def spurs(made: Draft) -> None:
    """Give loads that outputs feed switches of their own off the way, some loads together; near what just fits."""
    usual(made, loads=(3, 5), inputs=(0, 1), spare=1)
    loads = [item for item in made.bike["loads"] if "fed" not in item and "from" not in item]
    if made.chance(0.6):
        for item in made.rng.sample(loads, min(len(loads), made.rng.randint(2, 3))):
            item |= {"share": "spur", "when": ["day", "night"]}
            item.pop("mode", None)
    for item in made.rng.sample(loads, made.rng.randint(1, len(loads))):
        item["own_switch"] = made.rng.choice(made.points)
    made.bike["frame"]["connectors"] = made.rng.sample(made.points, made.rng.randint(0, 3))
    _resist(made)
    made.rng.choice([tighten, tighten, scant_drops])(made)


def switched(made: Draft) -> None:
    """Give loads switches of their own, behind a fuse, at a relay or behind an output."""
    fittings.add_loads(made, made.rng.randint(3, 5))
    loads = made.bike["loads"]
    for item in made.rng.sample(loads, made.rng.randint(1, 3)):
        item["own_switch"] = made.rng.choice(made.points)
        item.update(made.rng.choice([{"fed": "fuse"}, {"fed": "fuse"}, {"fed": "relay"}, {"fed": "relay"}, {}]))
        if "fed" in item:
            item.pop("mode", None)
        if made.chance(0.25):
            one, other = made.rng.choice(made.bike["frame"]["legs"])["between"]
            item["avoid"] = [f"{one} - {other}"]
    free = [item for item in loads if item.get("fed") != "fuse"]
    if not free:
        loads.append({"name": "lamp", "power": "9 W", "kind": "led", "at": made.rng.choice(made.points)})
    fittings.add_outputs(made, 1)
    fittings.add_inputs(made, made.rng.randint(0, 2) if [x for x in loads if "own_switch" not in x] else 0, 1)
    made.bike["later"] = []
    made.bike["frame"]["connectors"] = made.rng.sample(made.points, made.rng.randint(0, 2))
    if made.chance(0.35):
        made.bike.setdefault("assume", {})["own switch"] = made.rng.choice(["5 mohm", "60 mohm"])
    _resist(made)
    if made.chance(0.65):
        scant_drops(made)
    else:
        tighten(made)

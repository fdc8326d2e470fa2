"""Random bikes in which bundles, short circuits or the cranking voltage decide."""

from . import fittings
from .catalogue import written_size
from .cheapest import cheapest, sites_of
from .circuits import circuit
from .drafts import FACES, Draft, Item, tidy
from .fittings import draw_a
from .reading import on_unit
from .site import Site
from .sizing import able
from .tightening import tighten, tighten_thickened
from .usual import usual

STATES = ["key on", "cranking", "day", "night"]
# A load as it may be on while the engine is cranked.
CRANKED: tuple[Item, ...] = (
    {"name": "spark box", "current": "2.4 A", "kind": "electronics", "when": STATES},
    {"name": "spark plug coil", "current": "3.1 A", "kind": "ignition coil", "when": STATES},
    {"name": "injector", "current": "1.3 A", "kind": "relay coil", "when": ["cranking", "day", "night"]},
    {"name": "petrol lift", "current": "3.6 A", "kind": "motor", "when": ["cranking", "day", "night"]},
    {"name": "oil lamp", "lamp": "W5W", "when": STATES},
    {"name": "instrument", "power": "14 W", "kind": "filament", "when": STATES},
    {"name": "carburettor warmer", "power": "30 W", "kind": "heater", "when": STATES},
    {"name": "gauge", "power": "8 W", "kind": "led", "when": STATES},
)


def _trunk(made: Draft) -> None:
    """Make a frame of one long leg, perhaps hot, between what is at the front and at the rear."""
    pairs = [("battery", "seat tray"), ("seat tray", "headstock"), ("headstock", "headlamp shell")]
    pairs += [("headstock", "left handlebar"), ("seat tray", "tail")]
    if made.chance(0.4):
        pairs += [("tail", "engine"), ("engine", "headstock")]
    legs: list[Item] = [{"between": list(pair), "length": made.odd_mm(90, 600)} for pair in pairs]
    for leg in made.rng.sample(legs, made.rng.randint(0, 2)):
        leg["ambient"] = made.rng.choice(["45 C", "60 C", "70 C", "80 C"])
    earth = made.rng.sample(["seat tray", "battery", "headstock"], made.rng.randint(1, 2))
    made.bike["frame"] = {"legs": legs, "earth": earth}
    made.bike["supply"]["battery"]["at"] = "battery"
    ends = ["seat tray", "tail", "headstock", "battery"]
    made.bike["places"] = [
        {"name": f"place {number + 1}", "front": front, "rear": rear, "way_round": made.rng.choice(["fixed", "either"])}
        for number, (front, rear) in enumerate(made.rng.sample(ends, 2) for _ in range(made.rng.randint(1, 2)))
    ]


def materials(made: Draft) -> None:
    """Take another insulation class, which every leg may be hot for, or tinned wire, now and then."""
    assumed = made.bike.setdefault("assume", {})
    hottest = max(int(leg.get("ambient", "30 C").removesuffix(" C")) for leg in made.bike["frame"]["legs"])
    if made.chance(0.4):
        assumed["insulation"] = made.rng.choice([f"{most} C" for most in (75, 90, 125) if most > hottest])
    if made.chance(0.3):
        assumed["copper"] = "tinned"
    if not assumed:
        del made.bike["assume"]


def bundles(made: Draft) -> None:
    """Send thirsty loads through one leg, with terminals that just take the thickened wires, or just do not."""
    _trunk(made)
    usual(made, loads=(4, 6), inputs=(1, 2), spare=1)
    for item in made.bike["loads"]:
        if made.chance(0.8):
            item["when"] = made.rng.choice([["day", "night"], ["day", "night"], ["night"]])
        if draw_a(item)[0] < 1:
            for word in ("power", "lamp"):
                item.pop(word, None)
            item |= {"kind": item.get("kind", "filament"), "current": made.rng.choice(["1 A", "1.6 A", "2.7 A"])}
        item["at"] = made.rng.choice(["headlamp shell", "left handlebar", "headstock", "tail", "seat tray"])
        item.pop("return", None)
    fittings.add_outputs(made, made.rng.randint(1, 2))
    materials(made)
    made.bike["alongside"] = [
        {"name": "stator", "from": "tail", "to": made.rng.choice(["headstock", "battery"]), "size": "2.5 mm2"}
        | {"count": made.rng.randint(1, 3), "current": made.rng.choice(["900 mA", "1 A", "14 A"])}
    ]
    if made.chance(0.5):
        made.bike["alongside"][0]["when"] = made.rng.choice([["night"], ["day", "night"], ["horn"]])
    made.unit["feed"]["limit"] = "40 A"
    _pinch(made)
    if made.chance(0.4):
        tighten(made)


def _pinch(made: Draft) -> None:
    """Pinch terminals twice, and take back what leaves no plan, most times."""
    for _ in range(2):
        before = made.unit["outputs"]
        made.unit["outputs"] = [dict(output) for output in before]
        _pinch_once(made)
        if cheapest(made) is None and made.chance(0.9):
            made.unit["outputs"] = before


def _pinch_once(made: Draft) -> None:
    """Let terminals no longer take what the cheapest plan would lead to them because of what lies beside."""
    found = cheapest(made)
    sized = able(found.site.looms, [c.drive for c in found.columns if c.drive]) if found else None
    for drive, sizes in sized.drives if sized else ():
        if sizes[0] is not drive.sizes[0] and made.chance(0.7):
            output = next(item for item in made.unit["outputs"] if item["name"] == drive.output.name)
            output["wire_max"] = written_size(drive.sizes[0])


def faults(made: Draft) -> None:
    """Return outputs trips far above what their loads draw, and long times until they trip."""
    usual(made, loads=(3, 5), inputs=(1, 3), spare=2)
    for output in made.unit["outputs"]:
        limit = max(made.rng.choice([5, 8, 13, 20]), int(output["limit"].split()[0]))
        output |= {"limit": f"{limit} A", "peak": f"{made.rng.choice([60, 90, 150, 300])} A"}
        output["trip"] = [tidy(limit * part) for part in made.rng.choice([(1,), (0.6, 1), (0.4, 1)])]
        output.pop("peak_for", None)
        if made.chance(0.5):
            slow = made.rng.choice([1, 4, 8])
            output["trip_curve"] = [["2 x", "30 s"], ["6 x", f"{slow * 200} ms"], ["20 x", f"{slow * 90} ms"]]
    made.unit["feed"] |= {"limit": "60 A", "fuse_max": "35 A"}
    made.bike["reels"] = made.rng.choice(
        [
            ["0.35 mm2", "0.75 mm2", "1.5 mm2", "4 mm2", "10 mm2"],
            ["0.5 mm2", "1 mm2", "2 mm2", "6 mm2"],
            ["20 AWG", "16 AWG", "12 AWG", "10 AWG"],
            ["0.35 mm2", "0.5 mm2", "2.5 mm2", "6 mm2"],
        ]
    )
    made.unit["feed"].pop("wire_max")
    made.bike["frame"]["connectors"] = made.rng.sample(made.points, made.rng.randint(0, 2))
    for item in made.rng.sample(made.bike["loads"], 2):
        if made.chance(0.3):
            item["leads"] = made.rng.choice(["0.5 mm2", "0.75 mm2", "1 mm2"])
    materials(made)
    if made.chance(0.2):
        made.bike["supply"]["charging"] = {"idle": "110 W", "cruise": "290 W", "joins": "unit", "fuse": "30 A"}
    if made.chance(0.85):
        tighten_thickened(made)


def cranking(made: Draft) -> None:
    """Loads a lowest voltage that some outputs, places and turns leave them while cranking, and others do not."""
    made.bike["supply"]["cranking"] = made.rng.choice(["9.0 V", "8.4 V", "9.65 V"])
    for pattern in made.rng.sample(CRANKED, made.rng.randint(3, 4)):
        made.bike["loads"].append({**pattern, "at": made.rng.choice(made.points)})
    fittings.add_loads(made, made.rng.randint(0, 2))
    fittings.add_outputs(made, made.rng.randint(1, 2))
    fittings.add_inputs(made, made.rng.randint(1, 3), made.rng.randint(0, 1))
    made.bike["later"] = []
    for output in made.unit["outputs"]:
        output |= {"resistance": made.rng.choice(["5 mohm", "20 mohm", "60 mohm", "90 mohm"]), "face": _face(made)}
    made.bike["frame"]["connectors"] = made.rng.sample(made.points, made.rng.randint(0, 3))
    materials(made)
    if made.chance(0.4):
        _tell_tale(made)
    _lowest(made)
    if made.chance(0.07):
        made.bike["set_aside"] = {"cranking": "kick start"}


def _face(made: Draft) -> str:
    return made.rng.choice(FACES)


def _tell_tale(made: Draft) -> None:
    names = [item["name"] for item in made.bike["loads"]]
    taps: Item = {"name": "tell-tale", "at": made.rng.choice(made.points), "power": "1.2 W", "kind": "led"}
    made.bike["loads"].append({**taps, "from": made.rng.sample(names, 2)})


def _lowest(made: Draft) -> None:
    """Choose lowest voltages for some loads and, now and then, for the unit."""
    lowest_at_loads(made)
    sites = sites_of(made)
    if sites and made.chance(0.4):
        units = [int(site.cranking_uv(case) / 1000) for site in sites for case in site.cranking_cases]
        lowest = made.rng.choice([*units, *units, max(units) + 1] if made.chance(0.15) else units)
        made.unit["feed"]["lowest"] = f"{lowest} mV"


def lowest_at_loads(made: Draft) -> None:
    """Choose lowest voltages among those that the loads would have by themselves on some output."""
    sites = sites_of(made)
    if not sites:
        return
    cranked = [item for item in made.bike["loads"] if "cranking" in item.get("when", []) and "fed" not in item]
    for item in made.rng.sample(cranked, min(len(cranked), made.rng.randint(1, 3))):
        left = sorted(value for site in sites for value in _left_mv(site, item["name"]))
        if left:
            place = int(made.rng.choice([0.2, 0.4, 0.6, 0.8, 0.95]) * len(left))
            item["lowest"] = f"{left[place]} mV"


def _left_mv(site: Site, name: str) -> list[int]:
    load = next(load for load in on_unit(site.bike) if load.name == name)
    columns = [site.output_column(circuit(site.bike, [load]), output) for output in site.unit.outputs]
    return [
        int(site.cranking_at_uv(column.drive, load, case) / 1000)
        for column in columns
        if column and column.drive
        for case in site.cranking_cases
        if column.drive.on_in(site.job.cases[case].on)
    ]

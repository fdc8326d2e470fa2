"""Random loads, outputs and inputs for a draft; invented, no real machine."""

from fractions import Fraction

from .cases import cases
from .catalogue import USUAL
from .drafts import FACES, Draft, Item, fixed_points, tidy, written
from .filling import filled_load, words_of
from .flow import Flow
from .fusing import ample
from .loads import read_load
from .reading import read_bike

# A load as written, and the modes that it may ask for.
LOADS: tuple[tuple[Item, tuple[str, ...]], ...] = (
    ({"name": "dipped beam", "part": "dipped beam", "lamp": "H4 dipped", "when": ["day", "night"]}, ("steady",)),
    ({"name": "main beam", "part": "main beam", "lamp": "H4 main", "when": ["main beam"]}, ("steady", "toggle")),
    ({"name": "position lamp", "part": "position lamp", "lamp": "W5W"}, ("steady", "dim")),
    ({"name": "tail lamp", "part": "tail lamp", "power": "3 W", "kind": "led", "dims": True}, ("steady", "dim")),
    ({"name": "plate lamp", "part": "plate lamp", "power": "2 W", "kind": "led"}, ("steady",)),
    ({"name": "heated seat", "power": "43 W", "kind": "heater"}, ("dim", "steady", "timed")),
    ({"name": "cooling fan", "part": "fan", "current": "3.3 A", "kind": "motor", "when": ["fan running"]}, ("steady",)),
    ({"name": "horn", "part": "horn", "current": "3.7 A", "kind": "horn", "when": ["horn"]}, ("hold", "steady")),
    ({"name": "camera", "current": "640 mA"}, ("steady", "timed", "engine-run")),
    ({"name": "side lamp", "power": "6 W", "kind": "led", "dims": True, "when": ["night"]}, ("steady", "dim", "flash")),
    ({"name": "route screen", "power": "11 W", "kind": "electronics"}, ("steady",)),
    (
        {"name": "spot lamp", "power": "35 W", "kind": "filament", "when": ["flashing the main beam"]},
        ("hold", "steady"),
    ),
)
LIMITS = (2, 3, 5, 8, 10, 13, 16, 20, 25)
ABILITIES = ("hold", "toggle", "flash", "timed", "engine-run")


def draw_a(item: Item) -> tuple[float, float]:
    """Return the steady current and the inrush (A) of a load as written."""
    as_text = {key: "true" if value is True else value for key, value in item.items()}
    load = read_load(filled_load({"name": "", "part": "", **as_text}, {}, [], []), Fraction(14000), "battery", USUAL)
    return load.current_ma / 1000, float(load.inrush_ma) / 1000


def worst_case_a(made: Draft) -> float:
    """Return the most (A) that the unit's loads draw together in any case."""
    bike = read_bike(written({**made.bike, "later": []}))
    ma = {load.name: load.current_ma for load in bike.loads}
    return max(Flow(bike, cases(bike), ma, {}).feed) / 1000


def add_loads(made: Draft, count: int) -> None:
    """Put so many different loads anywhere on the frame."""
    fixed = fixed_points(made, made.bike["supply"]["battery"]["at"])
    for pattern, modes in made.rng.sample(LOADS, count):
        item: Item = {**pattern, "at": made.rng.choice(made.points)}
        if made.chance(0.6):
            item["mode"] = made.rng.choice(modes)
        if made.chance(0.15) and item["at"] in fixed:
            item["return"] = "frame"
        made.bike["loads"].append(item)


def output_for(made: Draft, item: Item) -> Item:
    """Return an output that can drive this load, a bit too good now and then."""
    return output_drawing(made, *draw_a(item), words_of({"mode": "steady", **item}, "mode"))


def output_drawing(made: Draft, steady: float, inrush: float, asked: list[str]) -> Item:
    """Return an output for a steady current and an inrush (A) in these modes, a bit too good now and then."""
    able = [limit for limit in LIMITS if limit >= 1.25 * steady]
    limit = able[min(made.rng.choice([0, 0, 0, 0, 1, 1, 2]), len(able) - 1)]
    peak = max(limit * made.rng.choice([4, 6, 9]), int(inrush) + 1)
    words = {word for word in asked if word != "dim"} | ({"steady"} if made.chance(0.7) else set())
    words |= set(made.rng.sample(ABILITIES, made.rng.choice([0, 0, 1, 2])))
    output: Item = {
        "limit": f"{limit} A",
        "peak": f"{peak} A",
        "trip": [
            tidy(limit * part)
            for part in made.rng.choice([(0.25, 0.5, 1), (0.1, 0.2, 0.35, 0.5, 0.75, 1), (0.1, 0.3, 0.6, 1)])
        ],
        "switch_modes": sorted(words) or ["timed"],
        "face": made.rng.choice(FACES),
        "inductive": True,
        "key_off": "always",
    }
    if "dim" in asked or made.chance(0.15):
        output["pwm"] = True
    return output


def add_outputs(made: Draft, spare: int, most: int = 8) -> None:
    """Return the unit an output for each load that needs one, and some to spare, but so many at most."""
    needing = [item for item in made.bike["loads"] if "from" not in item and item.get("fed") != "fuse"]
    patterns = [output_for(made, item) for item in needing]
    patterns += [output_for(made, made.rng.choice(needing)) for _ in range(spare)]
    made.rng.shuffle(patterns)
    made.unit["outputs"] = [{"name": f"out {n + 1}", **output} for n, output in enumerate(patterns[:most])]
    total = sum(draw_a(item)[0] for item in needing) + 2
    limit = round(total * made.rng.uniform(1.0, 1.6)) + 6
    made.unit["feed"] = {
        "limit": tidy(limit),
        "fuse_max": ample(limit),
        "wire_max": "10 mm2",
        "face": made.rng.choice(FACES),
    }


def add_inputs(made: Draft, count: int, spare: int) -> None:
    """Put so many switches on the bike, each with a port that takes it, and some to spare."""
    names = [item["name"] for item in made.bike["loads"] if not {"from", "own_switch"} & set(item)]
    for number in range(count):
        signal = made.rng.choice(["earth", "earth", "supply", "pulse", "sender"])
        item: Item = {"name": f"switch {number + 1}", "at": made.rng.choice(made.points), "signal": signal}
        if signal == "pulse":
            item |= {"tells": "engine turning", "level": "12 V", "rate": "300 Hz"}
        elif signal == "sender":
            item["tells"] = "neutral"
        else:
            item["operates"] = made.rng.sample(names, made.rng.randint(1, min(2, len(names))))
            item["normally"] = made.rng.choice(["open", "closed"])
        if signal == "earth" and made.chance(0.2):
            item["at"] = made.rng.sample(made.points, 2)
        made.bike["inputs"].append(item)
    asked = [item["signal"] for item in made.bike["inputs"]] + ["earth"] * spare
    made.rng.shuffle(asked)
    made.unit["inputs"] = [_port(made, number, signal) for number, signal in enumerate(asked)]


def wire_back(made: Draft) -> None:
    """Give a wire back to each switch that earths by its body where the frame can't be earthed, and to whole bulbs."""
    _one_pin(made)
    fixed = fixed_points(made, made.bike["supply"]["battery"]["at"])
    bike = read_bike(written(made.bike))
    moving = {switch.name for switch in bike.wired_switches if switch.framed and not set(switch.points) <= set(fixed)}
    for item in made.bike["inputs"]:
        if item.get("name", item.get("part")) in moving:
            item["return"] = "wire"


def _one_pin(made: Draft) -> None:
    """Let filaments of one base at one point come back by a wire if some do: a bulb has one pin for both."""
    lamps = [item for item in made.bike["loads"] if " " in item.get("lamp", "")]
    bulbs = [(item["at"], item["lamp"].partition(" ")[0]) for item in lamps]
    wired = {bulb for bulb, item in zip(bulbs, lamps, strict=True) if item.get("return") != "frame"}
    for bulb, item in zip(bulbs, lamps, strict=True):
        if bulb in wired:
            item.pop("return", None)


def _port(made: Draft, number: int, signal: str) -> Item:
    accepts = [signal, *({"earth"} - {signal} if made.chance(0.5) else ())]
    port: Item = {"name": f"in {number + 1}", "accepts": accepts, "face": made.rng.choice(FACES)}
    if signal == "pulse":
        port["pulse"] = {"up_to": made.rng.choice(["10 V", *["30 V"] * 7]), "rate": "1 kHz"}
    return port

"""What random units have too little of: outputs, inputs, modes, limits."""

from . import fittings
from .drafts import Draft, Item, tidy
from .fittings import worst_case_a

COIL_KINDS = ("horn", "motor", "relay coil")


def ample(made: Draft, most: int = 7) -> None:
    """Put five loads or more on, two switches to four, and a unit that mostly takes them all."""
    fittings.add_loads(made, made.rng.randint(5, most))
    _feed_otherwise(made)
    fittings.add_outputs(made, made.rng.randint(0, 1), most=12)
    fittings.add_inputs(made, made.rng.randint(2, 4), made.rng.randint(0, 1))
    made.bike["later"] = []


def _feed_otherwise(made: Draft) -> None:
    """Now and then feed a load by a relay or a fuse, and one from two others."""
    if made.chance(0.2):
        item = made.rng.choice(made.bike["loads"])
        item.pop("mode", None)
        item["fed"] = made.rng.choice(["relay", "fuse"])
        if item["fed"] == "fuse":
            item["own_switch"] = made.rng.choice(made.points)
    if made.chance(0.2):
        names = [item["name"] for item in driven(made)]
        taps = {"name": "tell-tale", "at": made.rng.choice(made.points), "power": "1.2 W", "kind": "led"}
        made.bike["loads"].append({**taps, "from": made.rng.sample(names, 2)})


def driven(made: Draft) -> list[Item]:
    """Return the loads that an output drives itself."""
    return [item for item in made.bike["loads"] if not {"fed", "from"} & set(item)]


def modes(made: Draft) -> None:
    """Let more loads want to be dimmed, or to flash, than there are outputs that can."""
    word = made.rng.choice(["dim", "flash"])
    wanting = made.rng.sample(driven(made), made.rng.randint(2, 4))
    for item in wanting:
        item["mode"] = word
        if "lamp" not in item:
            item["kind"] = "heater"
    able = [output for output in made.unit["outputs"] if _has(output, word)]
    for output in made.rng.sample(able, max(0, len(able) - len(wanting) + made.rng.randint(1, 2))):
        output.pop("pwm", None) if word == "dim" else output["switch_modes"].remove(word)
        output["switch_modes"] = output["switch_modes"] or ["steady"]


def _has(output: Item, word: str) -> bool:
    return "pwm" in output if word == "dim" else word in output["switch_modes"]


def ports(made: Draft) -> None:
    """Take outputs or inputs away until they are one or two too few."""
    which, needing = made.rng.choice([("outputs", driven(made)), ("inputs", made.bike["inputs"])])
    left = max(1, len(needing) - made.rng.randint(1, 2))
    made.unit[which] = made.unit[which][:left]


def sums(made: Draft) -> None:
    """Let a bank or the unit carry less than what is on together."""
    for item in driven(made):
        if made.chance(0.6):
            item["when"] = made.rng.choice([["day"], ["day", "night"], ["night"]])
    worst, share = worst_case_a(made), made.rng.choice([0.6, 0.75, 0.9, 0.97])
    if made.chance(0.4):
        made.unit["feed"]["limit"] = tidy(worst * share)
        return
    names = made.rng.choice([["A"], ["A", "B"]])
    made.unit["banks"] = {name: tidy(worst * share / len(names)) for name in names}
    for output in made.unit["outputs"]:
        output["bank"] = made.rng.choice(names)


def lonely(made: Draft) -> None:
    """Let one load or two find no output at all: a mode that none has, an inrush or a current too large."""
    made.unit["own_modes"] = ["pulsing"]
    for item in made.rng.sample(driven(made), made.rng.choice([1, 1, 2])):
        match made.rng.randint(0, 3):
            case 0:
                item["mode"] = "pulsing"
            case 1:
                item["inrush"] = "400 A"
            case 2:
                item["mode"] = ["dim", "pulsing"]
            case _:
                item.pop("power", None)
                item.pop("lamp", None)
                item |= {"kind": item.get("kind", "filament"), "current": "26 A", "inrush": "30 A"}


def coils(made: Draft) -> None:
    """Let few outputs take coils, of which there are several."""
    free = [item for item in driven(made) if "lamp" not in item and item.get("mode", "steady") != "dim"]
    for item in made.rng.sample(free, min(len(free), made.rng.randint(2, 3))):
        item["kind"] = made.rng.choice(COIL_KINDS)
        if made.chance(0.15):
            item["suppressed"] = True
    for output in made.unit["outputs"]:
        output["inductive"] = made.chance(0.15)


def bans(made: Draft) -> None:
    """Let loads and switches name one group, though rules keep some of them apart, and take ports away."""
    group = made.rng.sample(driven(made), made.rng.randint(3, 4))
    for item in group:
        item |= {"share": "lamps", "when": ["day", "night"], "mode": "steady"}
    match made.rng.randint(0, 2):
        case 0:
            group[0]["except"] = ["horn"]
        case 1:
            group[0]["when"] = ["night"]
        case _:
            group[0]["mode"] = "hold"
    for output in made.unit["outputs"]:
        output |= {"peak": "160 A", "switch_modes": sorted({*output["switch_modes"], "hold", "steady"})}
    made.unit["outputs"] = made.unit["outputs"][: len(driven(made)) - made.rng.randint(1, len(group) - 1)]
    switches = [item for item in made.bike["inputs"] if "operates" in item]
    for item in switches:
        item |= {"share": "bar", "normally": made.rng.choice(["open", "open", "closed"]), "signal": "earth"}
    for port in made.unit["inputs"]:
        port["accepts"] = sorted({*port["accepts"], "earth"})
    if len(switches) > 1 and made.chance(0.5):
        made.unit["inputs"] = made.unit["inputs"][: len(made.bike["inputs"]) - 1]

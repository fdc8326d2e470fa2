"""Random bikes in the short form: parts, where they are, a figure; whatever only a builder knows is answered."""

from collections.abc import Callable

from . import fittings
from .drafts import FACES, Draft, Item, fixed_points, tidy, written
from .fusing import ample
from .parts import STRAIGHT
from .reading import on_unit, read_bike
from .things import Bike, Load

Words = str | list[str]
MOST = 7
"""So many loads at most."""


def catalogue(made: Draft) -> None:
    """Put on two to four of what a bike may have, then a unit that nearly takes it."""
    made.bike["later"] = []
    _engine(made)
    for system in made.rng.sample(SYSTEMS, made.rng.randint(2, 4)):
        if len(made.bike["loads"]) < MOST - 2:
            system(made)
    if not made.bike["loads"]:
        _load(made, "socket", current="2 A")
    _whims(made)
    bike = read_bike(written(made.bike))
    _outputs(made, bike)
    _inputs(made, bike)


def _load(made: Draft, part: str, /, **says: object) -> Item:
    item: Item = {"part": part, "at": made.rng.choice(made.points), **says}
    made.bike["loads"].append(item)
    return item


def _switch(made: Draft, part: str, /, **says: object) -> Item:
    item: Item = {"part": part, "at": made.rng.choice(made.points), **says}
    made.bike["inputs"].append(item)
    return item


def _framed(made: Draft, part: str, /, **says: object) -> None:
    """Put a switch on that earths by its body, where the frame can be earthed; a wire where it can't."""
    item = _switch(made, part, **says)
    if item["at"] not in fixed_points(made, made.bike["supply"]["battery"]["at"]) or made.chance(0.2):
        item["return"] = "wire"


# --- what the engine has


def _engine(made: Draft) -> None:
    made.rng.choice([_own_spark, _box, _controlled, _boxed_and_controlled])(made)
    made.rng.choice([_stop_switch, _stop_switch, _key])(made)
    made.rng.choice([_side_stand, _side_stand, _no_stand, _unwatched_stand])(made)
    if made.chance(0.4):
        _starter(made)
    elif made.chance(0.4):
        _framed(made, "neutral switch")
    if made.chance(0.15):
        _switch(made, "fall sensor", goes_to=made.rng.choice(["controller", "unit"]))


def _own_spark(made: Draft) -> None:
    made.bike["ignition"] = "own"
    if made.chance(0.3):
        _load(made, "fuel pump", current="3.2 A")
        _turning(made)


def _box(made: Draft) -> None:
    _load(made, made.rng.choice(["ignition box", "ignition"]), current="1.4 A")
    if made.chance(0.3):
        _load(made, "fuel tap solenoid", current="0.7 A")
        _turning(made)


def _controlled(made: Draft) -> None:
    _load(made, "engine controller", current="2.2 A")
    for part, current in (("injectors", "1.6 A"), ("quickshifter", "0.3 A"), ("lambda heater", "1.1 A")):
        if made.chance(0.35):
            _load(made, part, current=current)
    if made.chance(0.6):
        _load(made, "fuel pump", current="4.1 A")
        made.bike["pump_by"] = made.rng.choice(["controller", "unit"])
        if made.bike["pump_by"] == "controller":
            _switch(made, "pump request")
        else:
            _turning(made)


def _boxed_and_controlled(made: Draft) -> None:
    for number in (1, 2):
        _load(made, "ignition box", name=f"box {number}", current="0.9 A")
    _load(made, "engine controller", current="1.3 A", **({"share": "ignition"} if made.chance(0.5) else {}))


def _turning(made: Draft) -> None:
    said: Item = {"from": made.rng.choice(["tacho", "coil", "stator"])}
    if made.chance(0.2):
        said |= {"rate": "250 Hz"}
    _switch(made, "engine speed signal", **said)


def _stop_switch(made: Draft) -> None:
    said = {"signal": "supply"} if made.chance(0.4) else {}
    _switch(made, "engine stop switch", made=made.rng.choice(["run", "stop"]), **said)


def _key(made: Draft) -> None:
    made.bike["engine_stop"] = "key"
    _switch(made, "key switch", signal="supply")


def _side_stand(made: Draft) -> None:
    _switch(made, "side stand switch", made=made.rng.choice(["up", "down"]))


def _no_stand(made: Draft) -> None:
    made.bike["stand"] = "none"


def _unwatched_stand(made: Draft) -> None:
    made.bike["stand"] = "no switch"


def _starter(made: Draft) -> None:
    """A solenoid, by a relay now and then, its button, and what keeps it dead in gear."""
    says = made.rng.choice([{}, {}, {"pull_in": "7 A"}, {"fed": "relay"}])
    _load(made, "starter solenoid", current="1.9 A", **says)
    if made.chance(0.5):
        _switch(made, "starter button")
    else:
        made.bike["inputs"].append({"name": "go", "at": made.rng.choice(made.points), "operates": "starter solenoid"})
    if made.chance(0.3):
        made.bike["clutch"] = "automatic"
        if made.chance(0.5):
            _framed(made, "neutral switch")
        elif "brakes" not in made.bike and not any("brake" in item["part"] for item in made.bike["loads"]):
            _brakes(made)
        return
    guards = made.rng.choice([("neutral",), ("clutch",), ("neutral", "clutch")])
    if "neutral" in guards:
        _framed(made, "neutral switch")
    if "clutch" in guards:
        _switch(made, "clutch switch", made=made.rng.choice(["pulled", "released"]))


# --- what the rest of it has


def _brakes(made: Draft) -> None:
    if any(item["part"] == "brake lamp" for item in made.bike["loads"]):
        return
    _load(made, "brake lamp", **made.rng.choice([{"lamp": "P21W"}, {"power": "4 W", "kind": "led"}]))
    both = ["front brake switch", "rear brake switch"]
    if made.chance(0.3):
        made.bike["brakes"] = made.rng.choice(["one", "two, one switch"])
        _switch(made, made.rng.choice(both))
        return
    share = {"share": "brakes"} if made.chance(0.5) else {}
    for part in both:
        _switch(made, part, **share)


def _indicators(made: Draft) -> None:
    sides = made.rng.choice([("left",), ("right",), ("left", "right")])
    lamp = made.rng.choice([{"lamp": "PY21W"}, {"power": "2 W", "kind": "led"}])
    for side in sides:
        for end in ("front", "rear"):
            _load(made, f"{side} indicator", name=f"{end} {side}", **lamp)
    if len(sides) > 1 and made.chance(0.6):
        _switch(made, "indicator switch")
    else:
        for side in sides:
            _switch(made, f"{side} indicator button")
    if made.chance(0.3):
        _switch(made, "hazard switch")
    if len(sides) > 1 and made.chance(0.4):
        _load(made, "indicator tell-tale", power="1 W")


def _beams(made: Draft) -> None:
    """Both beams: two filaments of a bulb, or lamps of their own; a switch of one kind or another."""
    kinds = ({"lamp": "H4 dipped"}, {"lamp": "H4 main"}), ({"lamp": "H7"}, {"lamp": "H1"})
    lights: Item = {"power": "30 W", "kind": "led"}
    more = ({**lights, "bulb": "front"}, {**lights, "bulb": "front"}), ({"power": "38 W", "kind": "discharge"}, lights)
    dipped, full = made.rng.choice((*kinds, *more))
    low = _load(made, "dipped beam", **dipped)
    high = _load(made, "main beam", **full)
    if "bulb" in high:
        high["at"] = low["at"]
    for part in made.rng.choice([("dip switch",), ("flash button",), ("dip switch", "flash button")]):
        _switch(made, part)
    if made.chance(0.3):
        _light_switch(made)
    elif made.chance(0.3):
        button: Item = {"name": "beam button", "at": made.rng.choice(made.points), "action": "push"}
        made.bike["inputs"].append(
            button | {"operates": made.rng.choice([["main beam"], ["dipped beam", "main beam"]])}
        )
    if made.chance(0.3):
        _load(made, "main beam tell-tale", power="1 W")


def _position(made: Draft) -> None:
    lamps = (("tail lamp", "P21/5W tail"), ("plate lamp", "W5W"), ("position lamp", "W5W"), ("instrument lamps", "T4W"))
    for part, lamp in made.rng.sample(lamps, made.rng.randint(2, 3)):
        _load(made, part, lamp=lamp, **({"share": "none"} if made.chance(0.2) else {}))
    if made.chance(0.4):
        _light_switch(made)


def _light_switch(made: Draft) -> None:
    if not any(item.get("part") == "light switch" for item in made.bike["inputs"]):
        _switch(made, "light switch")


def _horn(made: Draft) -> None:
    part = made.rng.choice(["horn", "horn", "compressor horn"])
    _load(made, part, current="3.4 A", **({"fed": "relay"} if made.chance(0.4) else {}))
    _switch(made, "horn button")


def _fan(made: Draft) -> None:
    _load(made, "fan", current="3.8 A")
    if made.chance(0.5):
        _switch(made, "fan request")
    else:
        _framed(made, "temperature switch", operates=["fan"])


def _comfort(made: Draft) -> None:
    part, power = made.rng.choice([("heated grips", "30 W"), ("heated seat", "26 W"), ("heated vest", "60 W")])
    _load(made, part, power=power, **({"mode": "dim"} if made.chance(0.4) else {}))
    at = made.rng.choice(made.points)
    made.bike["inputs"].append({"name": "heat button", "at": at, "operates": [part]})
    _load(made, made.rng.choice(["socket", "satellite navigation"]), current="1.5 A")


def _extra_lamps(made: Draft) -> None:
    part, power = made.rng.choice([("spot lamp", "20 W"), ("front fog lamp", "35 W"), ("rear fog lamp", "21 W")])
    for number in (1, 2)[: made.rng.randint(1, 2)]:
        _load(made, part, name=f"{part} {number}", power=power, kind=made.rng.choice(["filament", "led"]))
    names = [item["name"] for item in made.bike["loads"] if item["part"] == part]
    button: Item = {"name": "lamp button", "at": made.rng.choice(made.points), "operates": names}
    made.bike["inputs"].append(button | made.rng.choice([{"action": "push"}, {"action": "latch"}, {}]))


def _watchers(made: Draft) -> None:
    for part in made.rng.sample(["alarm", "tracker", "immobiliser", "dash", "daytime lamp"], 2):
        _load(made, part, **({"power": "9 W"} if part == "daytime lamp" else {"current": "0.2 A"}))


SYSTEMS: tuple[Callable[[Draft], None], ...] = (
    _brakes,
    _indicators,
    _beams,
    _position,
    _horn,
    _fan,
    _comfort,
    _extra_lamps,
    _watchers,
)


def _whims(made: Draft) -> None:
    """What falls away, a later load in the short form, a rule set aside, a multiplexer."""
    if made.chance(0.2):
        _load(made, made.rng.choice(["flasher relay", "side stand relay", "start cut relay"]))
    if made.chance(0.25):
        later = [{"part": "heated seat", "power": "30 W", "mode": "dim"}, {"part": "socket", "current": "3 A"}]
        made.bike["later"] = [{**made.rng.choice(later), "name": "one day", "worth": made.odd_mm(300, 3000)}]
    if made.chance(0.06):
        made.bike["set_aside"] = {made.rng.choice(["start", "run", "indicator-pair"]): "agreed"}
    if made.chance(0.25):
        box: Item = {"name": "gatherer", "at": made.rng.sample(made.points, 2), "ways": made.rng.randint(2, 4)}
        made.bike["multiplexers"] = [{**box, "takes": ["earth"]}]


# --- a unit for it


def _outputs(made: Draft, bike: Bike) -> None:
    """Return an output for each load, or for several that may share, as the parts say; one too few now and then."""
    groups: dict[tuple[str, ...], list[Load]] = {}
    for load in on_unit(bike):
        together = load.share and made.chance(0.6)
        groups.setdefault((load.share, *sorted(load.modes)) if together else (load.name, ""), []).append(load)
    outputs = [_output(made, loads) for loads in groups.values()]
    outputs += [_output(made, made.rng.choice(list(groups.values()))) for _ in range(made.rng.randint(0, 2))]
    made.rng.shuffle(outputs)
    if made.chance(0.12):
        outputs = outputs[:-1] or outputs
    made.unit["outputs"] = [{"name": f"out {number + 1}", **output} for number, output in enumerate(outputs)]
    total = sum(load.current_ma for load in on_unit(bike)) / 1000
    limit = round(total * made.rng.uniform(0.8, 1.6)) + 8
    made.unit["feed"] = {"limit": tidy(limit), "fuse_max": ample(limit), "wire_max": "10 mm2"}
    made.unit["feed"]["face"] = made.rng.choice(FACES)


def _output(made: Draft, loads: list[Load]) -> Item:
    steady, inrush = (sum(getattr(load, what) for load in loads) / 1000 for what in ("current_ma", "inrush_ma"))
    output = fittings.output_drawing(made, float(steady), float(inrush), sorted(loads[0].modes))
    if made.chance(0.3):
        output["trip_curve"] = [["1.5 x", "20 s"], ["4 x", "6 s"], ["9 x", "60 ms"], ["14 x", "0.5 ms"]]
        output["peak_for"] = made.rng.choice(["0.5 ms", "100 ms"])
    if made.chance(0.35):
        output["peak"] = tidy(max(float(output["limit"].split()[0]), float(inrush) * made.rng.choice([0.97, 1, 1.2])))
    if made.chance(0.07):
        output["key_off"] = made.rng.choice(["never", "timed"])
    if made.chance(0.15):
        output["inductive"] = False
    return output


def _inputs(made: Draft, bike: Bike) -> None:
    """Return an input for each switch, or one or two too few, which sharing or a multiplexer may make up for."""
    asked = [switch.signal for switch in bike.switches] + ["earth"] * made.rng.randint(0, 1)
    boxed = [switch for switch in bike.switches if not switch.tells & STRAIGHT]
    spared = made.rng.randint(0, 2) if "multiplexers" in made.bike and boxed else made.rng.choice([0, 0, 0, 1])
    made.rng.shuffle(asked)
    asked = asked[: max(1, len(asked) - spared)] if asked else []
    made.unit["inputs"] = [_port(made, number, signal) for number, signal in enumerate(asked)]


def _port(made: Draft, number: int, signal: str) -> Item:
    accepts = {signal, *(word for word in ("earth", "supply", "coded") if made.chance(0.6))}
    port: Item = {"name": f"in {number + 1}", "accepts": sorted(accepts), "face": made.rng.choice(FACES)}
    if signal == "pulse":
        port["pulse"] = {"up_to": made.rng.choice(["30 V", "100 V", "500 V", "500 V"]), "rate": "500 Hz"}
    return port

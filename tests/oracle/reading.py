"""The YAML text of a bike, read without the program under test."""

from collections.abc import Sequence
from dataclasses import replace
from fractions import Fraction
from functools import lru_cache
from typing import Any

import yaml

from .catalogue import DEFAULT_REELS, Stock, Wire
from .filling import filled, sets_alike
from .loads import USUAL_STATES, coil_of, read_load, words
from .losses import USUAL, contacts
from .parts import STRAIGHT
from .quantities import ceiling, quantity, whole
from .shown import Shown, only_dashes_read, to_unit
from .things import Alongside, Bike, Later, Leg, Load, Multiplexer, Place, Switch

# Shares of the running voltage: common practice; ABYC E-11 for what is not critical.
DROP_SHARES = {
    "headlamp": Fraction(5, 100),
    "engine": Fraction(5, 100),
    "brake lamp": Fraction(5, 100),
    "indicators": Fraction(5, 100),
    "position lamps": Fraction(5, 100),
    "other": Fraction(10, 100),
}
USUAL_EVENTS = (
    "braking",
    "indicating left",
    "indicating right",
    "hazard",
    "main beam",
    "flashing the main beam",
    "horn",
    "fan running",
)
EXCLUSIVE = ("indicating left", "indicating right", "hazard")
HEADLAMP_MV = 500
"""What a headlamp may lose, where a share of the running voltage is no less; common practice."""
ASSUMED = frozenset({*USUAL, "insulation", "copper", "shortest feed", "thickest return", "unit earth"})
FIGURES_ONLY = frozenset(
    {
        "flash duty", "braking duty", "indicating duty", "fan duty", "self-discharge", "multiplexer standby",
        "shortest piece", "supply switch fuse", "splice wires", "splice area",
    }
)  # fmt: skip
"""What is assumed and bears on no rule."""
TEXTS = getattr(yaml, "CBaseLoader", yaml.BaseLoader)  # builds nothing but texts, lists and mappings
MAY_BE_SET_ASIDE = frozenset(
    {"start", "run", "indicator-pair", "inductive", "key-off", "cranking", "signal", "multiplexer"}
)


def tree_of(text: str) -> dict[str, Any]:
    """Take YAML text; give its mapping with every scalar as a text."""
    return dict(yaml.load(text, Loader=TEXTS))  # noqa: S506


@lru_cache(maxsize=16)
def read_bike(text: str) -> Bike:
    """Take a bike's YAML text; give the bike in base units."""
    data = filled(tree_of(text))
    running = quantity(data["supply"]["running"], "voltage")
    battery: str = data["supply"]["battery"]["at"]
    weights, assumed = data.get("weights", {}), _assumed(data.get("assume", {}))
    stock = Stock(int(quantity(assumed.get("insulation", "105 C"), "temperature")), assumed.get("copper") == "tinned")
    written = [read_load(item, running, battery, stock, data["loads"]) for item in data["loads"]]
    relays = [load for load in written if load.fed == "relay" and not load.own_switch]
    coils = [coil_of(load, battery, running) for load in relays]
    coiled = frozenset(coil.name for coil in coils)
    shown = Shown(data["loads"], data.get("inputs", []))
    by_name = {load.name: load for load in written}
    written = [replace(load, taps=shown.taps(load.name, by_name)) for load in written]
    events, excluded = _events(data.get("events", {}))
    switches, set_aside = data["inputs"], _set_aside(data.get("set_aside", {}))
    agreed = frozenset(item["name"] for item in switches) if "signal" in set_aside else frozenset()
    starters = frozenset(load.name for load in written if load.part == "starter solenoid")
    made_of = {item["name"]: shown.switch(_switch(item, coiled, agreed, starters), item, by_name) for item in switches}
    return Bike(
        running_mv=running,
        cranking_mv=quantity(data["supply"].get("cranking", "9.0 V"), "voltage"),
        charging_ma=_charging_ma(data["supply"].get("charging", {}), running),
        battery=battery,
        legs=tuple(_leg(number, item) for number, item in enumerate(data["frame"]["legs"])),
        earth=tuple(data["frame"]["earth"]),
        connectors=words(data["frame"].get("connectors")),
        places=tuple(_place(item) for item in data["places"]),
        loads=tuple(written + coils),
        later=tuple(
            Later(
                read_load(item, running, battery, stock),
                whole(item.get("worth", weights.get("later", "2 m")), "length"),
            )
            for item in data["later"]
        ),
        switches=tuple(made_of[item["name"]] for item in switches if to_unit(item)),
        dash_switches=tuple(made_of[item["name"]] for item in switches if only_dashes_read(item, made_of)),
        alongside=tuple(_alongside(item, stock) for item in data.get("alongside", [])),
        ampere_um=whole(weights.get("ampere", "50 mm"), "length"),
        ability_um=whole(weights.get("ability", "100 mm"), "length"),
        reels=_reels(data.get("reels", DEFAULT_REELS), stock),
        drop_uv=_drops(data.get("limits", {}).get("drop", {}), running),
        events=events,
        excluded=excluded,
        contacts=contacts(assumed),
        stock=stock,
        shortest_feed_um=whole(assumed.get("shortest feed", "300 mm"), "length"),
        thickest_return=stock.wire(assumed.get("thickest return", "4 mm2")).area,
        unit_earth=stock.wire(assumed.get("unit earth", "1.5 mm2")).area,
        starter=data["supply"].get("starter", {}).get("at", ""),
        side_stand=data.get("stand", "side") == "side",
        clutch_lever=data.get("clutch", "lever") == "lever",
        two_brakes=data.get("brakes", "two") == "two",
        key_stops=data.get("engine_stop") == "key",
        set_aside=set_aside,
        multiplexers=tuple(_multiplexer(item, set_aside) for item in data.get("multiplexers", [])),
        dead=frozenset(data.get("out_of_use", {})),
        alike=sets_alike(data.get("alike", []), data["loads"]),
    )


def _leg(number: int, item: dict[str, Any]) -> Leg:
    start, end = item["between"]
    sleeve = whole(item.get("sleeve", "1 mm"), "length")
    ambient = quantity(item.get("ambient", "30 C"), "temperature")
    return Leg(
        number=number,
        name=item.get("name", f"{start} - {end}"),
        ends=(start, end),
        length_um=whole(item["length"], "length"),
        room_um=whole(item["opening"], "length") - sleeve if "opening" in item else None,
        ambient_c=max(ambient, Fraction(30)),
        hot_c=max(ambient, Fraction(85)),
    )


def _place(item: dict[str, Any]) -> Place:
    front: str = item.get("front", item.get("rear", ""))
    rear: str = item.get("rear", front)
    return Place(item["name"], front, rear, item.get("way_round", "fixed") == "either")


def _switch(item: dict[str, Any], coiled: frozenset[str], agreed: frozenset[str], starters: frozenset[str]) -> Switch:
    """Read a switch; `agreed` are all switches if no rule judges which signal goes where, else none."""
    operated = words(item.get("operates"))
    return Switch(
        name=item["name"],
        points=_points(item),
        signal=item["signal"],
        rest=item["normally"],
        operates=operated | (coiled & {f"{name} relay" for name in operated}),
        tells=words(item.get("tells")),
        share=item.get("share", ""),
        level_mv=quantity(item["level"], "voltage") if "level" in item else None,
        rate_hz=quantity(item["rate"], "frequency") if "rate" in item else None,
        straight=bool(operated & starters or words(item.get("tells")) & STRAIGHT),
        framed=item["return"] == "frame",
        any_signal=bool(agreed),
        beside=agreed,
        held=words(item.get("on")),
        shunned=words(item.get("not_on")),
    )


def _points(item: dict[str, Any]) -> tuple[str, ...]:
    at = item["at"]
    return tuple([at] if isinstance(at, str) else at)


def _multiplexer(item: dict[str, Any], set_aside: frozenset[str]) -> Multiplexer:
    agreed = "multiplexer" in set_aside
    ways = None if agreed else int(item["ways"])
    return Multiplexer(item["name"], _points(item), ways, words(item["takes"]), agreed)


def _alongside(item: dict[str, Any], stock: Stock) -> Alongside:
    across = whole(item["diameter"], "length") if "diameter" in item else stock.wire(item["size"]).diameter_um
    carried = whole(item.get("current", "0 A"), "current")
    when = words(item.get("when", list(USUAL_STATES)))
    return Alongside(item["from"], item["to"], across, int(item.get("count", "1")), carried, when)


def _charging_ma(item: dict[str, str], running: Fraction) -> int:
    if item.get("joins", "battery") == "battery":
        return 0
    watts = max(quantity(item.get(word, "0 W"), "power") for word in ("idle", "cruise"))
    return ceiling(watts * 10**6 / running)


def _reels(items: Sequence[str | dict[str, Any]], stock: Stock) -> tuple[Wire, ...]:
    sizes = [stock.wire(item if isinstance(item, str) else item["size"]) for item in items]
    return tuple(sorted(sizes, key=lambda size: size.area))


def _drops(given: dict[str, str], running: Fraction) -> dict[str, Fraction]:
    limits = {group: share * running * 1000 for group, share in DROP_SHARES.items()}
    limits["headlamp"] = min(limits["headlamp"], Fraction(HEADLAMP_MV * 1000))
    for group, text in given.items():
        of_running = text.endswith("%")
        limits[group] = quantity(text, "share") * running * 1000 if of_running else quantity(text, "voltage") * 1000
    return limits


def _events(given: dict[str, Any]) -> tuple[dict[str, frozenset[str]], frozenset[frozenset[str]]]:
    states = {event: frozenset(USUAL_STATES) for event in (*USUAL_EVENTS, *given)}
    states["fan running"] |= {"run-on"}
    pairs = {frozenset((one, other)) for one in EXCLUSIVE for other in EXCLUSIVE if one != other}
    for event, said in given.items():
        if "in" in said:
            states[event] = words(said["in"])
        pairs |= {frozenset((event, other)) for other in words(said.get("excludes"))}
    return states, frozenset(pairs)


def _assumed(given: dict[str, str]) -> dict[str, str]:
    other = sorted(given.keys() - ASSUMED - FIGURES_ONLY)
    if other:
        msg = f"assumptions not read here: {', '.join(other)}"
        raise ValueError(msg)
    return given


def _set_aside(given: dict[str, str]) -> frozenset[str]:
    other = sorted(given.keys() - MAY_BE_SET_ASIDE)
    if other:
        msg = f"rules not set aside here: {', '.join(other)}"
        raise ValueError(msg)
    return frozenset(given)


def on_unit(bike: Bike) -> list[Load]:
    """Return the loads that need an output, in the order of the file, coils last."""
    return [load for load in bike.loads if load.on_unit]

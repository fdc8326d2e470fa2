"""Which changes a bike's file may have, each with its effort; the file as a tree, as yaml reads it.

Nothing here comes from the program that is judged. What a load is that says only its part is told by ``oracle``.
Efforts, and which parts are never left off or never share with comfort: common practice, no source. A port out of
use is burnt or taken: none is taken back.
"""

from collections.abc import Iterator, Sequence
from copy import deepcopy
from dataclasses import dataclass
from fractions import Fraction
from itertools import combinations
from math import ceil
from typing import Any

from oracle.filling import filled, words_of
from oracle.loads import LAMPS
from oracle.parts import LOADS
from oracle.quantities import quantity

Tree = dict[str, Any]
EFFORT = {
    "sharing": 1, "another way round": 1, "place": 2, "LED lamp": 2, "suppressor": 2, "pin lifted": 2,
    "alike lifted": 2, "opened up": 3, "fused feed": 3, "relay": 4, "multiplexer": 5, "left off": 8, "bigger unit": 10,
}  # fmt: skip
KEPT = frozenset({
    "dipped beam", "main beam", "daytime lamp", "position lamp", "tail lamp", "plate lamp", "brake lamp",
    "left indicator", "right indicator", "front fog lamp", "rear fog lamp", "horn", "compressor horn", "ignition coil",
    "ignition box", "engine controller", "fuel pump", "starter solenoid",
})  # fmt: skip
"""Never left off, and never to share with what is there for comfort."""
AT_WORK = frozenset({"injectors", "lambda heater", "fuel tap solenoid", "fan"})
"""Neither of these nor of comfort: the engine wants them."""
ON_AN_OUTPUT = frozenset({
    "brake lamp", "left indicator", "right indicator", "ignition coil", "ignition box", "engine controller",
    "fuel pump", "starter solenoid",
})  # fmt: skip
"""Rules judge these on an output; past the unit nobody would."""
INDUCTIVE = frozenset({"motor", "horn", "ignition coil", "relay coil"})
SHARE_OF_LED = "40 %"
MULTIPLEXERS = 2
"""New ones that a bike may get."""


@dataclass(frozen=True, order=True)
class Edit:
    """One change of a kind, and what it is made to."""

    kind: str
    things: tuple[str, ...]

    @property
    def effort(self) -> int:
        """Steps in size of a bigger unit count each."""
        return EFFORT[self.kind] * (int(self.things[1]) if self.kind == "bigger unit" else 1)


Edits = frozenset[Edit]


def effort_of(edits: Edits) -> int:
    return sum(edit.effort for edit in edits)


# --- what a file says, its parts read


def loads_of(bike: Tree) -> dict[str, Tree]:
    """Return each load with what its part brings, by name."""
    return {load["name"]: load for load in filled(deepcopy(bike))["loads"]}


def name_of(item: Tree) -> str:
    return str(item.get("name") or item.get("part"))


def on_output(load: Tree) -> bool:
    return not load.get("from") and load.get("fed", "unit") == "unit"


def may_meet(one: Tree, other: Tree) -> bool:
    """Tell whether it may be proposed that two loads share: no lamp of the road, nothing of safety, with comfort."""
    groups = {LOADS[load["part"]].group if load["part"] in LOADS else "" for load in (one, other)}
    if len(groups) == 1 and groups != {""}:
        return True  # the catalogue has them in one group
    kept = [load["part"] in KEPT for load in (one, other)]
    comfort = [load["part"] not in KEPT | AT_WORK for load in (one, other)]
    return not ((kept[0] and comfort[1]) or (kept[1] and comfort[0]))


def leg_name(leg: Tree) -> str:
    return str(leg.get("name", " - ".join(leg["between"])))


def points_of(bike: Tree) -> list[str]:
    """Return the frame's points, in the order of its legs."""
    return list(dict.fromkeys(point for leg in bike["frame"]["legs"] for point in leg["between"]))


def led_watts(bike: Tree, load: Tree) -> str:
    """Return what an LED lamp draws in place of a filament: a share of it, rounded up to 0.1 W."""
    running = quantity(bike["supply"]["running"], "voltage") / 1000
    if "lamp" in load:
        watts, volts = LAMPS[load["lamp"]]
        amperes = Fraction(watts) / Fraction(volts)
    elif "power" in load:
        amperes = quantity(load["power"], "power") / running
    else:
        amperes = quantity(load["current"], "current") / 1000
    share = Fraction(bike.get("assume", {}).get("LED lamp power", SHARE_OF_LED).removesuffix("%").strip()) / 100
    watts_up = Fraction(ceil(ceil(amperes * 1000) * running * share / 1000 * 10), 10)
    return f"{float(watts_up):.1f} W"


# --- which changes a file has


def every_edit(bike: Tree, unit: Tree, bigger: Sequence[str] = ()) -> list[Edit]:
    """Return every change that may be tried on a bike; ``bigger`` units come by size."""
    return sorted([*_of_loads(bike), *_of_decisions(bike), *_of_frame(bike, unit), *_of_units(bigger)])


def _of_loads(bike: Tree) -> Iterator[Edit]:
    loads = loads_of(bike)
    apart = [load for load in loads.values() if on_output(load)]
    for one, other in combinations(apart, 2):
        if one["share"] != other["share"] or not one["share"]:
            yield Edit("sharing", (one["name"], other["name"]))
    for name, load in loads.items():
        yield from (Edit(kind, (name,)) for kind in _of_load(load))
    feeders = {name for load in loads.values() for name in load.get("from", [])}
    for name, load in loads.items():
        if not load.get("from"):  # it has a wire of its own
            yield from _on_its_way(bike, load)
            yield from (Edit(kind, (name,)) for kind in _ways_to_feed(load) if name not in feeders)


def _of_load(load: Tree) -> Iterator[str]:
    """Return the kinds of changes to what a load itself is."""
    if load["kind"] == "filament":
        yield "LED lamp"
    if load["kind"] in INDUCTIVE and load.get("suppressed") != "true":
        yield "suppressor"
    if load["part"] not in KEPT:
        yield "left off"


def _on_its_way(bike: Tree, load: Tree) -> Iterator[Edit]:
    legs = [leg_name(leg) for leg in bike["frame"]["legs"] if "opening" in leg]
    yield from (Edit("another way round", (load["name"], leg)) for leg in legs if leg not in words_of(load, "avoid"))


def _ways_to_feed(load: Tree) -> Iterator[str]:
    """Return the ways to feed a load past the unit that it is not fed in: a fuse only where it is not always on."""
    fed = load.get("fed", "unit")
    if load["part"] in ON_AN_OUTPUT:
        return
    if fed != "fuse" and ("own_switch" in load or "asleep" in words_of(load, "when")):
        yield "fused feed"
    if fed != "relay":
        yield "relay"


def _of_decisions(bike: Tree) -> Iterator[Edit]:
    things = (thing for key in ("loads", "inputs") for thing in bike.get(key, []))
    yield from (Edit("pin lifted", (name_of(thing),)) for thing in things if {"on", "not_on"} & set(thing))
    yield from (Edit("alike lifted", tuple(names)) for names in bike.get("alike", []))


def _of_frame(bike: Tree, unit: Tree) -> Iterator[Edit]:
    taken = {place[face] for place in bike["places"] for face in ("front", "rear") if face in place}
    yield from (Edit("place", (point,)) for point in points_of(bike) if point not in taken)
    yield from (Edit("opened up", (leg_name(leg),)) for leg in bike["frame"]["legs"] if "opens_to" in leg)
    if any("coded" in words_of(port, "accepts") for port in unit["inputs"]):
        yield from (Edit("multiplexer", (str(number),)) for number in range(1, MULTIPLEXERS + 1))


def _of_units(bigger: Sequence[str]) -> Iterator[Edit]:
    yield from (Edit("bigger unit", (name, str(step))) for step, name in enumerate(bigger, 1))

"""Whether a printed plan keeps every rule, costs what it says, and on one unit has the sizes it must, by the oracle."""

from collections.abc import Iterator, Sequence
from decimal import Decimal
from fractions import Fraction
from typing import Any

from oracle.catalogue import Wire
from oracle.cut import Cut
from oracle.job import Job
from oracle.judge import cost_um
from oracle.pair import Two
from oracle.pair_judge import pair_cost_um
from oracle.profiles import read_unit
from oracle.reading import read_bike
from oracle.site import Site
from oracle.told import fuse_told, pair_told, ports_told, spot_told
from sheet.wires import Json


def ruled(bike: str, units: Sequence[str], printed: Json) -> Iterator[str]:
    """Take the files' texts and a plan; return what is wrong with it."""
    return _on_one(bike, units[0], printed) if len(units) == 1 else _on_two(bike, units, printed)


def _on_two(bike: str, units: Sequence[str], printed: Json) -> Iterator[str]:
    one, other = map(read_unit, units)
    two = Two(read_bike(bike), (one, other))
    yield from _priced(pair_cost_um(two, pair_told(two, printed)), printed)


def _on_one(bike: str, unit: str, printed: Json) -> Iterator[str]:
    job = Job(read_bike(bike), read_unit(unit))
    place, turned = spot_told(job.bike, printed)
    site = Site(job, place, turned=turned, fuse_ma=fuse_told(printed))
    plan = ports_told(job.bike, job.unit, printed)
    cost = cost_um(site, plan)
    yield from _priced(cost, printed)
    if cost is not None:
        yield from _sizes(Cut(site, plan), printed)


def _priced(cost: int | None, printed: Json) -> Iterator[str]:
    if cost is None:
        yield "breaks a rule"
    elif cost != Decimal(str(printed["cost_mm"])) * 1000:
        yield f"costs {cost} um, told is {printed['cost_mm']} mm"


def _sizes(cut: Cut, printed: Json) -> Iterator[str]:
    """Feed, outputs and fed loads; returns by the loads that come back there."""
    joints = cut.job.joints
    wires: dict[Any, Wire] = {"feed": cut.feed, **cut.outputs}
    wires |= {name: wire for name, (_, wire) in cut.fed.items()}
    wires |= {(key[0], key[1] + 1): wire for key, wire in cut.returns.items() if joints[key].run}
    told: dict[Any, Json] = {"feed": printed["feed"]}
    told |= {line["port"]: line for line in printed["outputs"]} | {line["name"]: line for line in printed["fed"]}
    joint = [line for line in printed["returns"] if line["kind"] == "return"]
    told |= {(line["name"], line["number"]): line for line in joint}
    for name, wire in wires.items():
        if name in told and Fraction(str(told[name]["wire_mm2"])) != wire.area:
            yield f"{name}: {told[name]['wire']}, it must have {float(wire.area)} mm2"
        elif name not in told and not isinstance(name, tuple):
            yield f"{name}: nothing is told of it"

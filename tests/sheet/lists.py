"""The lists of a plan as CSV, judged by the sheet: wiring, cutting, reels, splices, connectors, leads, settings."""

import csv
from collections import Counter, defaultdict
from collections.abc import Callable, Iterator, Mapping
from decimal import Decimal
from fractions import Fraction
from io import StringIO

from .ampacity import flowing_ma
from .circuits import steady_ma
from .cutting import every_piece, weight_g
from .entries import amount
from .figures import Sheet
from .frame import length_mm
from .leads import leads_of
from .returning import return_ma
from .tables import F
from .wires import Wire

Row = dict[str, str]
Files = Mapping[str, str]
"""The texts of a folder of sheets by their names."""


class Lists:
    """The lists of a plan, each with its rows, beside the plan's sheet."""

    def __init__(self, sheet: Sheet, files: Files) -> None:
        """Take the sheet of the plan, and what was written for the bench."""
        self.sheet, self.files = sheet, files
        self.wiring = self.rows("wiring-list")

    def rows(self, name: str) -> list[Row]:
        """Return a list's rows; raise KeyError where it was not written."""
        return list(csv.DictReader(StringIO(self.files[f"{name}.csv"])))

    def mm2(self, size: str) -> Fraction:
        """Return a size in mm2."""
        return self.sheet.bike.read.stock.wire(size).area


def wiring(lists: Lists) -> Iterator[str]:
    """Each piece as the plan's JSON has it: number, ends, legs; its run and what its connectors leave of its cut."""
    told = {str(wire["number"]): wire for wire in lists.sheet.printed["wires"]}
    if [row["number"] for row in lists.wiring] != list(told):
        yield "numbers are others than in the plan"
        return
    for row in lists.wiring:
        wire = told[row["number"]]
        run = length_mm(lists.sheet.bike.leg(leg) for leg in wire["legs"])
        same = {
            "wire": row["wire"] == wire["wire"],
            "size": row["size"] == (wire["size"] or ""),
            "from": (row["from"].split("; ")[0], row["from_point"]) == (wire["from"]["name"], wire["from"]["at"]),
            "to": (row["to"], row["to_point"]) == (wire["to"]["name"], wire["to"]["at"]),
            "legs": row["legs"] == "; ".join(wire["legs"]),
            "cut_mm": F(row["cut_mm"]) == sum(F(str(mm)) for mm in wire["cut_mm"]),
            "run_mm": F(row["run_mm"]) in (run, _short_feed(lists.sheet) if wire["kind"] == "feed" else run),
        }
        yield from (f"{row['wire']}: {name} is {row.get(name)}" for name, is_same in same.items() if not is_same)


def _short_feed(sheet: Sheet) -> Fraction:
    return sheet.bike.usual("shortest feed", "mm")


def currents(lists: Lists) -> Iterator[str]:
    """The most that flows in a piece in any case: what is on beyond it, or what hangs on it."""
    for row in lists.wiring:
        wanted = _most_a(lists, row)
        if wanted is not None and F(row["current_a"]) != wanted:
            yield f"{row['wire']}: {row['current_a']} A, worked out {float(wanted)} A"


def _most_a(lists: Lists, row: Row) -> Fraction | None:
    """Return the most that a piece carries; None for one between splices at one point, which is not worked out."""
    sheet, plan = lists.sheet, lists.sheet.plan
    if row["kind"] == "feed":
        return sheet.worst_ma() / 1000
    if row["kind"] == "fed load":
        load = sheet.bike.load(row["circuit"].removeprefix("feed of "))
        return None if load.taps and row["to"] != load.name else F(load.current_ma, 1000)
    if row["kind"] == "output":
        (wire,) = (wire for wire in plan.outputs if wire.name == row["circuit"])
        return _of_circuit(sheet, wire, row)
    joint = [wire for wire in plan.returns if _called(wire) == row["circuit"]]
    if joint and row["legs"]:
        return max(return_ma(plan, joint[0], now) for now in sheet.every) / 1000
    return F(0) if row["kind"] in ("input", "unit earth") else None


def _called(wire: Wire) -> str:
    number = wire.row["number"]
    return f"return {number} from {wire.name}" if number > 1 else f"return {wire.name}"


def _of_circuit(sheet: Sheet, wire: Wire, row: Row) -> Fraction | None:
    """Return what flows in a piece of a circuit: from the unit all of it, in a leg what is on beyond that."""
    loads = sheet.plan.loads_of(wire.port)
    if row["from"] == wire.name:
        return F(steady_ma(loads), 1000)
    to = [load for load in loads if load.name == row["to"]]
    if to:
        return F(to[0].current_ma, 1000)
    legs = [leg for leg in wire.legs if leg.name in row["legs"].split("; ")]
    if not legs or row["from"].startswith("own switch"):
        return None
    return max(flowing_ma(sheet.plan, wire, legs[0], now) for now in sheet.every) / 1000


def cutting(lists: Lists) -> Iterator[str]:
    """Every piece that is worked out stands in the list of what is cut once, and none more."""
    rows = lists.rows("cut-list")
    told = Counter((F(row["cut_mm"]), lists.mm2(row["size"])) for row in rows)
    worked = Counter((F(mm), mm2) for mm, mm2 in every_piece(lists.sheet.plan))
    if told != worked:
        yield f"told only: {dict(told - worked)}; worked out only: {dict(worked - told)}"
    if [row["order"] for row in rows] != [str(number) for number in range(1, len(rows) + 1)]:
        yield "pieces are not numbered from 1 up"


def reels(lists: Lists) -> Iterator[str]:
    """Of each size and colour the pieces, what is cut and what the copper weighs are the sums of the list of cuts."""
    pieces: dict[tuple[str, str], list[Fraction]] = defaultdict(list)
    runs: dict[tuple[str, str], Fraction] = defaultdict(Fraction)
    for row in lists.rows("cut-list"):
        pieces[row["size"], row["colour"]].append(F(row["cut_mm"]))
    for row in lists.wiring:
        runs[row["size"], row["colour"]] += F(row["run_mm"])
    rows = lists.rows("reels")
    if sorted((row["size"], row["colour"]) for row in rows) != sorted(pieces):
        yield "not every reel is told, or one twice"
    for row in rows:
        key = (row["size"], row["colour"])
        cut = sum(pieces[key], F(0))
        wanted = {
            "pieces": F(len(pieces[key])),
            "run_mm": runs[key],
            "cut_mm": cut,
            "waste_mm": cut - runs[key],
            "copper_g": weight_g(cut, lists.mm2(row["size"])),
        }
        for name, figure in wanted.items():
            if abs(F(row[name]) - figure) > F(1, 2000):
                yield f"{key}: {name} is {row[name]}, worked out {float(figure)}"


def splices(lists: Lists) -> Iterator[str]:
    """A splice's area is that of its wires; one that is crimped holds what a hand can crimp, three wires at least."""
    sizes = {row["wire"]: lists.mm2(row["size"]) for row in lists.wiring if row["size"]}
    usual = lists.sheet.bike
    for row in lists.rows("splices"):
        wires = row["wires"].split("; ")
        area = sum((sizes[wire] for wire in wires), F(0))
        if F(row["area_mm2"]) != area:
            yield f"{row['splice']}: {row['area_mm2']} mm2, its wires have {float(area)} mm2"
        if sorted(wires) != sorted(row["crimp_order"].split("; ")):
            yield f"{row['splice']}: not each of its wires is crimped once"
        fits = len(wires) <= int(usual.assumed["splice wires"]) and area <= usual.usual("splice area", "mm2")
        if row["made_as"] == "splice" and row["circuit"].startswith("return") and not fits:
            yield f"{row['splice']}: {len(wires)} wires of {float(area)} mm2 are one splice"


def connectors(lists: Lists) -> Iterator[str]:
    """What passes a way of a connector is the wire that is told, with its size and current."""
    wires = {row["wire"]: row for row in lists.wiring}
    for row in lists.rows("connectors"):
        if row["wire"]:
            wire = wires[row["wire"]]
            for name in ("number", "size", "colour", "current_a"):
                if row[name] != wire[name]:
                    yield f"{row['connector']} {row['way']}: {name} is {row[name]}, of its wire {wire[name]}"


def leads(lists: Lists) -> Iterator[str]:
    """The battery's leads with what they lose, in mV."""
    rows = lists.rows("battery-leads")
    found = leads_of(lists.sheet.bike, lists.sheet.plan.frame)
    if len(rows) != len(found):
        yield f"{len(rows)} leads are told, {len(found)} are worked out"
        return
    for row, lead in zip(rows, found, strict=True):
        wanted = {
            "run_mm": lead.run_mm,
            "cut_mm": F(lead.cut_mm),
            "current_a": lead.draws_a,
            "drop_mv": lead.drop_v * 1000,
            "most_mv": lead.most_v * 1000,
        }
        for name, figure in wanted.items():
            if abs(F(row[name]) - figure) > (1 if name == "drop_mv" else 0):
                yield f"{lead.name}: {name} is {row[name]}, worked out {float(figure)}"


def settings(lists: Lists) -> Iterator[str]:
    """Each load of each circuit stands at its output, with the trip of the plan and what it is dimmed to."""
    told = [row for row in lists.rows("setting-outputs") if row["load"]]
    used = [row for row in told if row["status"] == "in use"]
    plan = lists.sheet.plan
    wanted = {(port, name): trip for (_, port), trip in plan.trips_a.items() for name in plan.circuits[0, port]}
    if sorted((row["port"], row["load"]) for row in used) != sorted(wanted):
        yield "not every load is told once at its output"
        return
    for row in used:
        load, item = lists.sheet.bike.load(row["load"]), lists.sheet.bike.items.get(row["load"], {})
        if F(row["trip_a"]) != wanted[row["port"], row["load"]]:
            yield f"{row['load']}: a trip of {row['trip_a']} A"
        dim = amount(item["dim_to"], "%") if "dim" in load.modes and "dim_to" in item else None
        if row["dim_percent"] != ("" if dim is None else f"{Decimal(dim.numerator) / dim.denominator:f}"):
            yield f"{row['load']}: dimmed to {row['dim_percent']}"


Check = Callable[[Lists], Iterator[str]]
LISTS: tuple[Check, ...] = (wiring, currents, cutting, reels, splices, connectors, leads, settings)

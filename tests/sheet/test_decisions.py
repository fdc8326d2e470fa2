"""What three printed plans have decided is allowed: by the sums of the sheet, which knows nothing of the program.

The bikes and units are made up.
"""

from collections import defaultdict
from decimal import Decimal
from fractions import Fraction
from typing import Any

from .ampacity import loaded_in, may_carry_ma
from .circuits import bank_ma, inrush, sums_ma
from .drops import fed_uv, feed_uv, output_uv
from .entries import amount
from .figures import Sheet
from .frame import length_mm
from .looms import alongside_legs
from .returning import dealt, nearest_earth
from .sizing import limit_uv, serves, thinner
from .tables import FUSES_A, F


def test_worst_cases_are_named(sheet: Sheet) -> None:
    """In the case that is named beside a drop, a lamp, or the unit's sum, it is what is told, and in no case more."""
    plan, bike = sheet.plan, sheet.bike
    for wire in plan.outputs:
        for load in plan.loads_of(wire.name):
            now = sheet.now(wire.row["drop_cases"][load.name])
            assert output_uv(plan, wire, load, now) == sheet.worst_uv(wire, load)
    for wire in plan.fed:
        load, on = bike.load(wire.name), [now for now in sheet.every if now.of(bike.load(wire.name))]
        named = sheet.now(wire.row["drop_case"])
        assert fed_uv(plan, wire, load, named) == max(fed_uv(plan, wire, load, now) for now in on)
    feed = plan.printed["feed"]
    assert sum(sums_ma(plan, sheet.now(feed["worst_case"])).values()) == sheet.worst_ma()
    assert feed_uv(plan, sheet.now(feed["drop_case"])) == max(feed_uv(plan, now) for now in sheet.every)


def test_no_case_is_worse_than_those_told(sheet: Sheet) -> None:
    """Unit and banks: the most in any case is in one that is told; all within their limits."""
    told = [sheet.now(row["case"]) for row in sheet.printed["cases"]]
    for bank, limit_a in sheet.unit.banks.items():
        most = max(bank_ma(sheet.plan, sums_ma(sheet.plan, now), bank) for now in sheet.every)
        assert most == max(bank_ma(sheet.plan, sums_ma(sheet.plan, now), bank) for now in told)
        assert most <= limit_a * 1000
    assert sheet.worst_ma() == max(sum(sums_ma(sheet.plan, now).values()) for now in told)
    assert sheet.worst_ma() <= sheet.unit.limit_a * 1000


def test_the_main_fuse(sheet: Sheet) -> None:
    """A step of ISO 8820-3, 1.25 x the worst case or more, above each trip, within unit and feed, the smallest such."""
    plan, unit = sheet.plan, sheet.unit
    largest = unit.fuse_max_a or max(step for step in FUSES_A if step <= unit.limit_a)
    trips = [*plan.trips_a.values(), *(later_trip_a(sheet, row) for row in plan.printed["room_for"])]
    able = [step for step in FUSES_A if step * 1000 >= F(5, 4) * sheet.worst_ma() and max(trips) < step <= largest]
    assert plan.main_fuse_a in able
    assert all(spot.must_ma <= spot.may_ma for spot in sheet.spots(plan.feed))
    assert F(plan.feed.size) <= unit.feed_wire_max


def later_trip_a(sheet: Sheet, row: dict[str, Any]) -> Fraction:
    """Return the least trip of the output that is kept for a later load; what it draws is told in W or A."""
    entry = next(one for one in sheet.bike.later if one.get("name", one.get("part")) == row["load"])
    drawn_a = (
        amount(entry["current"], "A") if "current" in entry else amount(entry["power"], "W") / sheet.bike.running_v
    )
    trips = [amount(trip, "A") for trip in sheet.unit.ports[row["port"]]["trip"]]
    return min(trip for trip in trips if trip >= F(5, 4) * drawn_a)


def test_every_wire_carries_what_it_must(sheet: Sheet) -> None:
    """In each leg, in each case, fuse or trip is within what the wire may carry there; no wire is left out."""
    plan = sheet.plan
    for wire in (plan.feed, *plan.outputs, *plan.fed, *plan.returns):
        assert all(spot.must_ma <= spot.may_ma for spot in sheet.spots(wire)), wire.name
    with_legs = [wire for wire in (*plan.outputs, *plan.fed, *plan.returns) if wire.row["legs"]]
    assert {wire for _, wire in sheet.protected()} == {plan.feed, *with_legs}


def test_inrush_is_within_the_peak(sheet: Sheet) -> None:
    """No circuit jumps above its output's peak, nor longer than that holds."""
    for port in sheet.plan.circuits:
        height_ma, duration_ms = inrush(sheet.plan.loads_of(port))
        output = sheet.unit.ports[port]
        assert height_ma <= amount(output["peak"], "A") * 1000
        assert duration_ms <= amount(output["peak_for"], "ms")


def test_returns_are_dealt(sheet: Sheet) -> None:
    """Each return ends at the nearest earth point; loads fill one after the other, as far as 4 mm2 serves."""
    plan, bike = sheet.plan, sheet.bike
    for point in dict.fromkeys(wire.name for wire in plan.returns):
        mine = [wire for wire in plan.returns if wire.name == point]
        assert {wire.source for wire in mine} == {nearest_earth(bike, plan.frame, point)}
        told = [set(wire.row["loads"]) for wire in mine]
        assert told == ([set(names) for names in dealt(bike, point, mine[0].legs, sheet.every)] or [set()])


def test_legs_are_as_long_as_they_are_told(sheet: Sheet) -> None:
    """The legs that a wire is led through are together as long as the shortest way that joins its ends."""
    for wire in (wire for wire in sheet.plan.wires if wire.kind != "onward"):
        told = [sheet.bike.leg(leg) for leg in wire.row["legs"]]
        assert max(length_mm(told), 300 if wire.kind == "feed" else 0) == sheet.run_mm(wire)


def test_drops_are_within_their_limits(sheet: Sheet) -> None:
    """Shares of the running voltage over the whole path: 5 %, a headlamp's 0.5 V where that is less, others 10 %."""
    for wire in sheet.plan.outputs:
        for load in sheet.plan.loads_of(wire.name):
            assert sheet.worst_uv(wire, load) <= limit_uv(sheet, load)


def test_what_lies_alongside_is_warned_of(sheet: Sheet) -> None:
    """A wire that is not ours, above what it may carry beside the loaded wires of a leg, brings a warning."""
    for entry in sheet.bike.alongside:
        if "current" not in entry:
            continue
        size, drawn = str(entry["size"]).split(" ")[0], amount(entry["current"], "A")
        on = [now for now in sheet.every if now.case.has(frozenset(entry["when"]))]
        legs = alongside_legs(sheet.plan.frame, entry)
        least = min(may_carry_ma(size, leg, loaded_in(sheet.plan, leg, now)) for now in on for leg in legs)
        said = [text for text in sheet.printed["warnings"] if text.startswith(f"{entry['name']}: ")]
        assert bool(said) == (drawn * 1000 > least)
        assert all(f" may carry {Decimal(least) / 1000:f} A " in text for text in said)


def test_no_wire_is_thicker_than_it_must_be(sheet: Sheet) -> None:
    """Feed, circuits, fed loads and returns: the size serves, and no thinner reel would, all else as it is."""
    plan = sheet.plan
    for wire in (plan.feed, *plan.outputs, *plan.fed, *plan.returns):
        assert serves(sheet, wire), wire.name
        assert [other.size for other in thinner(sheet, wire) if serves(sheet, other)] == [], wire.name


def test_wires_are_numbered_in_their_order(sheet: Sheet) -> None:
    """Wires from 1 up, ways of each connector and of each multiplexer too; the label has the circuit and a number."""
    wires = sheet.printed["wires"]
    assert [wire["number"] for wire in wires] == list(range(1, len(wires) + 1))
    assert len({wire["wire"] for wire in wires}) == len(wires)
    assert all(wire["wire"].rpartition(".")[0] == wire["circuit"] for wire in wires)
    ways: dict[str, list[int]] = {}
    for way in (way for wire in wires for way in wire["connectors"]):
        ways.setdefault(way["at"], []).append(way["way"])
    assert all(numbers == list(range(1, len(numbers) + 1)) for numbers in ways.values())
    for box in sheet.printed["multiplexers"]:
        assert [way["way"] for way in box["inputs"]] == list(range(1, len(box["inputs"]) + 1))


def test_pieces_are_as_long_together_as_their_circuits(sheet: Sheet) -> None:
    """What is cut piece by piece for a port, for a return and for what is fed is what its line says."""
    printed, cut = sheet.printed, defaultdict[str, Decimal](Decimal)
    for wire in printed["wires"]:
        cut[wire["circuit"]] += sum(map(Decimal, map(str, wire["cut_mm"])))
    told = {line["port"]: line["cut_mm"] for line in (*printed["outputs"], *printed["inputs"])}
    told |= {f"feed of {line['name']}": line["cut_mm"] for line in printed["fed"]}
    joint = [line for line in printed["returns"] if line["kind"] == "return" and line["number"] == 1]
    told |= {f"return {line['name']}": line["cut_mm"] for line in joint}
    told["feed"] = printed["feed"]["cut_mm"]
    assert {name: cut[name] for name in told} == told

"""What a printed plan has decided is allowed: by the sums of the sheet. Each check returns what is wrong, in words."""

from collections import Counter, defaultdict
from collections.abc import Callable, Iterator
from decimal import Decimal
from fractions import Fraction

from oracle.circuits import Circuit
from oracle.electrics import trip_ma
from oracle.fuses import STEPS_MA

from .ampacity import loaded_in, may_carry_ma
from .circuits import bank_ma, inrush, sums_ma, total_ma
from .cutting import every_piece
from .drops import fed_uv, feed_uv, output_uv
from .figures import Sheet
from .frame import length_mm
from .looms import alongside_legs
from .returning import dealt, nearest_earth
from .sizing import limit_uv, serves, thinner
from .tables import F


def worst_cases_of_circuits(sheet: Sheet) -> Iterator[str]:
    """In the case that is named beside the drop of a load on an output it is what is told, and in no case more."""
    plan = sheet.plan
    for wire in plan.outputs:
        for load in plan.loads_of(wire.port):
            told = wire.row["drop_cases"][load.name]
            if told == "never on":
                if sheet.on_output(wire, load):
                    yield f"{load.name} on {wire.name} is told as never on"
            elif output_uv(plan, wire, load, sheet.now(told)) != sheet.worst_uv(wire, load):
                yield f"{load.name} on {wire.name} loses more in another case than {told}"


def worst_cases_of_feeds(sheet: Sheet) -> Iterator[str]:
    """The same of a unit's sum, of its feed, and of each load with a fuse of its own."""
    plan = sheet.plan
    for wire in plan.fed:
        load = sheet.bike.load(wire.name)
        named = wire.row["drop_case"]
        most = max(fed_uv(plan, wire, load, now) for now in sheet.every if now.of(load))
        if fed_uv(plan, wire, load, sheet.now(named)) != most:
            yield f"{wire.name} loses more in another case than {named}"
    for wire in plan.feeds:
        if total_ma(plan, sheet.now(wire.row["worst_case"]), wire.unit) != sheet.worst_ma(wire.unit):
            yield f"{wire.at}: {wire.row['worst_case']} is not the worst case"
        most = max(feed_uv(plan, now, wire.unit) for now in sheet.every)
        if feed_uv(plan, sheet.now(wire.row["drop_case"]), wire.unit) != most:
            yield f"{wire.at}: more is lost than in {wire.row['drop_case']}"


def none_worse_than_told(sheet: Sheet) -> Iterator[str]:
    """Unit and banks: the most in any case is in one that is told; all within their limits."""
    for seat in sheet.plan.seats:
        told = [sheet.now(row["case"]) for row in seat.printed["cases"]]
        sums: list[tuple[str, Fraction, Fraction, Fraction]] = []
        for bank, limit_ma in seat.unit.read.banks.items():
            drawn = [
                [bank_ma(sheet.plan, sums_ma(sheet.plan, now, seat.number), bank) for now in cases]
                for cases in (sheet.every, told)
            ]
            sums.append((f"bank {bank}", max(drawn[0]), max(drawn[1]), F(limit_ma)))
        most = max(total_ma(sheet.plan, now, seat.number) for now in told)
        sums.append(("unit", sheet.worst_ma(seat.number), most, seat.unit.limit_a * 1000))
        for name, worst, worst_told, limit in sums:
            if worst != worst_told:
                yield f"{name}: {worst} mA in some case, {worst_told} mA in those told"
            if worst > limit:
                yield f"{name}: {worst} mA is above its limit"


def main_fuses(sheet: Sheet) -> Iterator[str]:
    """A step of ISO 8820-3, 1.25 x the worst case or more, above each trip, within unit and feed."""
    plan = sheet.plan
    for seat in plan.seats:
        trips = [ma * 1000 for (unit, _), ma in plan.trips_a.items() if unit == seat.number]
        for row in seat.printed["room_for"]:
            later = plan.bike.later[row["load"]].load
            trips.append(F(trip_ma(Circuit((later,), ()), seat.unit.outputs[row["port"]]) or 0))
        fuse_ma, worst = seat.main_fuse_a * 1000, max(sheet.worst_ma(seat.number), F(plan.bike.read.charging_ma))
        largest = seat.unit.read.largest
        kept = {
            "a step": fuse_ma in STEPS_MA,
            "1.25 x the worst case": fuse_ma >= F(5, 4) * worst,
            "above every trip": all(trip < fuse_ma for trip in trips),
            "within the unit's largest": fuse_ma <= seat.unit.read.fuse_max_ma,
            "the terminal": largest is None or plan.feeds[seat.number].mm2 <= largest,
        }
        yield from (f"main fuse {seat.main_fuse_a} A: not {name}" for name, is_kept in kept.items() if not is_kept)


def carried(sheet: Sheet) -> Iterator[str]:
    """In each leg, in each case, fuse or trip is within what the wire may carry there; no wire is left out."""
    plan = sheet.plan
    for wire in (*plan.feeds, *plan.outputs, *plan.fed, *plan.returns):
        if any(spot.must_ma > spot.may_ma for spot in sheet.spots(wire)):
            yield f"{wire.at} does not carry what it must"
    with_legs = {wire.at for wire in (*plan.outputs, *plan.fed, *plan.returns) if wire.row["legs"]}
    told = {wire.at for _, _, wire in sheet.protected()}
    if told != {wire.at for wire in plan.feeds} | with_legs:
        yield f"protection is told of {sorted(told)}"


def within_peaks(sheet: Sheet) -> Iterator[str]:
    """No circuit jumps above its output's peak."""
    for unit, port in sheet.plan.circuits:
        if inrush(sheet.plan.loads_of((unit, port)))[0] > sheet.plan.seats[unit].unit.outputs[port].peak_ma:
            yield f"{port}: inrush above the peak"


def dealt_right(sheet: Sheet) -> Iterator[str]:
    """Each return ends at the nearest earth point; loads fill one after the other, as far as the thickest serves."""
    plan, bike = sheet.plan, sheet.bike
    for point in dict.fromkeys(wire.name for wire in plan.returns):
        mine = [wire for wire in plan.returns if wire.name == point]
        if {wire.source for wire in mine} != {nearest_earth(bike, plan.frame, point)}:
            yield f"{point}: not earthed at the nearest point"
        wanted = [set(names) for names in dealt(bike, point, mine[0].legs, sheet.every)] or [set[str]()]
        if [set(wire.row["loads"]) for wire in mine] != wanted:
            yield f"{point}: returns are dealt as {wanted}"


def legs_as_told(sheet: Sheet) -> Iterator[str]:
    """The legs that a wire is led through are together as long as the shortest way that joins its ends."""
    for wire in (wire for wire in sheet.plan.wires if wire.row and wire.kind != "onward"):
        told = length_mm(sheet.bike.leg(leg) for leg in wire.row["legs"])
        least = sheet.bike.usual("shortest feed", "mm") if wire.kind == "feed" else F(0)
        if max(told, least) != sheet.run_mm(wire):
            yield f"{wire.at}: its legs are {told} mm together"


def within_drops(sheet: Sheet) -> Iterator[str]:
    """Shares of the running voltage over the whole path: 5 %, a headlamp's 0.5 V where that is less, others 10 %."""
    for wire in sheet.plan.outputs:
        for load in sheet.plan.loads_of(wire.port):
            if sheet.worst_uv(wire, load) > limit_uv(sheet, load):
                yield f"{load.name} on {wire.name} loses too much"


def alongside_warned(sheet: Sheet) -> Iterator[str]:
    """A wire that is not ours, above what it may carry beside the loaded wires of a leg, brings a warning."""
    bike, plan = sheet.bike, sheet.plan
    for entry, read in zip(bike.alongside, bike.read.alongside, strict=True):
        if "current" not in entry or "size" not in entry:
            continue
        size, legs = bike.read.stock.wire(entry["size"]), alongside_legs(plan.frame, entry)
        on = [now for now in sheet.every if now.case.has(read.when)]
        may = [may_carry_ma(bike, size, leg, loaded_in(plan, leg, now)) for now in on for leg in legs]
        said = [text for text in plan.printed["warnings"] if text.startswith(f"{entry['name']}: ")]
        if bool(said) != bool(may and read.current_ma > min(may)):
            yield f"{entry['name']}: carries {read.current_ma} mA of {may} mA, and is told as {said}"
        if any(f" may carry {Decimal(min(may)) / 1000:f} A " not in text for text in said):
            yield f"{entry['name']}: may carry {min(may)} mA, and is told as {said}"


def none_too_thick(sheet: Sheet) -> Iterator[str]:
    """Feed, circuits, fed loads and returns: the size serves, and no thinner reel would, all else as it is."""
    plan = sheet.plan
    for wire in (*plan.feeds, *plan.outputs, *plan.fed, *plan.returns):
        if not serves(sheet, wire):
            yield f"{wire.at}: its size does not serve"
        yield from (f"{wire.at}: {one.mm2} mm2 would do" for one in thinner(sheet, wire) if serves(sheet, one))


def numbered(sheet: Sheet) -> Iterator[str]:
    """Wires from 1 up, ways of each connector and of each multiplexer too; the label has the circuit and a number."""
    wires = sheet.printed["wires"]
    if [wire["number"] for wire in wires] != list(range(1, len(wires) + 1)):
        yield "wires are not numbered from 1 up"
    if len({wire["wire"] for wire in wires}) != len(wires):
        yield "two wires have one label"
    if any(wire["wire"].rpartition(".")[0] != wire["circuit"] for wire in wires):
        yield "a label is not its circuit's"
    ways: dict[str, list[int]] = {}
    for way in (way for wire in wires for way in wire["connectors"]):
        ways.setdefault(way["at"], []).append(way["way"])
    for box in sheet.plan.boxes:
        ways[f"multiplexer {box.name}"] = [way["way"] for way in box.row["inputs"]]
    for where, found in ways.items():
        if found != list(range(1, len(found) + 1)):
            yield f"{where}: ways are numbered {found}"


def pieces_add_up(sheet: Sheet) -> Iterator[str]:
    """What is cut piece by piece for a port, for a return and for what is fed is what its line says."""
    cut = defaultdict[str, Decimal](Decimal)
    for wire in sheet.printed["wires"]:
        cut[wire["circuit"]] += sum(map(Decimal, map(str, wire["cut_mm"])))
    plan, told = sheet.plan, dict[str, Decimal]()
    several = len(plan.seats) > 1
    for wire in (*plan.outputs, *plan.inputs, *plan.feeds):
        if not several:
            told[wire.name] = wire.row["cut_mm"]
    told |= {f"feed of {wire.name}": wire.row["cut_mm"] for wire in plan.fed}
    joint = [wire for wire in plan.returns if wire.row["number"] == 1]
    told |= {f"return {wire.name}": wire.row["cut_mm"] for wire in joint}
    for name, cut_mm in told.items():
        if cut[name] != cut_mm:
            yield f"{name}: its pieces are {cut[name]} mm together, told are {cut_mm} mm"


def cut_as_worked_out(sheet: Sheet) -> Iterator[str]:
    """The pieces that are listed are those that are worked out: as many of each length and size."""
    stock = sheet.bike.read.stock
    told = Counter(
        (F(str(mm)), stock.wire(wire["size"]).area) for wire in sheet.printed["wires"] for mm in wire["cut_mm"]
    )
    worked = Counter((F(mm), mm2) for mm, mm2 in every_piece(sheet.plan))
    for (mm, mm2), count in (told - worked).items():
        yield f"{count} of {float(mm)} mm, {float(mm2)} mm2 are told, and not worked out"
    for (mm, mm2), count in (worked - told).items():
        yield f"{count} of {float(mm)} mm, {float(mm2)} mm2 are worked out, and not told"


Check = Callable[[Sheet], Iterator[str]]
DECISIONS: tuple[Check, ...] = (
    worst_cases_of_circuits, worst_cases_of_feeds, none_worse_than_told, main_fuses, carried, within_peaks,
    dealt_right, legs_as_told, within_drops, alongside_warned, none_too_thick, numbered, pieces_add_up,
    cut_as_worked_out,
)  # fmt: skip

"""A plan of a loom that is built, beside what was printed when it was made: what stays, what is new, what is dead.

A wire keeps its number, label, size and length for as long as it lies; what is new is numbered on from the last number
that any wire ever had; dead wire stays in the looms. Only new wire costs anything.
"""

import re
from collections.abc import Callable, Iterator
from fractions import Fraction

from .cutting import NOTHING, piece, weight_g
from .decisions import DECISIONS, cut_as_worked_out, dealt_right, none_too_thick, numbered
from .figure import amperes, exact
from .figures import TABLES, Row, Sheet
from .frame import length_mm
from .tables import F
from .things import Leg
from .wires import Json, Plan, Wire

ENDS = {"fuse": "battery", **dict.fromkeys(("switch", "own switch", "multiplexer", "dash"), "load")}
"""A row of the table of ends for what an end of a wire is called in the list; others are called alike."""
NOT_IN_THE_GOAL = ("supply", "unit earth")

CIRCUITS = {
    "feed": "feed", "unit earth": "unit earth", "fed": "feed of {name}", "return": "return {name}",
    "sender return": "return of {name}", "coil lead": "coil of {name} relay", "multiplexer": "{port}",
}  # fmt: skip
"""How the list of wires names the circuits of each sort of wire; others go by their names."""


def _is_used(wire: Json) -> bool:
    return wire.get("used", True) is not False


class BuiltSheet(Sheet):
    """The sheet of a plan with what was printed of the loom as it was built."""

    tables = (*TABLES, "order")

    def __init__(self, plan: Plan, built: Json) -> None:
        """Take the plan, and what ``plan --json`` printed when the loom was made."""
        super().__init__(plan)
        self.built = built
        self.lying: dict[int, Json] = {wire["number"]: wire for wire in built["wires"]}
        self.last = int(built.get("last_number", max(self.lying)))
        self.dead_before = {wire["number"] for wire in built.get("dead_wires", ())}
        self._idle_before = self.dead_before | {wire["number"] for wire in built["wires"] if not _is_used(wire)}
        wires: list[Json] = self.printed["wires"]
        self.kept = [wire for wire in wires if wire["number"] in self.lying]
        self.new = [wire for wire in wires if wire["number"] not in self.lying]
        self.dead: list[Json] = self.printed["dead_wires"]
        self.idle = [*self.dead, *(wire for wire in self.kept if not _is_used(wire))]
        """What leads to nothing any more; such a wire of a return that is used lies among the others."""
        self.change: Json = self.printed["change"]

    def _legs(self, wire: Json) -> list[Leg]:
        return [self.bike.leg(name) for name in wire["legs"]]

    # --- figures

    def runs(self) -> Iterator[Fraction]:
        """What the goal counts is new."""
        counted = (wire for wire in self.new if wire["kind"] not in NOT_IN_THE_GOAL)
        return (length_mm(self._legs(wire)) + self._more_mm(wire) for wire in counted)

    def _more_mm(self, wire: Json) -> Fraction:
        """Return what a feed's wire from the fuse to the unit is longer than its legs: it is never shorter."""
        if wire["kind"] != "feed" or wire["to"]["kind"] != "unit":
            return NOTHING
        return max(NOTHING, self.bike.usual("shortest feed", "mm") - length_mm(self._legs(wire)))

    def copper_g(self) -> Fraction:
        """Return what weighs that is new."""
        stock = self.bike.read.stock
        return sum((weight_g(mm, stock.wire(wire["size"]).area) for wire in self.new for mm in wire["cut_mm"]), F(0))

    def in_leg(self, leg: Leg) -> list[Fraction]:
        """Return the diameters (mm) of all that lies in a leg, dead wire with it."""
        stock = self.bike.read.stock
        dead = [stock.wire(wire["size"]) for wire in self.dead for one in self._legs(wire) if one == leg]
        return super().in_leg(leg) + [F(wire.diameter_um, 1000) for wire in dead]

    def cut_mm(self, wire: Wire) -> int:
        """Return what lies of a wire, whenever it was cut."""
        circuit, data = self._circuit(wire), wire.kind == "multiplexer"
        pieces = (piece for piece in self.printed["wires"] if piece["circuit"] == circuit)
        return int(sum(sum(piece["cut_mm"]) for piece in pieces if not data or piece["kind"] == "multiplexer data"))

    def _circuit(self, wire: Wire) -> str:
        """Return what the list of wires calls the circuit of a wire of the plan."""
        if wire.kind == "return" and wire.row["number"] > 1:
            return f"return {wire.row['number']} from {wire.name}"
        if wire.kind == "switch":
            box = next(box for box in self.plan.boxes if wire.at.startswith(f"{box.at}/"))
            return f"{box.name} way {wire.row['way']}"
        return CIRCUITS.get(wire.kind, "{name}").format(name=wire.name, port=wire.row.get("port"))

    def order(self) -> Iterator[Row]:
        """The numbers of the change order: wires by theirs, what is cut new, the worst case before and after."""
        yield "last_number", exact(self.last + len(self.new))
        yield "change/before/worst_a", exact(F(str(self.built["feed"]["worst_a"])))
        yield "change/after/worst_a", amperes(self.worst_ma())
        numbers = {
            "cut_new": [wire["number"] for wire in self.new],
            "take_out": sorted({wire["number"] for wire in self.idle} - self._idle_before),
        }
        for key, wanted in numbers.items():
            yield from ((f"change/{key}/{place}/number", exact(number)) for place, number in enumerate(wanted))
        numbers_of = {wire["wire"]: wire["number"] for wire in (*self.printed["wires"], *self.dead)}
        for key in ("alter", "join"):
            for place, one in enumerate(self.change[key]):
                yield f"change/{key}/{place}/number", exact(numbers_of[one["wire"]])
        for place, wire in enumerate(self.new):
            for piece_at, mm in enumerate(self._cut_mm(wire)):
                yield f"change/cut_new/{place}/cut_mm/{piece_at}", exact(mm)
        for place, wire in enumerate(self.dead):
            before = self.lying.get(wire["number"], wire)
            yield f"dead_wires/{place}/number", exact(before["number"])
            for piece_at, mm in enumerate(before["cut_mm"]):
                yield f"dead_wires/{place}/cut_mm/{piece_at}", exact(F(str(mm)))

    def _cut_mm(self, wire: Json) -> Iterator[int]:
        """Return the pieces of a wire: it is parted at each connector on its way."""
        bike, stretch = self.bike, list[Leg]()
        start, point = wire["from"]["kind"], wire["from"]["at"]
        for leg in self._legs(wire):
            stretch.append(leg)
            point = leg.ends[1] if leg.ends[0] == point else leg.ends[0]
            if point in bike.connectors and point != wire["to"]["at"]:
                yield piece(bike, ENDS.get(start, start), "connector", stretch).mm
                start, stretch = "connector", []
        end = wire["to"]["kind"]
        yield piece(bike, ENDS.get(start, start), ENDS.get(end, end), stretch, self._more_mm(wire)).mm


# --- what may not differ from the loom as built


def what_stays(sheet: BuiltSheet) -> Iterator[str]:
    """The unit stays where it is; a wire that lies is as it was, but for an end that is cut and joined anew."""
    for key in ("place", "turned"):
        if sheet.printed[key] != sheet.built[key]:
            yield f"{key}: built as {sheet.built[key]}, told as {sheet.printed[key]}"
    joined = {one["number"] for one in sheet.change["join"]}
    for wire in sheet.kept:
        was = sheet.lying[wire["number"]]
        same = ("wire", "circuit", "kind", "port", "size", "legs", "cut_mm", "connectors")
        yield from (f"{was['wire']}: {key} is not as built" for key in same if wire[key] != was[key])
        ends = sum(wire[end] != was[end] for end in ("from", "to"))
        if ends != (wire["number"] in joined):
            yield f"{was['wire']}: {ends} of its ends are elsewhere"
    if not joined <= {wire["number"] for wire in sheet.kept}:
        yield "what is cut and joined anew does not lie any more"


def none_lost(sheet: BuiltSheet) -> Iterator[str]:
    """Each wire that was built lies or is dead; new ones are numbered on, and told as they are to be cut."""
    there = sorted([wire["number"] for wire in (*sheet.kept, *sheet.dead)])
    if there != sorted({*sheet.lying, *sheet.dead_before}):
        yield f"of the wires that were built, {there} are told"
    if sorted(wire["number"] for wire in sheet.new) != list(range(sheet.last + 1, sheet.last + 1 + len(sheet.new))):
        yield "new wires are not numbered on"
    if len({wire["wire"] for wire in sheet.printed["wires"]}) != len(sheet.printed["wires"]):
        yield "two wires have one label"
    if sheet.change["cut_new"] != sheet.new:
        yield "what is to be cut new is not what lies new"
    for wire in sheet.dead:
        if wire["number"] in sheet.lying and wire != sheet.lying[wire["number"]]:
            yield f"{wire['wire']} is dead and not as built"


def joins_and_comes_off(sheet: BuiltSheet) -> Iterator[str]:
    """A wire that joins what stays is new, one that comes off is dead."""
    new, idle = ({wire["number"] for wire in wires} for wires in (sheet.new, sheet.idle))
    for one in sheet.change["alter"]:
        if one["number"] not in (new if one["joins"] else idle):
            yield f"{one['wire']} is neither new nor out of use"


def returns_keep_their_loads(sheet: BuiltSheet) -> Iterator[str]:
    """What was on a return that stays is on it yet; where one of a point is set anew, all of it may be dealt anew."""
    touched = {*sheet.change["touched_first"], *sheet.change["touched"]}
    for point in dict.fromkeys(line["from"] for line in sheet.built["returns"]):
        before, after = (
            {line.get("number", 1): set(line.get("loads", ())) for line in plan["returns"] if line["from"] == point}
            for plan in (sheet.built, sheet.printed)
        )
        names = {f"return {point}", *(f"return {number} from {point}" for number in before)}
        there = set().union(*after.values())
        for number, loads in before.items() if not names & touched else ():
            if not loads & there <= after.get(number, set()):
                yield f"{point}: return {number} had {loads}, and has {after.get(number)}"


def ways_are_their_own(sheet: BuiltSheet) -> Iterator[str]:
    """No two wires have one way of a connector, dead ones among them: they may be left in it."""
    taken: dict[tuple[str, int], list[int]] = {}
    for wire in (*sheet.kept, *sheet.new, *sheet.dead):
        for way in wire["connectors"]:
            taken.setdefault((way["at"], way["way"]), []).append(wire["number"])
    yield from (f"{at}: wires {numbers} are on way {way}" for (at, way), numbers in taken.items() if len(numbers) > 1)


def trips_and_fuse(sheet: BuiltSheet) -> Iterator[str]:
    """A main fuse or a trip that is another one is told with both, and no other is."""
    before, after = ({"main fuse": plan["feed"]["main_fuse_a"]} for plan in (sheet.built, sheet.printed))
    for trips, plan in ((before, sheet.built), (after, sheet.printed)):
        trips |= {f"{line['port']}: trip": line["trip_a"] for line in plan["outputs"]}
    other = {name: f"{after[name]} A" for name in before if name in after and before[name] != after[name]}
    said: list[str] = sheet.change["set_anew"]
    for name, now in other.items():
        port, _, what = name.partition(": ")
        anew = (text for text in said if text.startswith(f"{port}: ") and text.endswith(f" {what} {now}"))
        if f"{name}{'' if what else ':'} {now} instead of {before[name]} A" not in said and not any(anew):
            yield f"{name}: {now} instead of {before[name]} A is not told"
    for text in said:
        name = re.sub(r":? [\d.]+ A instead of [\d.]+ A$", "", text)
        if name != text and name not in other:
            yield f"told is {text}"


def tested_again(sheet: BuiltSheet) -> Iterator[str]:
    """Each circuit with new wire, or with a wire in a leg that is opened, is on the list, and says so."""
    listed = {line["circuit"]: line for line in sheet.change["test_again"]}
    new, opened = {wire["circuit"] for wire in sheet.new}, sheet.change["opened"]
    for circuit in dict.fromkeys(wire["circuit"] for wire in sheet.printed["wires"]):
        passed = {leg for wire in sheet.printed["wires"] if wire["circuit"] == circuit for leg in wire["legs"]}
        through = [leg for leg in opened if leg in passed]
        line = listed.get(circuit, {"new": False, "opened": []})
        if line["new"] != (circuit in new):
            yield f"{circuit}: new wire is told as {line['new']}"
        if sorted(line["opened"]) != sorted(through):
            yield f"{circuit}: opened are {line['opened']}, its wires pass {through}"


NOT_OF_BUILT = (numbered, cut_as_worked_out, none_too_thick, dealt_right)
OF_ANY = tuple(check for check in DECISIONS if check not in NOT_OF_BUILT)
"""Numbers go on, pieces lie as they were cut, what lies is as thick as it is and has the loads that it had; all else is
asked as of any plan."""
OF_BUILT: tuple[Callable[[BuiltSheet], Iterator[str]], ...] = (
    what_stays, none_lost, joins_and_comes_off, returns_keep_their_loads, ways_are_their_own, trips_and_fuse,
    tested_again,
)  # fmt: skip

"""Every figure of a printed plan, worked out, by where it stands in the document."""

from collections.abc import Iterator
from fractions import Fraction

from oracle.fuses import step_from
from oracle.shown import shown_names
from oracle.things import Load

from . import ampacity, cutting, drops, returning, supplied
from .cases import Currents, case_named, cases_of
from .circuits import bank_ma, inrush, least_trip_a, spare_mm, steady_ma, sums_ma, total_ma
from .entries import several
from .figure import Figure, amperes, exact, volts
from .leads import leads_of
from .looms import in_leg, thick_mm
from .tables import RELAY_COIL_MA, F, rounded_up
from .things import Leg
from .wires import Json, Plan, Wire

Row = tuple[str, Figure]


TABLES = (
    "whole", "cases", "outputs", "inputs", "feed", "fed", "returns", "other_wires", "multiplexers", "shown", "legs",
    "protection", "lamps", "cranking", "leads", "energy",
)  # fmt: skip


class Sheet:
    """A plan with all that is worked out of it."""

    tables: tuple[str, ...] = TABLES
    """The methods that work something out, each a part of the document."""

    def __init__(self, plan: Plan) -> None:
        """Take a plan; of cases in which the same is on, the first stands for all."""
        self.plan, self.bike, self.printed = plan, plan.bike, plan.printed
        first: dict[tuple[bool, frozenset[str], frozenset[int]], Currents] = {}
        for case in cases_of(self.bike):
            now = Currents(self.bike, case)
            beside = frozenset(n for n, one in enumerate(self.bike.read.alongside) if case.has(one.when))
            first.setdefault((case.state == "cranking", frozenset(now.on), beside), now)
        self.every = list(first.values())
        self.loaded = {
            (now.case, leg.name): ampacity.loaded_in(plan, leg, now) for now in self.every for leg in self.bike.legs
        }

    def now(self, label: str) -> Currents:
        """Return what is drawn in a case by its name."""
        return Currents(self.bike, case_named(label))

    # --- sums

    def whole(self) -> Iterator[Row]:
        """Cost, run, spare ports, copper."""
        run, spare = sum(self.runs(), F(0)), spare_mm(self.plan)
        yield "wire_run_mm", exact(run)
        yield "spare_port_loss_mm", exact(spare)
        yield "cost_mm", exact(run + spare)
        yield "bound_mm", exact(run + spare)
        yield "copper_g", Figure(self.copper_g(), 0.001)

    def copper_g(self) -> Fraction:
        """Return what all that is cut weighs."""
        return cutting.copper_g(self.plan)

    def runs(self) -> Iterator[Fraction]:
        """What the goal counts: not the unit's own earth, nor the supply to switches; of a circuit its tree, once."""
        for wire in self.plan.wires:
            if wire.kind not in ("supply", "unit earth", "onward"):
                yield self.run_mm(wire)

    def cases(self) -> Iterator[Row]:
        """What the unit and its banks give in each case that is told."""
        for seat in self.plan.seats:
            for number, row in enumerate(seat.printed["cases"]):
                by_port = sums_ma(self.plan, self.now(row["case"]), seat.number)
                at, read = f"{seat.at}cases/{number}", seat.unit.read
                yield f"{at}/current_a", amperes(sum(by_port.values(), F(0)))
                yield f"{at}/limit_a", exact(seat.unit.limit_a)
                for place, bank in enumerate(row["banks"]):
                    yield f"{at}/banks/{place}/current_a", amperes(bank_ma(self.plan, by_port, bank["bank"]))
                    yield f"{at}/banks/{place}/limit_a", amperes(read.banks[bank["bank"]])

    # --- wires

    def run_mm(self, wire: Wire) -> Fraction:
        """Return the shortest run that joins all that a wire leads to; a feed's is 300 mm at least."""
        if wire.kind == "fed":
            return sum((self.run_mm(stretch) for stretch in self.plan.stretches(wire)), F(0))
        tips = [tip for one in (wire, *self.plan.onward_of(wire)) for tip in one.tips]
        ends = {wire.source, *(tip.point for tip in tips), *([wire.row["from"]] if wire.kind == "return" else [])}
        run = self.plan.frame.shortest_mm(ends, {leg for tip in tips if tip.load for leg in tip.load.avoid})
        return max(run, self.bike.usual("shortest feed", "mm")) if wire.kind == "feed" else run

    def _lengths(self, wire: Wire) -> Iterator[Row]:
        yield f"{wire.at}/run_mm", exact(self.run_mm(wire))
        yield f"{wire.at}/cut_mm", exact(self.cut_mm(wire))

    def cut_mm(self, wire: Wire) -> int:
        """Return what a wire is cut from, all its pieces together."""
        return cutting.cut_mm(self.plan, wire)

    def outputs(self) -> Iterator[Row]:
        """Currents, trips, lengths and drops of the circuits."""
        for wire in self.plan.outputs:
            at, loads = wire.at, self.plan.loads_of(wire.port)
            yield f"{at}/current_a", amperes(steady_ma(loads))
            yield f"{at}/inrush_a", Figure(inrush(loads)[0] / 1000, 1e-6)
            yield f"{at}/trip_a", exact(least_trip_a(loads, self.plan.seats[wire.unit].unit.outputs[wire.name]))
            yield from self._lengths(wire)
            lost = {load.name: self.worst_uv(wire, load) for load in loads}
            yield from ((f"{at}/drops_v/{name}", volts(most)) for name, most in lost.items())
            yield f"{at}/drop_v", volts(max(lost.values()))

    def worst_uv(self, wire: Wire, load: Load) -> Fraction:
        """Return the most that a load on an output loses, in any case in which its circuit feeds it; 0 in none."""
        lost = (drops.output_uv(self.plan, wire, load, now) for now in self.on_output(wire, load))
        return max(lost, default=F(0))

    def on_output(self, wire: Wire, load: Load) -> list[Currents]:
        """Return the cases in which a load's circuit feeds it."""
        return [now for now in self.every if now.of(load, self.plan.circuits[wire.port])]

    def inputs(self) -> Iterator[Row]:
        """Wires of switches: the thinnest reel."""
        for wire in self.plan.inputs:
            yield from self._lengths(wire)
            yield f"{wire.at}/wire_mm2", exact(self.bike.reels[0].area)

    def feed(self) -> Iterator[Row]:
        """Each feed with its worst case."""
        for wire in self.plan.feeds:
            yield from self._lengths(wire)
            yield f"{wire.at}/limit_a", exact(self.plan.seats[wire.unit].unit.limit_a)
            yield f"{wire.at}/worst_a", amperes(self.worst_ma(wire.unit))
            yield f"{wire.at}/drop_v", volts(max(drops.feed_uv(self.plan, now, wire.unit) for now in self.every))

    def worst_ma(self, unit: int = 0) -> Fraction:
        """Return the most that a unit gives in any case."""
        return max(total_ma(self.plan, now, unit) for now in self.every)

    def fed(self) -> Iterator[Row]:
        """Loads with a fuse of their own: the smallest step from 1.25 x steady on."""
        for wire in self.plan.fed:
            load = self.bike.load(wire.name)
            yield f"{wire.at}/current_a", amperes(load.current_ma)
            yield f"{wire.at}/fuse_a", amperes(step_from(F(5 * load.current_ma, 4)) or 0)
            yield from self._lengths(wire)
            on = [now for now in self.every if now.of(load)]
            yield f"{wire.at}/drop_v", volts(max(drops.fed_uv(self.plan, wire, load, now) for now in on))

    def returns(self) -> Iterator[Row]:
        """Joint returns: what comes back at worst, and which of its point each is; senders' have the thinnest reel."""
        numbers: dict[str, int] = {}
        for wire in self.plan.returns:
            numbers[wire.name] = numbers.get(wire.name, 0) + 1
            yield f"{wire.at}/number", exact(numbers[wire.name])
            yield f"{wire.at}/current_a", amperes(max(returning.return_ma(self.plan, wire, now) for now in self.every))
            yield from self._lengths(wire)
        for wire in self.plan.sender_returns:
            yield f"{wire.at}/current_a", exact(0)
            yield f"{wire.at}/wire_mm2", exact(self.bike.reels[0].area)
            yield from self._lengths(wire)

    def other_wires(self) -> Iterator[Row]:
        """Supply to switches, coils of relays, the unit's own earth, what only dashes read."""
        least = self.bike.usual("unit earth", "mm2")
        earth = next((reel for reel in self.bike.reels if reel.area >= least), self.bike.reels[-1])
        for wire in self.plan.others:
            yield from self._lengths(wire)
            yield f"{wire.at}/current_a", amperes(RELAY_COIL_MA if wire.kind == "coil lead" else 0)
            yield f"{wire.at}/wire_mm2", exact((earth if wire.kind == "unit earth" else self.bike.reels[0]).area)
            if wire.kind in ("supply", "coil lead"):
                yield f"{wire.at}/fuse_a", exact(self.bike.usual("supply switch fuse", "A"))

    def multiplexers(self) -> Iterator[Row]:
        """Data and supply of each, and the wires of its switches."""
        thinnest = exact(self.bike.reels[0].area)
        for wire in self.plan.boxes:
            yield f"{wire.at}/ways", exact(int(self.bike.multiplexers[wire.name]["ways"]))
        for wire in (*self.plan.boxes, *self.plan.box_switches):
            yield from self._lengths(wire)
            yield f"{wire.at}/wire_mm2", thinnest

    def shown(self) -> Iterator[Row]:
        """Of what dashes show the number of its lamp, and its own wires where only dashes read it."""
        dashes = {item["name"]: item for item in self.bike.file["loads"] if "shows" in item}
        lamps: dict[tuple[str, str], int] = {}
        for dash, item in dashes.items():
            for lamp, things in enumerate(several(item["shows"]), 1):
                names = shown_names({"shows": [things]}, self.bike.file["loads"], self.bike.file["inputs"])
                lamps |= {(dash, name): lamp for name in names}
        for number, row in enumerate(self.printed["shown"]):
            own = [wire for wire in self.plan.dash_wires if wire.name == row["shows"]]
            yield f"shown/{number}/lamp", exact(lamps[row["dash"], row["shows"]])
            yield f"shown/{number}/own_wires", exact(len(own))
            yield f"shown/{number}/run_mm", exact(sum((self.run_mm(wire) for wire in own), F(0)))

    # --- looms and ampacity

    def legs(self) -> Iterator[Row]:
        """What lies in each leg, and how thick."""
        for number, row in enumerate(self.printed["legs"]):
            leg, at = self.bike.leg(row["leg"]), f"legs/{number}"
            inside = self.in_leg(leg)
            yield f"{at}/wires", exact(len(inside))
            yield f"{at}/diameter_mm", Figure(thick_mm(inside, leg), 0.001)
            yield f"{at}/opening_mm", exact(leg.opening_mm)
            yield f"{at}/opens_to_mm", exact(leg.opens_to_mm)

    def in_leg(self, leg: Leg) -> list[Fraction]:
        """Return the diameters (mm) of all that lies in a leg."""
        return in_leg(self.plan, leg)

    def protection(self) -> Iterator[Row]:
        """Each wire where most of what it may carry is asked of it; of equal ones where it may carry least."""
        for at, row, wire in self.protected():
            spots = self.spots(wire)
            worst = max((spot.must_ma / spot.may_ma, -spot.may_ma) for spot in spots)
            tied = [spot for spot in spots if (spot.must_ma / spot.may_ma, -spot.may_ma) == worst]
            here = [spot for spot in tied if spot.leg == row["leg"]]
            loaded = {max(1, spot.loaded) for spot in here}
            alone = {1} if 2 in loaded else set()  # two lose nothing: no more than one
            yield f"{at}/must_carry_a", amperes(rounded_up(tied[0].must_ma))
            yield f"{at}/carries_a", amperes(tied[0].may_ma)
            yield f"{at}/wire_mm2", exact(wire.mm2)
            yield f"{at}/loaded", exact(max(loaded, default=None), loaded | alone)  # None: its worst is not in that leg
            yield f"{at}/ambient_c", exact(self.bike.leg(row["leg"]).ambient_c)

    def protected(self) -> list[tuple[str, Json, Wire]]:
        """Return the rows of protection, each with where it stands and its wire."""
        plan, parts = self.plan, [(seat.number, seat.at, seat.printed) for seat in self.plan.seats]
        if parts[1:]:
            parts.append((0, "", plan.printed))
        rows = [
            (number, f"{at}protection/{place}", row)
            for number, at, part in parts
            for place, row in enumerate(part["protection"])
        ]
        named = {wire.name: wire for wire in plan.fed}
        for wire in plan.returns:
            number = wire.row["number"]
            named[f"return {number} from {wire.name}" if number > 1 else f"return from {wire.name}"] = wire
        of_unit = {wire.port: wire for wire in (*plan.feeds, *plan.outputs)}
        return [(at, row, of_unit.get((number, row["wire"])) or named[row["wire"]]) for number, at, row in rows]

    def spots(self, wire: Wire) -> list[ampacity.Stress]:
        """Return every leg of a wire in every case; a feed without one in every leg that ends where it lies.

        The wires on from loads' own switches are their circuit's.
        """
        met = [leg for leg in self.bike.legs if wire.source in leg.ends] if wire.kind == "feed" else []
        legs = list(dict.fromkeys(wire.legs)) or met
        cases = [(now, leg, self.loaded[now.case, leg.name]) for now in self.every for leg in legs]
        own = [ampacity.stresses(self.plan, wire, leg, now, loaded) for now, leg, loaded in cases]
        if wire.kind in ("feed", "output", "onward") and not any(spot.must_ma for spot in own):  # never on
            own = [ampacity.alone(self.plan, wire, leg) for leg in legs]
        return own + [spot for one in self.plan.onward_of(wire) for spot in self.spots(one)]

    # --- volts and energy

    def lamps(self) -> Iterator[Row]:
        """What reaches each filament, and the light that is left of it."""
        for seat in self.plan.seats:
            worst = {load.name: F(0) for load in self.bike.loads}
            for wire in (wire for wire in self.plan.outputs if wire.unit == seat.number):
                for load in self.plan.loads_of(wire.port):
                    worst[load.name] = max(worst[load.name], self.worst_uv(wire, load))
            for number, row in enumerate(seat.printed["lamps"]):
                reached = self.bike.running_v - worst[row["load"]] / drops.MICRO
                yield f"{seat.at}lamps/{number}/reached_v", Figure(reached, 1e-4)
                yield f"{seat.at}lamps/{number}/light", Figure(supplied.light(reached, self.bike.running_v), 1e-4)

    def cranking(self) -> Iterator[Row]:
        """What is left while the starter turns, against what each needs."""
        lowest = {load.name: load.lowest_mv for load in self.bike.loads}
        for seat in self.plan.seats:
            for number, (name, left) in enumerate(supplied.cranking_v(self.plan, seat.number)):
                at = f"{seat.at}cranking/{number}"
                least = seat.unit.read.lowest_mv if name == "the unit" else lowest[name]
                yield f"{at}/voltage_v", Figure(left, 1e-4)
                yield f"{at}/lowest_v", exact(None if least is None else least / 1000)

    def leads(self) -> Iterator[Row]:
        """The battery's own leads and the straps while the starter turns, and what is left at it."""
        found = leads_of(self.bike, self.plan.frame)
        for number, lead in enumerate(found):
            at = f"battery_leads/{number}"
            yield f"{at}/current_a", exact(lead.draws_a)
            yield f"{at}/run_mm", exact(lead.run_mm)
            yield f"{at}/cut_mm", exact(lead.cut_mm)
            yield f"{at}/wire_mm2", exact(lead.mm2)
            yield f"{at}/drop_v", Figure(lead.drop_v, 1e-4)
            yield f"{at}/most_v", exact(lead.most_v)
        if found:
            yield "starter_v", Figure(self.bike.cranking_v - sum(lead.drop_v for lead in found), 1e-4)

    def energy(self) -> Iterator[Row]:
        """On the road against the alternator, and at rest against the battery."""
        idle_w = self.bike.idle_w
        for number, row in enumerate(self.printed["energy"]["riding"]):
            at, drawn = f"energy/riding/{number}", supplied.drawn_w(self.plan, row["state"])
            lacking = F(0) if idle_w is None else max(F(0), drawn - idle_w) / self.bike.running_v / 6
            yield f"{at}/drawn_w", Figure(drawn, 0.0005)
            yield f"{at}/idle_w", exact(idle_w)
            yield f"{at}/cruise_w", exact(self.bike.cruise_w)
            yield f"{at}/battery_ah_in_ten_minutes_at_idle", Figure(lacking, 0.001)
        for number, row in enumerate(self.printed["energy"]["resting"]):
            drawn_ma = supplied.resting_ma(self.plan, awake=row["state"] != "asleep")
            yield f"energy/resting/{number}/drawn_ma", exact(drawn_ma)
            yield f"energy/resting/{number}/days", Figure(supplied.days(self.bike, drawn_ma), 0.1)

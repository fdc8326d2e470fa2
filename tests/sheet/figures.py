"""Every figure of a printed plan, worked out, by where it stands in the document."""

from collections.abc import Iterator
from fractions import Fraction

from . import ampacity, cutting, drops, returning, supplied
from .cases import Currents, case_named, cases_of
from .circuits import bank_ma, inrush, least_trip_a, spare_mm, steady_ma, sums_ma
from .figure import Figure, amperes, exact, volts
from .leads import leads_of
from .loads import Load
from .looms import in_leg, thick_mm
from .tables import (
    FUSES_A,
    RELAY_COIL_MA,
    SHORTEST_FEED_MM,
    SUPPLY_SWITCH_FUSE_A,
    UNIT_EARTH_MM2,
    F,
)
from .wires import Json, Plan, Wire

Row = tuple[str, Figure]


class Sheet:
    """A plan with all that is worked out of it."""

    def __init__(self, plan: Plan) -> None:
        """Take a plan; of cases in which the same is on, the first stands for all."""
        self.plan, self.bike, self.unit, self.printed = plan, plan.bike, plan.unit, plan.printed
        first: dict[tuple[bool, frozenset[str], bool], Currents] = {}
        for case in cases_of(self.bike):
            now = Currents(self.bike, case)
            first.setdefault((case.state == "cranking", frozenset(now.on), case.state in ("day", "night")), now)
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
        run, spare = sum(self._runs(), F(0)), spare_mm(self.plan)
        yield "wire_run_mm", exact(run)
        yield "spare_port_loss_mm", exact(spare)
        yield "cost_mm", exact(run + spare)
        yield "bound_mm", exact(run + spare)
        yield "copper_g", Figure(cutting.copper_g(self.plan), 0.001)

    def _runs(self) -> Iterator[Fraction]:
        """What the goal counts: not the unit's own earth, nor the supply to switches; of a circuit its tree, once."""
        for wire in self.plan.wires:
            if wire.kind not in ("supply", "unit earth", "onward"):
                yield self.run_mm(wire)

    def cases(self) -> Iterator[Row]:
        """What the unit and its banks give in each case that is told."""
        for number, row in enumerate(self.printed["cases"]):
            by_port, at = sums_ma(self.plan, self.now(row["case"])), f"cases/{number}"
            yield f"{at}/current_a", amperes(sum(by_port.values(), F(0)))
            yield f"{at}/limit_a", exact(self.unit.limit_a)
            for place, bank in enumerate(row["banks"]):
                yield f"{at}/banks/{place}/current_a", amperes(bank_ma(self.plan, by_port, bank["bank"]))
                yield f"{at}/banks/{place}/limit_a", exact(self.unit.banks[bank["bank"]])

    # --- wires

    def run_mm(self, wire: Wire) -> Fraction:
        """Return the shortest run that joins all that a wire leads to; a feed's is 300 mm at least."""
        if wire.kind == "fed":
            return sum((self.run_mm(stretch) for stretch in self.plan.stretches(wire)), F(0))
        loads = [self.bike.load(tip.name) for tip in wire.tips if wire.kind in ("output", "stretch")]
        tips = [tip for one in (wire, *self.plan.onward_of(wire)) for tip in one.tips]
        ends = {wire.source, *(tip.point for tip in tips), *([wire.row["from"]] if wire.kind == "return" else [])}
        run = self.plan.frame.shortest_mm(ends, {leg for load in loads for leg in load.avoid})
        return max(run, F(SHORTEST_FEED_MM)) if wire.kind == "feed" else run

    def _lengths(self, at: str, wire: Wire) -> Iterator[Row]:
        yield f"{at}/run_mm", exact(self.run_mm(wire))
        yield f"{at}/cut_mm", exact(cutting.cut_mm(self.plan, wire))

    def outputs(self) -> Iterator[Row]:
        """Currents, trips, lengths and drops of the circuits."""
        for number, wire in enumerate(self.plan.outputs):
            at, loads = f"outputs/{number}", self.plan.loads_of(wire.name)
            yield f"{at}/current_a", amperes(steady_ma(loads))
            yield f"{at}/inrush_a", amperes(inrush(loads)[0])
            yield f"{at}/trip_a", exact(least_trip_a(loads, self.unit.ports[wire.name]))
            yield from self._lengths(at, wire)
            lost = {load.name: self.worst_uv(wire, load) for load in loads}
            yield from ((f"{at}/drops_v/{name}", volts(most)) for name, most in lost.items())
            yield f"{at}/drop_v", volts(max(lost.values()))

    def worst_uv(self, wire: Wire, load: Load) -> Fraction:
        """Return the most that a load on an output loses, in any case in which its circuit feeds it."""
        on = [now for now in self.every if now.of(load, self.plan.circuits[wire.name])]
        return max(drops.output_uv(self.plan, wire, load, now) for now in on)

    def inputs(self) -> Iterator[Row]:
        """Wires of switches: the thinnest reel."""
        for number, wire in enumerate(self.plan.inputs):
            yield from self._lengths(f"inputs/{number}", wire)
            yield f"inputs/{number}/wire_mm2", exact(F(self.bike.reels[0]))

    def feed(self) -> Iterator[Row]:
        """The feed with its worst case."""
        yield from self._lengths("feed", self.plan.feed)
        yield "feed/limit_a", exact(self.unit.limit_a)
        yield "feed/worst_a", amperes(self.worst_ma())
        yield "feed/drop_v", volts(max(drops.feed_uv(self.plan, now) for now in self.every))

    def worst_ma(self) -> Fraction:
        """Return the most that the unit gives in any case."""
        return max(sum(sums_ma(self.plan, now).values(), F(0)) for now in self.every)

    def fed(self) -> Iterator[Row]:
        """Loads with a fuse of their own: the smallest step from 1.25 x steady on."""
        for number, wire in enumerate(self.plan.fed):
            at, load = f"fed/{number}", self.bike.load(wire.name)
            yield f"{at}/current_a", amperes(load.steady_ma)
            yield f"{at}/fuse_a", exact(min(step for step in FUSES_A if step * 1000 >= F(5, 4) * load.steady_ma))
            yield from self._lengths(at, wire)
            on = [now for now in self.every if now.of(load)]
            yield f"{at}/drop_v", volts(max(drops.fed_uv(self.plan, wire, load, now) for now in on))

    def returns(self) -> Iterator[Row]:
        """Joint returns: what comes back at worst, and which of its point each is."""
        numbers: dict[str, int] = {}
        for number, wire in enumerate(self.plan.returns):
            numbers[wire.name] = numbers.get(wire.name, 0) + 1
            at = f"returns/{number}"
            yield f"{at}/number", exact(numbers[wire.name])
            yield f"{at}/current_a", amperes(max(returning.return_ma(self.plan, wire, now) for now in self.every))
            yield from self._lengths(at, wire)

    def other_wires(self) -> Iterator[Row]:
        """Supply to switches, coils of relays, the unit's own earth."""
        earth = min(F(reel) for reel in self.bike.reels if F(reel) >= UNIT_EARTH_MM2)
        for number, wire in enumerate(self.plan.others):
            at = f"other_wires/{number}"
            yield from self._lengths(at, wire)
            yield f"{at}/current_a", amperes(RELAY_COIL_MA if wire.kind == "coil lead" else 0)
            yield f"{at}/wire_mm2", exact(earth if wire.kind == "unit earth" else F(self.bike.reels[0]))
            if wire.kind != "unit earth":
                yield f"{at}/fuse_a", exact(SUPPLY_SWITCH_FUSE_A)

    def multiplexers(self) -> Iterator[Row]:
        """Data and supply of each, and the wires of its switches."""
        thinnest, ways = exact(F(self.bike.reels[0])), {box["name"]: box["ways"] for box in self.bike.multiplexers}
        switches = iter(self.plan.box_switches)
        for number, wire in enumerate(self.plan.boxes):
            at = f"multiplexers/{number}"
            yield from self._lengths(at, wire)
            yield f"{at}/ways", exact(int(ways[wire.name]))
            yield f"{at}/wire_mm2", thinnest
            for place in range(len(wire.row["inputs"])):
                yield from self._lengths(f"{at}/inputs/{place}", next(switches))
                yield f"{at}/inputs/{place}/wire_mm2", thinnest

    # --- looms and ampacity

    def legs(self) -> Iterator[Row]:
        """What lies in each leg, and how thick."""
        for number, row in enumerate(self.printed["legs"]):
            leg, at = self.bike.leg(row["leg"]), f"legs/{number}"
            inside = in_leg(self.plan, leg)
            yield f"{at}/wires", exact(len(inside))
            yield f"{at}/diameter_mm", Figure(thick_mm(inside, leg), 0.001)
            yield f"{at}/opening_mm", exact(leg.opening_mm)
            yield f"{at}/opens_to_mm", exact(leg.opens_to_mm)

    def protection(self) -> Iterator[Row]:
        """Each wire where most of what it may carry is asked of it; of equal ones where it may carry least."""
        for number, (row, wire) in enumerate(self.protected()):
            at, spots = f"protection/{number}", self.spots(wire)
            worst = max((spot.must_ma / spot.may_ma, -spot.may_ma) for spot in spots)
            tied = [spot for spot in spots if (spot.must_ma / spot.may_ma, -spot.may_ma) == worst]
            here = [spot for spot in tied if spot.leg == row["leg"]]
            loaded = {max(1, spot.loaded) for spot in here}
            alone = {1} if 2 in loaded else set()  # two lose nothing: no more than one
            yield f"{at}/must_carry_a", amperes(tied[0].must_ma)
            yield f"{at}/carries_a", amperes(tied[0].may_ma)
            yield f"{at}/wire_mm2", exact(F(wire.size))
            yield f"{at}/loaded", exact(max(loaded), loaded | alone)
            yield f"{at}/ambient_c", exact(self.bike.leg(row["leg"]).ambient_c)

    def protected(self) -> list[tuple[Json, Wire]]:
        """Return the rows of protection, each with its wire."""
        plan = self.plan
        named = {wire.name: wire for wire in (plan.feed, *plan.outputs, *plan.fed)}
        for wire in plan.returns:
            number = wire.row["number"]
            named[f"return {number} from {wire.name}" if number > 1 else f"return from {wire.name}"] = wire
        return [(row, named[row["wire"]]) for row in self.printed["protection"]]

    def spots(self, wire: Wire) -> list[ampacity.Stress]:
        """Return every leg of a wire in every case; a feed without one in every leg that ends where it lies.

        The wires on from loads' own switches are their circuit's.
        """
        met = [leg for leg in self.bike.legs if wire.source in leg.ends] if wire.kind == "feed" else []
        legs = list(dict.fromkeys(wire.legs)) or met
        cases = [(now, leg, self.loaded[now.case, leg.name]) for now in self.every for leg in legs]
        own = [ampacity.stresses(self.plan, wire, leg, now, loaded) for now, leg, loaded in cases]
        return own + [spot for one in self.plan.onward_of(wire) for spot in self.spots(one)]

    # --- volts and energy

    def lamps(self) -> Iterator[Row]:
        """What reaches each filament, and the light that is left of it."""
        worst = {load.name: F(0) for load in self.bike.loads}
        for wire in self.plan.outputs:
            for load in self.plan.loads_of(wire.name):
                worst[load.name] = max(worst[load.name], self.worst_uv(wire, load))
        for number, row in enumerate(self.printed["lamps"]):
            reached = self.bike.running_v - worst[row["load"]] / drops.MICRO
            yield f"lamps/{number}/reached_v", Figure(reached, 1e-4)
            yield f"lamps/{number}/light", Figure(supplied.light(reached, self.bike.running_v), 1e-4)

    def cranking(self) -> Iterator[Row]:
        """What is left while the starter turns, against what each needs."""
        left = dict(supplied.cranking_v(self.plan))
        lowest = {load.name: load.lowest_v for load in self.bike.loads} | {"the unit": self.unit.lowest_v}
        for number, row in enumerate(self.printed["cranking"]):
            yield f"cranking/{number}/voltage_v", Figure(left[row["at"]], 1e-4)
            yield f"cranking/{number}/lowest_v", exact(lowest[row["at"]])

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
        for number, row in enumerate(self.printed["energy"]["riding"]):
            at, drawn = f"energy/riding/{number}", supplied.drawn_w(self.plan, row["state"])
            lacking = max(F(0), drawn - self.bike.idle_w) / self.bike.running_v / 6
            yield f"{at}/drawn_w", Figure(drawn, 0.0005)
            yield f"{at}/idle_w", exact(self.bike.idle_w)
            yield f"{at}/cruise_w", exact(self.bike.cruise_w)
            yield f"{at}/battery_ah_in_ten_minutes_at_idle", Figure(lacking, 0.001)
        for number, row in enumerate(self.printed["energy"]["resting"]):
            drawn_ma = supplied.resting_ma(self.plan, awake=row["state"] != "asleep")
            yield f"energy/resting/{number}/drawn_ma", exact(drawn_ma)
            yield f"energy/resting/{number}/days", Figure(supplied.days(self.bike, drawn_ma), 0.1)

"""One bike on one unit: loads with their figures, cases, reels, and the sums that no plan changes."""

from collections.abc import Iterable, Sequence
from dataclasses import replace
from functools import cached_property

from portloom.base.ampacity import TABLE_AMBIENT, carries_in_leg, thinnest
from portloom.base.assumptions import Assumptions
from portloom.base.bike import Bike, Switch
from portloom.base.built import BuiltLoom
from portloom.base.copper import BOUGHT, DEFAULT_REELS, Conductor, Copper, catalogue
from portloom.base.drop import AmpereMetres, share_of
from portloom.base.quantities import Micrometres, MilliAmps, MilliCelsius, MilliVolts
from portloom.base.unit import Unit
from portloom.inputs.checks.sharing import MOST
from portloom.job.cases import Case, Timetable, timetable_of
from portloom.job.circuits import OutputCircuit
from portloom.job.consumers import WHOLE, Consumer, Consumers, Return, consumers_of
from portloom.job.dealing import dealt
from portloom.job.network import Network, Run
from portloom.job.standing import Standing


class Job:
    """A bike, a unit, and what follows from them before any choice is made."""

    def __init__(
        self,
        bike: Bike,
        unit: Unit,
        known: Consumers | None = None,
        network: Network | None = None,
        timetable: Timetable | None = None,
        built: BuiltLoom | None = None,
    ) -> None:
        """Take a bike and a unit that were read without an error.

        ``known``, the loads with their figures, ``network`` and ``timetable``, when they are on, are worked out from
        the bike unless they are given; ``built`` is what of it was built before, read for this bike.
        """
        self.bike = bike
        named = bike.decided_ports if built is None else (*bike.decided_ports, *built.ports)
        self.unit = unit.decided_by(named, bike.out_of_use)
        self.assume = Assumptions(bike.assume)
        self.network = network or Network(bike.frame.legs)
        self.built = None if built is None else Standing(built, bike, self.network)
        """What was built before, if anything."""
        self.loads: Consumers = consumers_of(bike, self.assume) if known is None else known
        """Each with the joint return that it takes; those that were known keep theirs."""
        self.insulation = MilliCelsius(1000 * BOUGHT[self.assume["insulation"]])
        copper: Copper = "tinned" if self.assume.text("copper") == "tinned" else "plain"
        self.catalogue = catalogue(self.insulation // 1000, copper)
        self.reels: tuple[Conductor, ...] = self._reels()
        self._timetable = timetable or timetable_of(bike, self.loads)
        dealing = None if self.built is None else self.built.dealing()
        self.loads = dealt(bike, self.loads, self._one_return_serves, dealing)
        self._returned: dict[tuple[Return, int], MilliAmps] = {}
        self._through: dict[int, MilliAmps] = {}
        self._guests = {
            load.name: tuple(guest for guest in self.loads.guests if load.name in guest.feeders)
            for load in self.loads.on_unit
        }

    def with_load(self, load: Consumer) -> "Job":
        """Return the same job with other figures of a load on the unit, which is on when it was."""
        loads = replace(self.loads, on_unit=swapped(self.loads.on_unit, load), guests=swapped(self.loads.guests, load))
        return Job(self.bike, self.unit, loads, self.network, self._timetable, self.loom)

    @property
    def loom(self) -> BuiltLoom | None:
        """The built loom, if there is one."""
        return None if self.built is None else self.built.loom

    def of_bike(self, bike: Bike) -> "Job":
        """Return the job of a bike with the same frame, on the same unit, in the same loom."""
        return Job(bike, self.unit, network=self.network, built=self.loom)

    def over(self, network: Network, loads: Consumers | None = None) -> "Job":
        """Return the same job over its frame with other legs closed; returns are dealt anew.

        Not so where ``loads`` are given, which know theirs. Raises ValueError where a return has no way to earth.
        """
        return Job(self.bike, self.unit, loads, network, self._timetable)

    def within(self, legs: Iterable[int]) -> "Job":
        """Return the same job where its wires may follow these legs only; raises ValueError as ``over`` does."""
        every = range(len(self.network.legs))
        return self.over(self.network.without(frozenset(every).difference(legs)))

    @property
    def cases(self) -> tuple[Case, ...]:
        """The dominating cases: no sum is larger in any other."""
        return self._timetable.cases

    @property
    def cranking(self) -> tuple[Case, ...]:
        """The dominating cases while cranking."""
        return self._timetable.cranking

    @property
    def steady(self) -> tuple[Case, ...]:
        """The dominating steady-state cases: without cranking, which lasts seconds; wires alongside count."""
        return self._timetable.steady

    @cached_property
    def inputs(self) -> tuple[Switch, ...]:
        """The inputs that the unit reads, each with the dashes that show it: each takes a port, or a way."""
        return tuple(switch for switch in self.wired_inputs if switch.to_unit)

    @cached_property
    def dash_inputs(self) -> tuple[Switch, ...]:
        """The inputs that only a dash reads: they take no port and no way, and no plan changes their wires."""
        return tuple(switch for switch in self.wired_inputs if not switch.to_unit)

    @cached_property
    def unread_inputs(self) -> tuple[Switch, ...]:
        """The inputs of the bike that nothing reads, which are not wired."""
        wired = {switch.name for switch in self.wired_inputs}
        return tuple(switch for switch in self.bike.inputs if switch.name not in wired)

    @cached_property
    def wired_inputs(self) -> tuple[Switch, ...]:
        """Every input that something reads, in the order of the file; one that nothing reads is not wired."""
        there = {load.name for load in self.loads.wired}
        known = (
            switch.shown_at(point for point in self.bike.shown_by(switch.name) if point.dash in there)
            for switch in self.bike.inputs
        )
        return tuple(switch for switch in known if switch.to_unit or switch.shown_by)

    @cached_property
    def alike(self) -> dict[str, int]:
        """For each load on the unit the number of the first load that nothing but its name tells it from.

        Identical loads at one point are counted, not told apart. Where some must be on outputs alike, these are told
        from the others, and the first of them from all; so is each load to which a wire was built.
        """
        first: dict[object, int] = {}
        on = frozenset() if self.built is None else self.built.loom.loads
        return {
            load.name: number
            if load.name in on
            else first.setdefault((load.nature, self._guests[load.name], self._part_in_sets(load.name)), number)
            for number, load in enumerate(self.loads.on_unit)
        }

    @cached_property
    def sets_alike(self) -> dict[tuple[str, ...], tuple[str, ...]]:
        """For each set of loads that must be on outputs alike, as the bike has it, those of them on the unit.

        Sets of which fewer than two are on the unit ask for nothing, and are left out.
        """
        there = {load.name for load in self.loads.on_unit}
        found = {names: tuple(name for name in names if name in there) for names in self.bike.alike}
        return {names: left for names, left in found.items() if len(left) > 1}

    def _part_in_sets(self, name: str) -> tuple[tuple[int, bool], ...]:
        """Return the numbers of the sets that a load is in, each with whether it is the first there."""
        sets = enumerate(self.sets_alike.values())
        return tuple((number, name == names[0]) for number, names in sets if name in names)

    @cached_property
    def overfull_group(self) -> tuple[str, ...] | None:
        """The loads of a share group of more different ones than a bike's file may have in one; None without."""
        groups: dict[str, list[Consumer]] = {}
        for load in self.loads.on_unit:
            if load.share is not None:
                groups.setdefault(load.share, []).append(load)
        for group in groups.values():
            if len({self.alike[load.name] for load in group}) > MOST:
                return tuple(load.name for load in group)
        return None

    def guests_of(self, members: Iterable[Consumer]) -> tuple[Consumer, ...]:
        """Return the loads fed from a circuit with these members, each once, in the order of the file."""
        names = {guest.name for member in members for guest in self._guests.get(member.name, ())}
        return tuple(guest for guest in self.loads.guests if guest.name in names)

    def circuit(self, members: Iterable[Consumer]) -> OutputCircuit:
        """Return the circuit with these members and all that is fed from them."""
        own = tuple(members)
        return OutputCircuit(own, self.guests_of(own))

    def on(self, consumer: Consumer, case: Case) -> int:
        """Tell how often ``consumer`` is on in ``case``: once or not, a guest once for each feeder that is on."""
        return (case.on & self._bits_of(consumer)).bit_count()

    def case_of(self, state: str, events: tuple[str, ...] = ()) -> Case:
        """Return the case of a state with some events, whether it dominates others or not."""
        return Case(state, events, self._timetable.masks.on((state, *events)))

    def case_with(self, names: Iterable[str], state: str, events: tuple[str, ...] = ()) -> Case:
        """Return a case in which just these loads are on: on outputs whole circuits, fed loads by their names."""
        return Case(state, events, self._timetable.bits_of(names))

    def hot_legs(self, run: Run) -> tuple[int, ...]:
        """Return the legs of a run that are hotter than the ampacity table's 30 C."""
        return tuple(number for number in run.legs if number in self._hot)

    def carries(self, conductor: Conductor, leg: int, loaded: int, current: MilliAmps) -> bool:
        """Tell whether a wire carries a current in a leg among ``loaded`` wires."""
        ambient = self.network.legs[leg].ambient
        return carries_in_leg(conductor.ampacity, self.insulation, ambient, loaded, current)

    @cached_property
    def _hot(self) -> frozenset[int]:
        return frozenset(
            number
            for number, leg in enumerate(self.network.legs)
            if leg.ambient is not None and leg.ambient > TABLE_AMBIENT
        )

    def alongside_on(self, name: str, case: Case) -> bool:
        """Tell whether a wire alongside carries its current in ``case``, one of the steady-state ones."""
        return bool(case.on & self._timetable.alongside_bits[name])

    def unit_current(self, case: Case) -> MilliAmps:
        """Return the current through the feed, the most in any plan: a guest counts once for each feeder."""
        if case.on not in self._through:
            loads = (*self.loads.on_unit, *self.loads.guests)
            self._through[case.on] = MilliAmps(sum(self.on(load, case) * load.current for load in loads))
        return self._through[case.on]

    def states_of(self, consumer: Consumer) -> frozenset[str]:
        """Return the states in which a load is on in some case."""
        bits = self._bits_of(consumer)
        return frozenset(state for state, on in self._timetable.on_in.items() if on & bits)

    def _bits_of(self, consumer: Consumer) -> int:
        """Return the bits of a load, or of all that feed it."""
        return self._timetable.bits_of(consumer.feeders or (consumer.name,))

    def circuit_on(self, circuit: OutputCircuit, case: Case) -> bool:
        """Tell whether any member of a circuit is on; but where a ban is lifted they always are together."""
        bits = 0
        for member in circuit.members:
            bits |= self._bits_of(member)
        return bool(case.on & bits)

    @property
    def shortest_feed(self) -> Micrometres:
        """What a shorter feed counts as."""
        return Micrometres(self.assume["shortest feed"])

    @cached_property
    def unit_currents(self) -> tuple[MilliAmps, ...]:
        """Through the feed in each case, the most in any plan."""
        return tuple(self.unit_current(case) for case in self.cases)

    @cached_property
    def worst(self) -> MilliAmps:
        """Through the feed in the worst case, without later loads."""
        return max(self.unit_currents)

    def returned(self, back: Return, case: Case) -> MilliAmps:
        """Return the current that a joint return carries in ``case``."""
        key = (back, case.on)
        if key not in self._returned:
            self._returned[key] = self._together(self.sent_back(back), case)
        return self._returned[key]

    def returning(self, back: Return) -> tuple[Consumer, ...]:
        """Return the loads whose current a joint return leads back."""
        return self._returning.get(back, ())

    @cached_property
    def _returning(self) -> dict[Return, tuple[Consumer, ...]]:
        found: dict[Return, list[Consumer]] = {}
        for load in self.wired_loads:
            if load.back is not None:
                found.setdefault(load.back, []).append(load)
        return {back: tuple(loads) for back, loads in found.items()}

    def sent_back(self, back: Return) -> tuple[Consumer, ...]:
        """Return all whose current it leads back: its loads, and the coils of relays that a switch there earths."""
        coils = (fed.coil for fed in self.loads.fed if fed.coil is not None and fed.coil.back == back)
        return (*self.returning(back), *coils)

    def _together(self, loads: Iterable[Consumer], case: Case) -> MilliAmps:
        """Return what loads draw in a case, each that is on once, however many circuits feed it."""
        return MilliAmps(sum(load.current for load in loads if self.on(load, case)))

    def way_to_earth(self, point: str) -> tuple[str, Run]:
        """Return the nearest earth point, of equally near ones the first, and the wire there.

        Where the starter motor sits its current comes back: that takes only what sits there, if another is to be had.
        """
        return self.network.nearest(point, self.earths_for(point))

    def earths_for(self, point: str) -> Sequence[str]:
        """Return the earth points at which a return from a point may end, whether a way leads there or not."""
        starter = self.bike.supply.starter
        quiet = [earth for earth in self.bike.frame.earth if starter is None or earth != starter.at or earth == point]
        return quiet or self.bike.frame.earth

    def reaches_earth(self, point: str) -> bool:
        """Tell whether closed legs leave a return from a point a way to earth."""
        return any(self.network.wire(point, earth) is not None for earth in self.earths_for(point))

    def return_reel(self, reels: Sequence[Conductor], worst: MilliAmps, run: Run) -> Conductor | None:
        """Return the thinnest reel that carries 1.25 x a return's worst sum within its own drop, or None."""
        return self._return_reel(reels, worst, self.network.moment_of_one(run))

    def _return_reel(self, reels: Sequence[Conductor], worst: MilliAmps, moment: AmpereMetres) -> Conductor | None:
        total = AmpereMetres(worst * moment)
        allowed = share_of(MilliVolts(self.assume["return drop"]), WHOLE)
        return thinnest(reels, MilliAmps(-(-5 * worst // 4)), total, allowed)

    def _one_return_serves(self, point: str, loads: Sequence[Consumer], number: int) -> bool:
        """Tell whether one return, no thicker than is usual, serves loads; at an earth point itself none is needed.

        A built one is of its size.
        """
        line = None if self.built is None else self.built.fixed.get(("return", point, number))
        if line is not None:
            run = self.built_run(line.legs)
            return not run.legs or self.serve(loads, self.network.moment_of_one(run), [self.catalogue[line.size]])
        _, run = self.way_to_earth(point)
        return not run.legs or self.serve(loads, self.network.moment_of_one(run))

    def serve(self, loads: Sequence[Consumer], moment: AmpereMetres, reels: Sequence[Conductor] | None = None) -> bool:
        """Tell whether one return serves loads, where 1 mA has this moment over it.

        It is of one of some ``reels``, else no thicker than is usual.
        """
        usual = [reel for reel in self.reels if reel.size.area <= self.assume["thickest return"]]
        worst = max((self._together(loads, case) for case in self.cases), default=MilliAmps(0))
        return self._return_reel(usual if reels is None else reels, worst, moment) is not None

    @cached_property
    def wired_loads(self) -> tuple[Consumer, ...]:
        """Every load whose current goes back by a wire, its own or that of what switches it; whatever feeds it."""
        return tuple(load for load in self.loads.wired if load.returns_at is not None)

    def built_run(self, legs: Iterable[str]) -> Run:
        """Return the run along built legs."""
        numbers = sorted(number for label in legs for number in self.network.numbers_of([label]))
        return Run(Micrometres(sum(self.network.legs[number].length for number in numbers)), tuple(numbers))

    def _reels(self) -> tuple[Conductor, ...]:
        """Return the shop's wire, thin to thick."""
        reels = self.bike.reels
        sizes = DEFAULT_REELS if reels is None else tuple(reel.size for reel in reels)
        return tuple(sorted((self.catalogue[size] for size in sizes), key=lambda reel: reel.size))


def swapped(loads: tuple[Consumer, ...], load: Consumer) -> tuple[Consumer, ...]:
    """Return loads with ``load`` in the place of the one of its name."""
    return tuple(load if one.name == load.name else one for one in loads)

"""One place, one way round and one main fuse: what a circuit costs and needs on each port."""

from collections.abc import Sequence
from fractions import Fraction
from functools import cache, cached_property, lru_cache

from .catalogue import Wire
from .circuits import Circuit
from .drive import Column, Drive, Shape
from .electrics import input_fits, trip_ma
from .faults import serves_shorted
from .flow import Flow
from .guards import inputs_suffice, may_be_on, output_takes
from .job import Job, Laid
from .losses import MAIN_FUSE_UV
from .sizing import LOADED_MA, Feed, Looms, able, settled, thinnest
from .supply import supply_of
from .things import InPort, Load, Output, Place, Switch


class Site:
    """A place, a turn and a main fuse for a job."""

    def __init__(self, job: Job, place: Place, *, turned: bool, fuse_ma: int) -> None:
        """Take the job, the place, whether front and rear are swapped, and the main fuse."""
        self.job, self.bike, self.unit, self.fuse_ma = job, job.bike, job.unit, fuse_ma
        self.whole = self if job.whole is job else Site(job.whole, place, turned=turned, fuse_ma=fuse_ma)
        ends = (place.rear, place.front) if turned else (place.front, place.rear)
        self.faces = dict(zip(("front", "rear"), ends, strict=True))
        self.feed_face = self.faces[self.unit.face]
        self.supply = supply_of(job, self.feed_face)
        self._column_alike = cache(self._output_column)
        self.input_column = cache(self._input_column)
        self.suffices = cache(lambda held: inputs_suffice(self.bike, held))
        self.shared_uv = cache(self._shared_uv)
        self.feed_uv = cache(self._feed_uv)
        self._drops_kept = cache(self._few_drops)
        self.settled = lru_cache(maxsize=8)(lambda drives: settled(self.looms, drives))
        self._way = cache(self._shape)

    @cached_property
    def feed(self) -> Feed | None:
        """The feed; None where the terminal takes no wire that carries the main fuse by itself."""
        sizes = self.supply.sizes(self.fuse_ma, self.unit.largest)
        if not sizes or sizes[-1].carries_ma < self.fuse_ma:
            return None
        return Feed(self.supply.run, self.supply.beside, sizes, self.fuse_ma, self.job.steady.feed)

    def before_uv(self, flow: Flow, case: int) -> Fraction:
        """Return what the feed's connectors and the main fuse lose (uV) in a case."""
        connectors = self.bike.contacts.connector * self.supply.connectors * flow.feed[case]
        return connectors + Fraction(MAIN_FUSE_UV, self.fuse_ma) * flow.fuse[case]

    def _feed_uv(self, *, cranking: bool) -> Fraction:
        """Return what the feed's own wire is judged with (uV), with part of a bike as with all of it."""
        if self.whole is not self:
            return self.whole.feed_uv(cranking=cranking)
        flow = self.job.cranking if cranking else self.job.steady
        cases = self.cranking_cases if cranking else range(len(self.job.cases))
        return self.supply.judged_uv(flow, cases, self.unit.largest)

    @cached_property
    def looms(self) -> Looms:
        """What is loaded in the looms. Raises ValueError where there is no feed."""
        if self.feed is None:
            msg = "a site without a feed has no looms"
            raise ValueError(msg)
        return Looms(self.job, self.feed)

    @cached_property
    def sound(self) -> bool:
        """Tell whether main fuse, feed, fed loads, signals and the unit's own supply can be had at all."""
        if self.fuse_ma not in self.job.fuses_ma or self.feed is None:
            return False
        if self.job.fed is None or not self.job.signals_kept:
            return False
        carried = self.looms.alone(self.feed.sizes[-1], self.fuse_ma, self.feed.run | self.feed.beside)
        return carried and self._unit_cranks and able(self.looms, ()) is not None

    @property
    def _unit_cranks(self) -> bool:
        lowest = self.unit.lowest_mv
        if lowest is None or "cranking" in self.bike.set_aside:
            return True
        return all(self.cranking_uv(case) >= lowest * 1000 for case in self.cranking_cases)

    @cached_property
    def cranking_cases(self) -> list[int]:
        """The cases of the state cranking by number."""
        return [number for number, case in enumerate(self.job.cases) if not case.lasting]

    def cranking_uv(self, case: int) -> Fraction:
        """Return what is left of the cranking voltage (uV) at the unit."""
        lost = self.feed_uv(cranking=True) + self.before_uv(self.job.cranking, case)
        return self.bike.cranking_mv * 1000 - lost

    def always(self) -> list[Laid]:
        """Return the wires of the looms that no plan here changes, in no other size."""
        return [*self.job.always, self.unit_earth]

    @property
    def unit_earth(self) -> Laid:
        """The unit's own earth: straight to the battery, never of the thinnest wires."""
        thick = [wire for wire in self.bike.reels if wire.area >= self.bike.unit_earth]
        wire = (thick or self.bike.reels[-1:])[0]
        return Laid(wire.diameter_um, self.job.path(self.feed_face, self.bike.battery))

    @cached_property
    def fixed(self) -> list[Laid]:
        """The wires that every plan here has, no thicker than in any plan. Raises ValueError if none is sound."""
        bare = able(self.looms, ())
        if bare is None:
            msg = "a site that is not sound has no wires"
            raise ValueError(msg)
        return self.always() + bare.thinnest()

    def laid(self, columns: Sequence[Column]) -> list[Laid] | None:
        """Return all wires of a plan with these columns, in their settled sizes; None where one has none."""
        sized = self.settled(tuple(column.drive for column in columns if column.drive))
        return None if sized is None else self.always() + sized.thinnest() + switch_wires(columns)

    def thinnest(self, columns: Sequence[Column]) -> list[Laid] | None:
        """Return all wires of a plan with these columns, no thicker than with more of them; None as above."""
        sized = thinnest(self.looms, [column.drive for column in columns if column.drive])
        return None if sized is None else self.always() + sized + switch_wires(columns)

    def fixed_um(self) -> int:
        """Return the run (um) that every plan at this site has: feed, returns, fed loads."""
        return self.job.fixed_um + self.supply.length_um

    def _shared_uv(self, load: Load) -> Fraction | None:
        """Return the worst drop (uV) outside the circuit while the load is on, as judged; None if it never is."""
        flow, on = self.job.steady, [n for n, case in enumerate(self.job.cases) if case.has_on(load)]
        wire = self.feed_uv(cranking=False)
        drops = (wire + self.before_uv(flow, n) + self.job.behind_uv(flow, load, n) for n in on)
        return max(drops, default=None)

    def _shape(self, held: Circuit, root: str) -> Shape | None:
        frame = self.job.without_legs(frozenset().union(*(load.avoid for load in held.members)))
        switches = {load.own_switch for load in held.members if load.own_switch}
        tree = frame.tree(frozenset({root, *(load.at for load in held.ends)}) | switches)
        return None if tree is None else Shape(self.job, held, tree, root)

    def output_column(self, held: Circuit, output: Output) -> Column | None:
        """A circuit on an output; None where it can't be there. Outputs that differ in name only give the same."""
        if not may_be_on(self.bike, held.loads, output.name):
            return None
        return self._column_alike(held, self.job.first_alike[output])

    def _output_column(self, held: Circuit, output: Output) -> Column | None:
        drive = self._drive(held, output)
        if drive is None or drive.thinnest is None or not self._cranks(drive):
            return None
        loss = self.bike.ampere_um * (output.limit_ma - held.steady_ma)
        spare = Fraction(loss, 1000) + self.bike.ability_um * len(output.abilities - held.loads[0].modes)
        run_um = self.job.frame.length_um(drive.shape.tree)
        return Column(run_um + int(spare), drive.laid(drive.thinnest), held.steady_ma, drive)

    def _drive(self, held: Circuit, output: Output) -> Drive | None:
        trip = trip_ma(held, output)
        if trip is None or trip >= self.fuse_ma:
            return None
        if not output_takes(self.bike, self.job.states, held, output):
            return None
        if any(load.leads is not None and load.leads.carries_ma < trip for load in held.members):
            return None
        shape = self._way(held, self.faces[output.face])
        if shape is None:
            return None
        return Drive(held, output, trip, shape, shape.loaded(LOADED_MA), self.bike.reels, self._serves)

    def _serves(self, drive: Drive, wire: Wire) -> bool:
        """Tell whether the run of a circuit may have a size, were nothing loaded beside it."""
        most = drive.output.largest
        return (
            (most is None or wire.area <= most)
            and wire.carries_ma >= drive.trip_ma
            and self.looms.alone(wire, drive.trip_ma, drive.shape.tree)
            and self._drops_kept(drive.shape, wire, drive.output.mohm)
            and serves_shorted(drive, wire)
        )

    def _few_drops(self, shape: Shape, wire: Wire, output_mohm: Fraction) -> bool:
        own_uv = (output_mohm + self.bike.contacts.unit_plug) * shape.held.steady_ma
        shared = ((load, self.shared_uv(load)) for load in shape.held.members)
        return all(
            uv + own_uv + shape.run_uv(self.job.steady, load, wire) + self.at_load_uv(self.job.steady, load)
            <= self.job.drop_limit_uv(load)
            for load, uv in shared
            if uv is not None
        )

    def at_load_uv(self, flow: Flow, load: Load) -> Fraction:
        """Return what a load's plug and the switch of its own lose (uV) at its current."""
        contacts = self.bike.contacts
        return (contacts.load_plug + (contacts.own_switch if load.own_switch else 0)) * flow.ma[load.name]

    def _cranks(self, drive: Drive) -> bool:
        """Tell whether each load has its lowest voltage in every case of cranking in which the circuit is on."""
        if "cranking" in self.bike.set_aside:
            return True
        return all(
            self.cranking_at_uv(drive, load, case) >= load.lowest_mv * 1000
            for load in drive.held.members
            if load.lowest_mv is not None
            for case in self.cranking_cases
            if drive.on_in(self.job.cases[case].on)
        )

    def cranking_at_uv(self, drive: Drive, load: Load, case: int) -> Fraction:
        """Return what is left of the cranking voltage (uV) at a load in a case."""
        assert drive.thinnest
        flow = self.job.cranking
        own_ma = sum(flow.ma[other.name] for other in drive.held.members)
        lost = (drive.output.mohm + self.bike.contacts.unit_plug) * own_ma + self.at_load_uv(flow, load)
        lost += drive.shape.run_uv(flow, load, drive.thinnest)
        return self.cranking_uv(case) - self.job.behind_uv(flow, load, case) - lost

    def _input_column(self, switches: tuple[Switch, ...], port: InPort) -> Column | None:
        root = self.faces[port.face]
        tree = self.job.frame.tree(frozenset({root, *(point for switch in switches for point in switch.ends)}))
        if tree is None or not may_be_on(self.bike, switches, port.name):
            return None
        if not all(input_fits(switch, port) for switch in switches):
            return None
        return Column(self.job.frame.length_um(tree), (Laid(self.job.thin.diameter_um, tree),), 0, None)

    def takes_later(self, held: Circuit, output: Output) -> bool:
        """Tell whether an output, free, takes a later load: mode, coil, key off, trip, main fuse, a wire."""
        trip = trip_ma(held, output)
        if trip is None or trip >= self.fuse_ma or not may_be_on(self.bike, held.loads, output.name):
            return False
        return output_takes(self.bike, self.job.states, held, output) and any(
            wire.carries_ma >= trip and (output.largest is None or wire.area <= output.largest)
            for wire in self.bike.reels
        )


def switch_wires(columns: Sequence[Column]) -> list[Laid]:
    """Return the wires of all columns but circuits."""
    return [wire for column in columns if column.drive is None for wire in column.wires]

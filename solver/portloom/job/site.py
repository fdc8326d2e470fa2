"""The unit at one place, one way round, with the ways of all wires that no assignment changes."""

from collections.abc import Iterable, Mapping
from functools import cached_property

from portloom.base.ampacity import carries_there
from portloom.base.bike import Place
from portloom.base.copper import Conductor
from portloom.base.drop import Moment, conductor_temperature, moment
from portloom.base.figures import seat_said
from portloom.base.quantities import MicroOhms, MilliAmps
from portloom.base.unit import Face
from portloom.job.job import Job
from portloom.job.network import Run
from portloom.job.ways import face_point
from portloom.job.wires import Way, WayKey, WireKind


class Site:
    """A job with the unit at ``place``; ``turned`` swaps its front and rear."""

    def __init__(
        self,
        job: Job,
        place: Place,
        *,
        turned: bool,
        main_fuse: MilliAmps | None,
        ways: Iterable[Way],
        feed_most: MilliAmps | None = None,
    ) -> None:
        """Take the main fuse (None where no step is large enough) and the ways of the fixed wires.

        ``feed_most`` is the most that the feed is counted with where another unit takes a part of the loads.
        """
        self.job = job
        self.place = place
        self.turned = turned
        self.main_fuse = main_fuse
        self.ways = tuple(ways)
        self.feed_most = feed_most
        self.units: tuple[Site, ...] = (self,)
        """Every unit on the bike, each where it sits: this one first."""
        self.first: dict[WayKey, Conductor] = {}
        """First sizes of fixed wires, as far as they were asked for."""
        self.settled: Mapping[WayKey, Conductor] = {}
        """Sizes of fixed wires once a plan is known, where they differ from the first sizes."""
        self.whole: Site = self
        """The site by whose main fuse, feed and joint returns losses and trips are judged.

        Where only a part of a bike is asked about it is that of the whole bike: what is left out
        never thins a wire that others need.
        """

    def settle(self, sizes: Mapping[WayKey, Conductor]) -> "Site":
        """Return the same site with the sizes of its fixed wires settled."""
        site = self._with(self.ways)
        site.settled = {**self.settled, **sizes}
        return site

    def joined_by(self, ways: Iterable[Way]) -> "Site":
        """Return the same site with more wires that carry nothing: returns that only a plan's multiplexers need."""
        return self._with((*self.ways, *ways))

    def beside(self, other: "Site") -> "Site":
        """Return the same site with a second unit on the bike: its feed and earth are further wires."""
        own = {way.key for way in self.ways}
        site = self._with((*self.ways, *(way for way in other.ways if way.key not in own)))
        site.units = (*self.units, *other.units)
        return site

    @property
    def own_name(self) -> str | None:
        """The name of its feed and earth wires: its place, where there is another unit; else None, their kind."""
        return None if self.feed_most is None else self.place.name

    def owner(self, way: Way) -> "Site":
        """Return the site whose wire it is; of one that no unit owns, the first."""
        if len(self.units) == 1:
            return self
        return next((unit for unit in self.units if way in unit.ways), self)

    def shares(self, unit: "Site") -> bool:
        """Tell whether two sites are of the same unit; no two units sit at one place."""
        return self.place.name == unit.place.name

    def _with(self, ways: Iterable[Way]) -> "Site":
        site = Site(
            self.job, self.place, turned=self.turned, main_fuse=self.main_fuse, ways=ways, feed_most=self.feed_most
        )
        site.first, site.settled, site.whole = self.first, self.settled, self.whole
        if len(self.units) > 1:
            site.units = self.units
        return site

    @property
    def label(self) -> str:
        """Say the place and which way round, of every unit."""
        return " and ".join(unit.seat for unit in self.units)

    @property
    def seat(self) -> str:
        """Say the place of this unit and which way round."""
        return seat_said(self.place.name, turned=self.turned)

    def through_feed(self, drawn: MilliAmps) -> MilliAmps:
        """Return what its feed is counted with where the bike draws so much: all, or what its main fuse carries."""
        return drawn if self.feed_most is None else min(drawn, self.feed_most)

    def face(self, face: Face) -> str:
        """Return the frame point that a face of the unit meets here."""
        return face_point(self.place, face, turned=self.turned)

    def ways_of(self, kind: WireKind) -> tuple[Way, ...]:
        """Return the fixed wires of one kind."""
        return tuple(way for way in self.ways if way.kind == kind)

    @cached_property
    def feed(self) -> Way:
        """The feed, from battery to unit."""
        return self.ways_of("feed")[0]

    def moment_of_one(self, run: Run) -> Moment:
        """Return the moment of 1 mA over the whole of a run."""
        legs = (self.job.network.legs[number] for number in run.legs)
        one = MilliAmps(1)
        return Moment(sum(moment(one, leg.length, conductor_temperature(leg.ambient)) for leg in legs))

    def carries(self, conductor: Conductor, leg: int, loaded: int, current: MilliAmps) -> bool:
        """Tell whether a wire carries a current in a leg among ``loaded`` wires."""
        ambient = self.job.network.legs[leg].ambient
        return carries_there(conductor.ampacity, self.job.insulation, ambient, loaded, current)

    def parted(self, way: Way) -> MicroOhms:
        """Return the resistance of the connectors strictly inside a wire."""
        passed = {point for number in way.run.legs for point in self.job.network.legs[number].between}
        inside = passed.difference(way.ends).intersection(self.job.bike.frame.connectors)
        return MicroOhms(len(inside) * self.job.assume["connector"])

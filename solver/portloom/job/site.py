"""The unit at one place, one way round, with all wires that no assignment changes.

First sizes of feed and returns are without derating and without fault, the same in every plan at a place. The drop
of every run is counted with them; what thickens them later never thins them.
"""

from collections.abc import Callable, Iterable, Mapping
from dataclasses import field, replace
from types import MappingProxyType

from portloom.base.ampacity import thinnest
from portloom.base.bike import Place
from portloom.base.copper import Conductor
from portloom.base.drop import AmpereMetres, ampere_metres, conductor_temperature, share_of
from portloom.base.figures import seat_phrase
from portloom.base.fuses import carried_for_good
from portloom.base.quantities import Micrometres, MicroOhms, MilliAmps, MilliVolts
from portloom.base.unit import Face
from portloom.base.values import dataclass
from portloom.job.consumers import WHOLE
from portloom.job.fixed_wires import FixedWire, FixedWireKey, WireKind, face_point
from portloom.job.job import Job

RETURNS: tuple[WireKind, ...] = ("return", "sender return")
NONE_KNOWN: Mapping[FixedWireKey, Conductor] = MappingProxyType({})


class FirstSizes:
    """First sizes of fixed wires, worked out once for a site and for all that is made of it."""

    def __init__(self, known: Mapping[FixedWireKey, Conductor] = NONE_KNOWN) -> None:
        """Take those that are known."""
        self._known = dict(known)

    def of(self, wire: FixedWire, work_out: Callable[[], Conductor]) -> Conductor:
        """Return the first size of a wire."""
        if wire.key not in self._known:
            self._known[wire.key] = work_out()
        return self._known[wire.key]

    def with_any_fuse(self) -> "FirstSizes":
        """Return those of returns, which hang on no main fuse."""
        return FirstSizes({key: size for key, size in self._known.items() if key[0] in RETURNS})


@dataclass(frozen=True, eq=False)
class Site:
    """A job with the unit at ``place``; ``turned`` swaps its front and rear."""

    job: Job
    place: Place
    turned: bool
    fuses: tuple[MilliAmps, ...]
    """The main fuses that it may have, small to large: one in a plan, none where no step is right."""
    fixed_wires: tuple[FixedWire, ...]
    """With where they run."""
    largest: MilliAmps | None = None
    """The largest main fuse that is possible here in any plan, whichever are chosen from."""
    feed_most: MilliAmps | None = None
    """The most that its largest main fuse carries, where another unit takes a part of the loads."""
    sizes: Mapping[FixedWireKey, Conductor] = field(default_factory=dict)
    """Sizes of fixed wires once a plan is known, where they differ from the first sizes."""
    first_sizes: FirstSizes = field(default_factory=FirstSizes, repr=False)
    judged_by: "Site | None" = None
    """The site of the whole bike, where this one is of a part."""
    side_by_side: "tuple[Site, ...]" = ()
    """The units, where there are several."""

    @property
    def whole(self) -> "Site":
        """The site by whose main fuse, feed and joint returns losses and trips are judged.

        Where only a part of a bike is asked about it is that of the whole bike: what is left out
        never thins a wire that others need.
        """
        return self.judged_by or self

    @property
    def units(self) -> "tuple[Site, ...]":
        """Every unit on the bike, each where it sits: this one first."""
        return self.side_by_side or (self,)

    def with_sizes(self, sizes: Mapping[FixedWireKey, Conductor]) -> "Site":
        """Return the same site with the sizes that fixed wires have in a plan."""
        return replace(self, sizes={**self.sizes, **sizes})

    def joined_by(self, fixed_wires: Iterable[FixedWire]) -> "Site":
        """Return the same site with more wires that carry nothing: returns that only a plan's multiplexers need."""
        return replace(self, fixed_wires=(*self.fixed_wires, *fixed_wires))

    def beside(self, other: "Site") -> "Site":
        """Return the same site with a second unit on the bike: its feed and earth are further wires."""
        own = {wire.key for wire in self.fixed_wires}
        more = (wire for wire in other.fixed_wires if wire.key not in own)
        return replace(self, fixed_wires=(*self.fixed_wires, *more), side_by_side=(*self.units, *other.units))

    def part_of(self, whole: "Site") -> "Site":
        """Return the same site, where losses and trips are judged by that of the whole bike."""
        return replace(self, judged_by=whole)

    def with_job(self, job: Job) -> "Site":
        """Return the same site where loads draw other currents, its main fuse and sizes as they are planned."""
        return replace(self, job=job, first_sizes=FirstSizes(), judged_by=self.whole)

    def with_fuses(self, *fuses: MilliAmps) -> "Site":
        """Return the same site with other main fuses to choose from, small to large; with one of them for a plan."""
        return replace(self, fuses=fuses, first_sizes=self.first_sizes.with_any_fuse())

    @property
    def main_fuse(self) -> MilliAmps | None:
        """The main fuse of a plan; the smallest that it may have until one is chosen, None where no step is right."""
        return next(iter(self.fuses), None)

    @property
    def own_name(self) -> str | None:
        """The name of its feed and earth wires: its place, where there is another unit; else None, their kind."""
        return None if self.feed_most is None else self.place.name

    def owner(self, wire: FixedWire) -> "Site":
        """Return the site whose wire it is; of one that no unit owns, the first."""
        if not self.side_by_side:
            return self
        return next((unit for unit in self.units if wire in unit.fixed_wires), self)

    def shares(self, unit: "Site") -> bool:
        """Tell whether two sites are of the same unit; no two units sit at one place."""
        return self.place.name == unit.place.name

    @property
    def label(self) -> str:
        """Say the place and which way round, of every unit."""
        return " and ".join(unit.seat for unit in self.units)

    @property
    def seat(self) -> str:
        """Say the place of this unit and which way round."""
        return seat_phrase(self.place.name, turned=self.turned)

    def through_feed(self, drawn: MilliAmps) -> MilliAmps:
        """Return what its feed is counted with where the bike draws so much: all, or what its largest fuse carries."""
        return drawn if self.feed_most is None else min(drawn, self.feed_most)

    def through_fuse(self, drawn: MilliAmps) -> MilliAmps:
        """Return what its main fuse is counted with, the largest that it may have: all, or what that carries."""
        return drawn if self.feed_most is None or not self.fuses else min(drawn, carried_for_good(self.fuses[-1]))

    def face(self, face: Face) -> str:
        """Return the frame point that a face of the unit meets here."""
        return face_point(self.place, face, turned=self.turned)

    def fixed_of(self, kind: WireKind) -> tuple[FixedWire, ...]:
        """Return the fixed wires of one kind."""
        return tuple(wire for wire in self.fixed_wires if wire.kind == kind)

    @property
    def feed(self) -> FixedWire:
        """The feed, from battery to unit."""
        return next(wire for wire in self.fixed_wires if wire.kind == "feed")

    def borne(self, wire: FixedWire) -> tuple[int, ...]:
        """Return the legs whose heat and company a wire bears: those it follows.

        A feed that follows none lies in any of those that end at its point.
        """
        return self.job.network.legs_at(wire.ends[0]) if wire.loose else wire.run.legs

    def moment(self, wire: FixedWire, current: MilliAmps) -> AmpereMetres:
        """Return the moment of a current over the whole of a wire; what no leg has of it is as hot as the hottest."""
        legs = [self.job.network.legs[number] for number in wire.run.legs]
        stretches = [(leg.length, conductor_temperature(leg.ambient)) for leg in legs]
        if over := wire.run.length - sum(leg.length for leg in legs):
            beside = (self.job.network.legs[number].ambient for number in self.borne(wire))
            stretches.append((Micrometres(over), max(map(conductor_temperature, beside))))
        return AmpereMetres(sum(ampere_metres(current, length, heat) for length, heat in stretches))

    def parted(self, wire: FixedWire) -> MicroOhms:
        """Return the resistance of the connectors strictly inside a wire."""
        passed = {point for number in wire.run.legs for point in self.job.network.legs[number].between}
        inside = passed.difference(wire.ends).intersection(self.job.bike.frame.connectors)
        return MicroOhms(len(inside) * self.job.assume["connector"])


def feed_reels(job: Job) -> tuple[Conductor, ...]:
    """Return the reels that the unit's supply terminal takes, thin to thick."""
    terminal = job.unit.feed.wire_max
    return tuple(reel for reel in job.reels if terminal is None or reel.size.area <= terminal.area)


def feed_conductor(site: Site) -> Conductor:
    """Return the thinnest that carries its smallest main fuse within the feed's own drop, else the thickest.

    Where the terminal takes no reel at all, any reel stands in; the rules refuse it.
    """
    job = site.job
    reels = feed_reels(job) or job.reels
    fuse = site.main_fuse or job.worst
    worst = job.worst if site.feed_most is None else min(job.worst, carried_for_good(fuse))
    total = site.moment(site.feed, worst)
    allowed = share_of(MilliVolts(job.assume["feed drop"]), WHOLE)
    return thinnest(reels, fuse, total, allowed) or reels[-1]


def return_conductor(site: Site, wire: FixedWire) -> Conductor:
    """Return the thinnest that carries 1.25 x its worst sum within a return's own drop, else the thickest.

    A sender's return carries next to nothing: the thinnest reel.
    """
    job = site.job
    if wire.kind == "sender return":
        return job.reels[0]
    worst = max(job.returned(wire.back, case) for case in job.cases)
    return job.return_reel(job.reels, worst, wire.run) or job.reels[-1]

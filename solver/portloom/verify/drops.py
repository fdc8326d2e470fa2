"""The checker's own count of the voltage that each load loses: leg by leg, from the battery through it and back.

Twice: as a plan is judged, and on the wires that are cut. It looks neither at the losses that the search goes by nor at
the drops that documents tell, so that what is wrong there does not pass here.
Source: U = I x R, a conductor at (234.5 + T) / 254.5 of what it resists at 20 C (FAA AC 43.13-1B par. 11-66).
"""

from collections import Counter
from collections.abc import Iterator, Sequence
from fractions import Fraction
from functools import cached_property
from itertools import permutations

from portloom.base.copper import Conductor
from portloom.base.fuses import carried_for_good, fuse_for
from portloom.base.quantities import Micrometres, MilliAmps
from portloom.job.cases import Case
from portloom.job.consumers import Consumer, Return
from portloom.job.drops import Drops
from portloom.job.fixed import conductor_of, fed_load
from portloom.job.fixed_wires import FixedWire
from portloom.job.job import Job
from portloom.job.laid import Laid
from portloom.job.site import Site, feed_reels
from portloom.job.wired import WiredOutput
from portloom.rules.clash import Clash
from portloom.rules.faults import wrong_wire
from portloom.verify.dealing import earthed_at

Legs = tuple[int, ...]
CONDUCTOR_C = 85
SMALL_FUSE_MA = 10_000


def drop_clashes(laid: Laid) -> Iterator[Clash]:
    """Return each load of which the plan says that it loses another voltage than is counted here."""
    told = Drops(laid)
    counts = {unit.place.name: Counted(laid, unit) for unit in laid.site.units}
    for wired in laid.outputs:
        count = counts[wired.site.place.name]
        run = Run(laid.site.job, count, wired)
        first = (wired.serving or [wired.drawn])[0]
        judged = wired.drops(first)
        for load in wired.circuit.loads:
            on = count.cases_on(load)
            if load.at is not None and on:
                asked = run.lost(load, first) + max(count.outside(load, case, cut=False) for case in on)
                yield from _unless_same(load, judged[load.name], asked, "judged")
                fed = [case for member in wired.circuit.members for case in count.cases_on(member)]
                outside = max((count.outside(load, case, cut=True) for case in fed), default=None)
                counted = None if outside is None else run.lost(load, wired.drawn) + outside
                worst = told.worst_on_output(wired, load)
                yield from _unless_same(load, worst.drop if worst else None, counted, "cut")
    count = counts[laid.site.place.name]
    for wire in laid.site.fixed_of("fed load"):
        load = fed_load(laid.site, wire).consumer
        lost = [count.fed(wire, load, case) for case in count.cases_on(load)]
        worst = told.worst_fed(wire)
        if lost and worst:
            yield from _unless_same(load, worst.drop, max(lost), "cut")


def _unless_same(load: Consumer, said: Fraction | None, counted: Fraction | None, wires: str) -> Iterator[Clash]:
    if said != counted:
        what = f"{load.name}: its drop on wires as {wires} is {said} uV, worked out again it is {counted} uV"
        yield wrong_wire(load.name, what)


class Counted:
    """What loads lose at one site, each thing on the way by itself; in microvolts."""

    def __init__(self, laid: Laid, unit: Site) -> None:
        """Take the plan, and the site of the unit that feeds the loads which are asked about."""
        self._laid = laid
        self._unit = unit
        self._job: Job = laid.site.job
        self._before: dict[tuple[int, bool], Fraction] = {}
        self._after: dict[tuple[Return | str, int, bool], Fraction] = {}
        self._back: dict[tuple[str, int, int], int] = {}

    def cases_on(self, load: Consumer) -> list[Case]:
        """Return the cases in which a load is on."""
        return [case for case in self._job.cases if self._job.on(load, case)]

    # --- a wire

    def ohms(self, conductor: Conductor, legs: Sequence[int]) -> Fraction:
        """Return the microohms of a wire along legs."""
        return sum((self._stretch(conductor, self._job.network.legs[n].length, n) for n in legs), Fraction(0))

    def _stretch(self, conductor: Conductor, length: int, leg: int) -> Fraction:
        """Return the microohms of a length as hot as it is in a leg."""
        ambient = self._job.network.legs[leg].ambient
        hot = max(1000 * CONDUCTOR_C, ambient or 0)
        return Fraction(conductor.resistance * length, 10**6) * Fraction(234_500 + hot, 254_500)

    def way(self, legs: Sequence[int], start: str, end: str) -> list[tuple[int, str]]:
        """Return the legs of a tree from one point to another, each with the point that it leads to."""
        meeting: dict[str, list[tuple[int, str]]] = {}
        for number in legs:
            for one, other in permutations(self._job.network.legs[number].between):
                meeting.setdefault(one, []).append((number, other))
        came: dict[str, tuple[int, str]] = {}
        ahead = [end]
        while ahead and start not in came:
            point = ahead.pop()
            for number, other in meeting.get(point, ()):
                if other != end and other not in came:
                    came[other] = (number, point)
                    ahead.append(other)
        way = []
        while start != end and start in came:
            way.append(came[start])
            start = came[start][1]
        return way

    def parted(self, way: Sequence[tuple[int, str]]) -> list[int]:
        """Return, for each connector strictly inside a way, the leg that leads to it."""
        return [number for number, point in way[:-1] if point in self._job.bike.frame.connectors]

    # --- before the unit, and behind loads

    def _through_feed(self, case: Case, *, cut: bool) -> int:
        """A guest counts once for each load that feeds it; judged is what the bike draws, or what a fuse carries."""
        here = {load.name for w in self._laid.outputs if w.site.shares(self._unit) for load in w.circuit.members}
        loads = self._job.loads
        feeding = [load.name for load in loads.on_unit if self._job.on(load, case) and (not cut or load.name in here)]
        own = [load.current for load in loads.on_unit if load.name in feeding]
        drawn = sum([*own, *(guest.current for guest in loads.guests for name in guest.feeders if name in feeding)])
        most = None if cut else self._unit.feed_most
        return drawn if most is None else min(drawn, most)

    def _feed_ohms(self, conductor: Conductor) -> Fraction:
        feed = self._unit.feed
        around = feed.run.legs or self._job.network.legs_at(feed.ends[0])
        own = sum(self._job.network.legs[number].length for number in feed.run.legs)
        hottest = max(around, key=lambda number: self._job.network.legs[number].ambient or 0)
        short = max(0, self._job.assume["shortest feed"] - own)
        return self.ohms(conductor, feed.run.legs) + self._stretch(conductor, Micrometres(short), hottest)

    def _feed(self, case: Case, *, cut: bool) -> Fraction:
        if (case.on, cut) not in self._before:
            self._before[case.on, cut] = self._on_feed_and_fuse(case, cut=cut)
        return self._before[case.on, cut]

    def _on_feed_and_fuse(self, case: Case, *, cut: bool) -> Fraction:
        feed, fuse, current = self._unit.feed, self._unit.whole.main_fuse, self._through_feed(case, cut=cut)
        parted = self.parted(self.way(feed.run.legs, *feed.ends[:2]))
        contacts = Fraction(len(parted) * self._job.assume["connector"] * current, 1000)
        return self._on_feed(current, cut=cut) + contacts + (self._on_fuse(fuse, current, cut=cut) if fuse else 0)

    def _on_fuse(self, fuse: MilliAmps, current: int, *, cut: bool) -> Fraction:
        """Of two units each fuse is judged with no more than it carries for good, which no plan goes beyond."""
        counted = current if cut or self._unit.feed_most is None else min(current, carried_for_good(fuse))
        return Fraction(1000 * self._job.assume["main fuse drop"] * counted, fuse)

    def _on_feed(self, current: int, *, cut: bool) -> Fraction:
        if cut:
            size = self._laid.of(self._unit).site
            return self._feed_ohms(conductor_of(size, size.feed)) * current / 1000
        return self._allowed_on_feed

    @cached_property
    def _allowed_on_feed(self) -> Fraction:
        worst = max(self._through_feed(case, cut=False) for case in self._job.cases)
        thickest = (feed_reels(self._unit.job) or self._job.reels)[-1]
        return max(Fraction(1000 * self._job.assume["feed drop"]), self._feed_ohms(thickest) * worst / 1000)

    def _returned(self, wire: FixedWire, case: Case) -> int:
        key = (wire.name, wire.number, case.on)
        if key not in self._back:
            self._back[key] = self._counted_back(wire, case)
        return self._back[key]

    def _counted_back(self, wire: FixedWire, case: Case) -> int:
        back = [load for load in self._job.loads.wired if load.back == wire.back]
        on = {load.name for load in self._job.loads.wired if self._job.on(load, case)}
        coils = earthed_at(self._job, wire.name) if wire.number == 1 else []
        coil = self._job.assume["relay coil current"]
        return sum(load.current for load in back if load.name in on) + coil * sum(name in on for name in coils)

    def _behind(self, load: Consumer, case: Case, *, cut: bool) -> Fraction:
        key = (load.back or load.name, case.on, cut)
        if key not in self._after:
            self._after[key] = self._back_to_earth(load, case, cut=cut)
        return self._after[key]

    def _back_to_earth(self, load: Consumer, case: Case, *, cut: bool) -> Fraction:
        point = self._job.assume["earth point"]
        if load.back is None:
            return Fraction(point * load.current, 1000)
        wire = next(wire for wire in self._laid.site.fixed_of("return") if wire.back == load.back)
        beside = [one for one in self._laid.site.fixed_of("return") if one.ends[-1] == wire.ends[-1]]
        earthed = Fraction(point * sum(self._returned(one, case) for one in beside), 1000)
        return earthed + self._on_return(wire, case, cut=cut) if wire.run.legs else earthed

    def _on_return(self, wire: FixedWire, case: Case, *, cut: bool) -> Fraction:
        current = self._returned(wire, case)
        parted = self.parted(self.way(wire.run.legs, wire.ends[0], wire.ends[-1]))
        contacts = Fraction((len(parted) * self._job.assume["connector"] + self._job.assume["splice"]) * current, 1000)
        if cut:
            return contacts + self.ohms(conductor_of(self._laid.site, wire), wire.run.legs) * current / 1000
        worst = max(self._returned(wire, case) for case in self._job.cases)
        thickest = self.ohms(self._job.reels[-1], wire.run.legs) * worst / 1000
        return contacts + max(Fraction(1000 * self._job.assume["return drop"]), thickest)

    # --- a load

    def _own(self, load: Consumer) -> Fraction:
        own = self._job.assume["load plug"] + (self._job.assume["own switch"] if load.own_switch else 0)
        return Fraction(own * load.current, 1000)

    def outside(self, load: Consumer, case: Case, *, cut: bool) -> Fraction:
        """Return what a load on an output loses in a case, but for output and run."""
        return self._feed(case, cut=cut) + self._own(load) + self._behind(load, case, cut=cut)

    def fed(self, wire: FixedWire, load: Consumer, case: Case) -> Fraction:
        """Return what a load that no output feeds loses in a case, on the wires that are cut."""
        by, fuse = fed_load(self._laid.site, wire).by, fuse_for(load.current) or load.current
        assume, conductor = self._job.assume, conductor_of(self._laid.site, wire)
        at_rating = assume["small fuse drop" if fuse <= SMALL_FUSE_MA else "fuse drop"]
        ohms = Fraction(assume["relay contact"] if by == "relay" else 0)
        *before, last = wire.stretches
        for stretch, end in (*((one, one.ends[-1]) for one in before), (last, load.at or "")):
            way = self.way(stretch.run.legs, stretch.ends[0], end)
            ohms += self.ohms(conductor, [number for number, _ in way])
            ohms += len(self.parted(way)) * assume["connector"]
        lost = Fraction(1000 * at_rating * load.current, fuse) + ohms * load.current / 1000
        return lost + self._own(load) + self._behind(load, case, cut=True)


class Run:
    """The wires of an output's circuit: what flows in each leg, and where three or more of its wires meet.

    The output's wire ends at a load, or at the switch of its own; from there the load has a wire to itself.
    """

    def __init__(self, job: Job, count: Counted, wired: WiredOutput) -> None:
        """Take the circuit on its output."""
        self._job = job
        self._count = count
        self._legs = wired.run.legs
        self._root = wired.tree.root
        self._resistance = wired.output.resistance
        self.loads = wired.circuit.loads
        self._ways: dict[str, list[tuple[int, str]]] = {}
        self._dashes = [point.at for _, point in wired.circuit.shown]

    def _to(self, load: Consumer) -> list[tuple[int, str]]:
        """Return the way of the output's wire to a load, or to its switch."""
        if load.name not in self._ways:
            self._ways[load.name] = self._count.way(self._legs, self._root, load.own_switch or load.at or "")
        return self._ways[load.name]

    @cached_property
    def _in_leg(self) -> Counter[int]:
        """What flows in the output's wire in each leg: all to which it leads beyond."""
        flows = Counter[int]()
        for load in self.loads:
            flows.update({number: load.current for number, _ in self._to(load)})
        return flows

    @cached_property
    def _meeting(self) -> Counter[str]:
        tips = [*(load.own_switch or load.at or "" for load in self.loads), *self._dashes]
        led = {number for tip in tips for number, _ in self._count.way(self._legs, self._root, tip)}
        ends = (point for number in led for point in self._job.network.legs[number].between)
        return Counter([self._root, *ends, *tips])

    def _onward(self, load: Consumer, size: Conductor) -> Fraction:
        """Return the microohms of the wire from a load's own switch to the load, connectors inside it included."""
        if load.own_switch is None:
            return Fraction(0)
        way = self._count.way(self._legs, load.own_switch, load.at or "")
        parted = len(self._count.parted(way)) * self._job.assume["connector"]
        return self._count.ohms(size, [number for number, _ in way]) + parted

    def lost(self, load: Consumer, size: Conductor) -> Fraction:
        """Return what is lost in output and plug and on the way to a load, its wire of this size."""
        way, assume = self._to(load), self._job.assume
        lost = sum((self._count.ohms(size, (n,)) * self._in_leg[n] for n, _ in way), Fraction(0))
        lost += self._onward(load, size) * load.current
        lost += sum(assume["connector"] * self._in_leg[n] for n in self._count.parted(way))
        whole = sum(one.current for one in self.loads)
        entering = [(self._root, whole), *((point, self._in_leg[number]) for number, point in way)]
        lost += (self._resistance + assume["unit plug"]) * whole
        lost += sum(assume["splice"] * current for point, current in entering if self._meeting[point] > 2)
        return lost / 1000

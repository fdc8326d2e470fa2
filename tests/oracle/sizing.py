"""The sizes that all wires of a plan have in the looms, where many loaded wires lie together."""

from collections.abc import Callable, Iterable, Sequence
from dataclasses import dataclass
from functools import cache

from .catalogue import Wire
from .derating import most_loaded, with_reserve
from .drive import Drive
from .faults import heat_a2s, withstands
from .feeding import Fed
from .frame import Run
from .job import Job, Laid
from .returns import Joint
from .things import Load

LOADED_MA = 1000
Sizes = tuple[Wire, ...]
Counts = dict[int, list[int]]


@dataclass(frozen=True)
class Feed:
    """A feed: its legs, its sizes from the first up.

    `beside` are the legs that end where a feed lies that has none itself. `flow_ma` is the current that is counted
    in it in each case.
    """

    run: Run
    beside: Run
    sizes: Sizes
    fuse_ma: int
    flow_ma: tuple[int, ...]


class Looms:
    """How many wires are loaded in each leg in each steady-state case, whatever circuits a site has."""

    def __init__(self, job: Job, *feeds: Feed) -> None:
        """Take the job and the feeds."""
        self.job, self.feeds = job, feeds
        self.lasting = [number for number, case in enumerate(job.cases) if case.lasting]
        self.most_loaded = cache(self._most_loaded)
        self.heat = cache(self._heat)
        flow = job.steady
        self._base: Counts = {leg.number: [0] * len(job.cases) for leg in job.bike.legs}
        for feed in feeds:
            self._add(self._base, feed.run, [ma >= LOADED_MA for ma in feed.flow_ma])
        for joint in job.joints.values():
            self._add(self._base, joint.run, [ma >= LOADED_MA for ma in flow.joint[joint.key]])
        for fed in job.fed or ():
            loaded = fed.load.current_ma >= LOADED_MA
            for wire in fed.wires:
                here = [loaded and fed.load.name in case.on for case in job.cases]
                self._add(self._base, frozenset(wire.way), here)
        for number, other in enumerate(job.bike.alongside):
            loaded = other.current_ma >= LOADED_MA
            here = [loaded and number in case.beside for case in job.cases]
            for _ in range(other.count):
                self._add(self._base, job.beside(other.start, other.end), here)

    @staticmethod
    def _add(counts: Counts, run: Iterable[int], loaded: Sequence[bool]) -> None:
        for leg in run:
            counts[leg] = [count + more for count, more in zip(counts[leg], loaded, strict=True)]

    def with_circuits(self, drives: Sequence[Drive]) -> Counts:
        """Return the number of loaded wires in each leg in each case with these circuits."""
        counts = dict(self._base)
        for drive in drives:
            self._add(counts, drive.loaded, [drive.on_in(case.on) for case in self.job.cases])
        return counts

    def _most_loaded(self, wire: Wire, ma: int, leg: int) -> int:
        return most_loaded(wire, ma, self.job.bike.legs[leg].ambient_c, self.job.bike.stock.insulation_c)

    def _heat(self, drive: Drive, load: Load, wire: Wire) -> float:
        return heat_a2s(drive, load, wire)

    def alone(self, wire: Wire, ma: int, run: Run) -> bool:
        """Tell whether a wire carries a current (mA) in every leg with nothing loaded beside it."""
        return all(self.most_loaded(wire, ma, leg) > 0 for leg in run)

    def among(self, counts: Counts, wire: Wire, ma: int, run: Run, case: int) -> bool:
        """Tell whether a wire carries a current (mA) in every leg among what is loaded in a case."""
        return all(self.most_loaded(wire, ma, leg) >= max(1, counts[leg][case]) for leg in run)


@dataclass(frozen=True)
class Able:
    """For each wire of a plan the sizes that carry what they must among the others, thinnest first."""

    feeds: tuple[tuple[Feed, Sizes], ...]
    fed: tuple[tuple[Fed, Sizes], ...]
    joints: tuple[tuple[Joint, Sizes], ...]
    drives: tuple[tuple[Drive, Sizes], ...]

    def thinnest(self) -> list[Laid]:
        """Return the wires, each in the thinnest of its sizes."""
        laid = [Laid(sizes[0].diameter_um, feed.run) for feed, sizes in self.feeds]
        laid += [Laid(sizes[0].diameter_um, wire.run) for fed, sizes in self.fed for wire in fed.wires]
        laid += [Laid(sizes[0].diameter_um, joint.run) for joint, sizes in self.joints]
        return laid + [wire for drive, sizes in self.drives for wire in drive.laid(sizes[0])]


def able(looms: Looms, drives: Sequence[Drive]) -> Able | None:
    """Return the sizes that carry what they must; None where a wire has none.

    One more circuit never leaves more of them.
    """
    job, counts = looms.job, looms.with_circuits(drives)
    found = Able(
        tuple((feed, _feed_sizes(looms, counts, feed)) for feed in looms.feeds),
        tuple((fed, _fed_sizes(looms, counts, fed)) for fed in job.fed or ()),
        tuple((joint, _joint_sizes(looms, counts, joint, drives)) for joint in job.joints.values()),
        tuple((drive, _drive_sizes(looms, counts, drive)) for drive in drives),
    )
    every = [sizes for _, sizes in (*found.feeds, *found.fed, *found.joints, *found.drives)]
    return found if all(every) else None


def _among(looms: Looms, counts: Counts, sizes: Sizes, what: tuple[int, Run], cases: list[int]) -> Sizes:
    ma, run = what
    return tuple(
        wire
        for wire in sizes
        if looms.alone(wire, ma, run) and all(looms.among(counts, wire, ma, run, case) for case in cases)
    )


def _feed_sizes(looms: Looms, counts: Counts, feed: Feed) -> Sizes:
    """A feed that has no leg is one wire more in each that ends where it lies."""
    feeding = [n for n in looms.lasting if feed.flow_ma[n]]
    more = {leg: [count + 1 for count in counts[leg]] for leg in feed.beside}
    return _among(looms, counts | more, feed.sizes, (feed.fuse_ma, feed.run | feed.beside), feeding)


def _drive_sizes(looms: Looms, counts: Counts, drive: Drive) -> Sizes:
    on = [n for n in looms.lasting if drive.on_in(looms.job.cases[n].on)]
    return _among(looms, counts, drive.sizes, (drive.trip_ma, drive.shape.tree), on)


def _fed_sizes(looms: Looms, counts: Counts, fed: Fed) -> Sizes:
    on = [n for n in looms.lasting if fed.load.name in looms.job.cases[n].on]
    run = frozenset().union(*(wire.run for wire in fed.wires))
    return _among(looms, counts, fed.sizes, (fed.fuse_ma, run), on)


def _joint_sizes(looms: Looms, counts: Counts, joint: Joint, drives: Sequence[Drive]) -> Sizes:
    asked = [_returned_ma(looms.job, joint, drives, case) for case in range(len(looms.job.cases))]
    return tuple(wire for wire in joint.sizes if _returns(looms, counts, (joint, wire), asked))


def _returns(looms: Looms, counts: Counts, what: tuple[Joint, Wire], asked: Sequence[int]) -> bool:
    """Tell whether a joint return in a size carries a current (mA) for each case."""
    joint, wire = what
    return all(
        looms.among(counts, wire, ma, joint.run, case)
        if looms.job.cases[case].lasting
        else looms.alone(wire, ma, joint.run)
        for case, ma in enumerate(asked)
    )


def _returned_ma(job: Job, joint: Joint, drives: Sequence[Drive], case: int) -> int:
    """Return the most (mA) that a joint return must carry in a case: 1.25 x its sum, or one circuit at its trip."""
    total, on = job.steady.joint[joint.key][case], job.cases[case].on
    asked = [with_reserve(total), *(_tripping_ma(job, joint, drive, case) for drive in drives)]
    beside = [fed for fed in job.fed or () if fed.load.name in joint.names]
    asked += [total - fed.load.current_ma + fed.fuse_ma for fed in beside if fed.load.name in on]
    return max(asked)


def _tripping_ma(job: Job, joint: Joint, drive: Drive, case: int) -> int:
    """What a joint return carries (mA) with one circuit at its trip; 0 where that has no load there, or is off."""
    here = _here(drive, joint)
    if not here or not drive.on_in(job.cases[case].on):
        return 0
    return job.steady.joint[joint.key][case] - sum(load.current_ma for load in here) + drive.trip_ma


def _here(drive: Drive, joint: Joint) -> list[Load]:
    return [load for load in drive.held.members if load.name in joint.names]


def imposed(looms: Looms, counts: Counts, drive: Drive) -> list[set[Wire]]:
    """Return the sizes that one circuit leaves to its run, and those that it leaves to each return that it has."""
    runs = _drive_sizes(looms, counts, drive)
    left = [set(runs)]
    back = {looms.job.return_of[load.name] for load in drive.held.members if load.back}
    for joint in [looms.job.joints[key] for key in sorted(back)] if runs else []:
        asked = [_tripping_ma(looms.job, joint, drive, case) for case in range(len(looms.job.cases))]
        heat = max(min(looms.heat(drive, load, wire) for wire in runs) for load in _here(drive, joint))
        sizes = [wire for wire in joint.sizes if not joint.run or withstands(wire.area, heat)]
        left.append({wire for wire in sizes if _returns(looms, counts, (joint, wire), asked)})
    return left


def settled(looms: Looms, drives: Sequence[Drive]) -> Able | None:
    """Return every wire that has a size of its own, the first of its sizes being that; None where one has none.

    Returns stand the shorts of the circuits that they serve, these in their own settled sizes.
    """
    found = able(looms, drives)
    return None if found is None else _standing(looms, found, lambda runs: runs[:1])


def thinnest(looms: Looms, drives: Sequence[Drive]) -> list[Laid] | None:
    """Return the same wires, none thicker than it is beside more circuits; None where none has a size then.

    Returns stand the shorts of circuits in whichever of their sizes heats them least.
    """
    found = able(looms, drives)
    standing = None if found is None else _standing(looms, found, lambda runs: runs)
    return None if standing is None else standing.thinnest()


def _standing(looms: Looms, found: Able, tried: Callable[[Sizes], Sizes]) -> Able | None:
    joints = tuple(
        (joint, tuple(wire for wire in sizes if not joint.run or withstands(wire.area, heat)))
        for joint, sizes in found.joints
        for heat in [_heat_through(looms, joint, found, tried)]
    )
    if not all(sizes for _, sizes in joints):
        return None
    return Able(found.feeds, found.fed, joints, found.drives)


def _heat_through(looms: Looms, joint: Joint, found: Able, tried: Callable[[Sizes], Sizes]) -> float:
    heats = [
        min(looms.heat(drive, load, wire) for wire in tried(runs))
        for drive, runs in found.drives
        for load in _here(drive, joint)
    ]
    return max(heats, default=0.0)

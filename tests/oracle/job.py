"""What is the same in every plan: cases, main fuse, returns, fed loads, wires alongside."""

from collections.abc import Iterable
from dataclasses import dataclass
from fractions import Fraction
from functools import cached_property

from .cases import cases
from .catalogue import Wire
from .electrics import main_fuse_ma, step_above, unit_current_ma
from .frame import Frame, Run, ohm_metres
from .things import Bike, Load, Unit

CONNECTOR_MOHM = 5  # common practice
RETURN_DROP_UV = 70_000


@dataclass(frozen=True)
class Laid:
    """A wire in the looms: its diameter (um) and legs."""

    diameter_um: int
    run: Run


@dataclass(frozen=True)
class Return:
    """The joint return of a point: its legs, earth point, resistance and current in each case."""

    run: Run
    earth: str
    mohm: Fraction
    diameter_um: int
    ma: tuple[int, ...]


class Job:
    """A bike and a unit, before a place is chosen."""

    def __init__(self, bike: Bike, unit: Unit) -> None:
        """Take both and work out what no plan changes."""
        self.bike, self.unit = bike, unit
        self.frame = Frame(bike.legs)
        self.cases = cases(bike)
        self.feed_ma = tuple(unit_current_ma(bike, on) for on in self.cases)
        self.fuse_ma = main_fuse_ma(bike, unit, max(self.feed_ma))
        self.thin = bike.reels[0]

    def legs_mohm(self, run: Run, wire: Wire) -> Fraction:
        """Give the resistance (mohm) of a wire along some legs."""
        return wire.mohm_per_m * ohm_metres(self.bike.legs[number] for number in run)

    def connectors_in(self, start: str, legs: Iterable[int]) -> int:
        """Count the connectors strictly inside a path, its legs in order from `start`."""
        points = [start]
        for number in legs:
            one, other = self.bike.legs[number].ends
            points.append(other if points[-1] == one else one)
        return sum(point in self.bike.connectors for point in points[1:-1])

    def connectors_on(self, run: Run, start: str, end: str) -> int:
        """Count the connectors strictly inside a run that is one path."""
        return self.connectors_in(start, self.frame.paths_in(run, start)[end])

    def path(self, start: str, end: str) -> Run:
        """Give the shortest path. Raises ValueError where a frame falls apart."""
        run = self.frame.path(start, end)
        if run is None:
            msg = f"no way from {start} to {end}"
            raise ValueError(msg)
        return run

    def nearest_earth(self, point: str) -> str:
        """Give the nearest earth point, of equally near ones the first in the file."""
        return min(self.bike.earth, key=lambda earth: self.frame.length_um(self.path(point, earth)))

    @cached_property
    def returns(self) -> dict[str, Return]:
        """Give the joint return of each point that needs one."""
        points = [load.at for load in self.bike.loads if load.wired]
        points += [point for switch in self.bike.switches if switch.signal == "earth" for point in switch.points]
        return {point: self._return(point) for point in dict.fromkeys(points)}

    def _return(self, point: str) -> Return:
        earth = self.nearest_earth(point)
        run = self.path(point, earth)
        here = [load for load in self.bike.loads if load.wired and load.at == point]
        ma = tuple(sum(self.drawn_ma(load, on) for load in here) for on in self.cases)
        able = (
            wire
            for wire in self.bike.reels
            if 4 * wire.carries_ma >= 5 * max(ma) and self.legs_mohm(run, wire) * max(ma) <= RETURN_DROP_UV
        )
        wire = next(able, self.bike.reels[-1])
        mohm = self.legs_mohm(run, wire) + CONNECTOR_MOHM * self.connectors_on(run, point, earth)
        return Return(run, earth, mohm, wire.diameter_um, ma)

    def drawn_ma(self, load: Load, on: frozenset[str]) -> int:
        """Give what a load draws (mA) in a case; one fed from others draws once."""
        runs = bool(load.feeders & on) if load.feeders else load.name in on
        return load.current_ma if runs else 0

    @cached_property
    def earth_ma(self) -> dict[str, tuple[int, ...]]:
        """Give the sum (mA) of all wired returns that end at each earth point, in each case."""
        return {
            earth: tuple(
                sum(joint.ma[case] for joint in self.returns.values() if joint.earth == earth)
                for case in range(len(self.cases))
            )
            for earth in self.bike.earth
        }

    def return_uv(self, load: Load, case: int) -> Fraction:
        """Give the drop (uV) from a load back to the battery's side in a case."""
        if not load.wired:
            return self.bike.earth_mohm * load.current_ma
        joint = self.returns[load.at]
        return joint.mohm * joint.ma[case] + self.bike.earth_mohm * self.earth_ma[joint.earth][case]

    @cached_property
    def fed(self) -> list[Laid] | None:
        """Give the wires from the battery to fed loads; None where no fuse or wire carries one."""
        laid = []
        for load in self.bike.loads:
            if load.fed != "unit":
                wire = self._fed_wire(load)
                run = Frame(self.bike.legs, load.avoid).path(self.bike.battery, load.at)
                if wire is None or run is None:
                    return None
                laid.append(Laid(wire.diameter_um, run))
        return laid

    def _fed_wire(self, load: Load) -> Wire | None:
        fuse = step_above(Fraction(5 * load.current_ma, 4))
        return None if fuse is None else next((w for w in self.bike.reels if w.carries_ma >= fuse), None)

    @cached_property
    def fixed(self) -> list[Laid]:
        """Give every wire of the looms that is the same in all plans at all places."""
        laid = [Laid(joint.diameter_um, joint.run) for joint in self.returns.values()]
        laid += [Laid(self.thin.diameter_um, run) for run in self._sender_returns()]
        for other in self.bike.alongside:
            laid += [Laid(other.diameter_um, self.path(other.start, other.end))] * other.count
        live = frozenset(p for switch in self.bike.switches if switch.signal == "supply" for p in switch.points)
        if live:
            tree = self.frame.tree(live | {self.bike.battery})
            laid.append(Laid(self.thin.diameter_um, tree or frozenset()))
        return laid + (self.fed or [])

    def _sender_returns(self) -> list[Run]:
        return [
            self.path(point, self.nearest_earth(point))
            for switch in self.bike.switches
            if switch.signal == "sender"
            for point in switch.points
        ]

    @cached_property
    def fixed_um(self) -> int:
        """Give the run (um) of all returns and of the wires of fed loads."""
        runs = [joint.run for joint in self.returns.values()] + self._sender_returns()
        runs += [laid.run for laid in self.fed or []]
        return sum(self.frame.length_um(run) for run in runs)

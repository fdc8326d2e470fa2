"""What is the same in every plan: cases, currents, returns, fed loads, wires alongside."""

from collections.abc import Callable, Iterable, Sequence
from dataclasses import dataclass, fields
from fractions import Fraction
from functools import cache, cached_property

from .cases import cases, states_on
from .catalogue import Wire
from .derating import with_reserve
from .feeding import Fed, fed_load
from .flow import COIL_MA, Flow, cranking_ma
from .frame import Frame, Run, ohm_metres
from .fuses import main_fuses_ma
from .losses import EARTH_LIFT_UV, RETURN_UV
from .parts import drop_class
from .quantities import ceiling
from .returns import Dealt, Joint, Key, coiled_at, dealt, judged_uv, left
from .things import Bike, Load, Output, Unit


@dataclass(frozen=True)
class Laid:
    """A wire in the looms: its diameter (um) and legs."""

    diameter_um: int
    run: Run


class Job:
    """A bike and a unit, before a place and a main fuse are chosen."""

    def __init__(self, bike: Bike, unit: Unit, whole: "Job | None" = None, shut: frozenset[str] = frozenset()) -> None:
        """Take both and work out what no plan changes.

        The legs of the names in `shut` are closed to all wires but those alongside. Where only part of a bike is
        there, `whole` is the job of all of it: its loads are dealt to returns as there, and what feed and returns
        are judged with is no less.
        """
        self.bike, self.unit = bike, unit
        self.first_alike = first_alike(unit)
        self.whole: Job = whole or self
        self.shut = shut
        self.everywhere = Frame(bike.legs)
        self.frame: Frame = whole.frame if whole else Frame(bike.legs, shut)
        self.ohm_metres: list[Fraction] = whole.ohm_metres if whole else [ohm_metres(leg) for leg in bike.legs]
        self.without_legs: Callable[[frozenset[str]], Frame]
        self.without_legs = whole.without_legs if whole else cache(self._without_legs)
        self.legs_mohm: Callable[[Run | tuple[int, ...], Wire], Fraction]
        self.legs_mohm = whole.legs_mohm if whole else cache(self._legs_mohm)
        self.cases = cases(bike)
        self.states = states_on(bike)
        self.returns: dict[Key, Dealt]
        self.returns = left(whole.returns, bike) if whole else self._deal()
        self.return_of = {name: key for key, one in self.returns.items() for name in one.names}
        self.steady = Flow(bike, self.cases, {load.name: load.current_ma for load in bike.loads}, self.returns)
        drawn = {load.name: cranking_ma(load, bike) for load in bike.loads}
        self.cranking = Flow(
            bike, self.cases, drawn, self.returns, ceiling(COIL_MA * bike.cranking_mv / bike.running_mv)
        )
        self.fuses_ma = main_fuses_ma(max(*self.steady.feed, bike.charging_ma), unit.fuse_max_ma)
        self.thin = bike.reels[0]
        self.joints = {key: self._joint(one) for key, one in self.returns.items()}

    def _deal(self) -> dict[Key, Dealt]:
        """Deal the loads of each point to its returns."""
        return dealt(self.bike, self.nearest_earth, self._one_serves)

    def _without_legs(self, shut: frozenset[str]) -> Frame:
        """Return the frame with the legs of these names shut."""
        return Frame(self.bike.legs, shut | self.shut) if shut else self.frame

    def _legs_mohm(self, run: Run | tuple[int, ...], wire: Wire) -> Fraction:
        """Return the resistance (mohm) of a wire along some legs, hot."""
        return wire.mohm_per_m * sum((self.ohm_metres[number] for number in run), Fraction(0))

    def path_mohm(self, run: Run, start: str, end: str, wire: Wire) -> Fraction:
        """Return the resistance (mohm) of a wire and its connectors along a run that is one path."""
        return self.legs_mohm(run, wire) + self.bike.contacts.connector * self.connectors_on(run, start, end)

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
        """Return the shortest path. Raises ValueError where a frame falls apart."""
        run = self.frame.path(start, end)
        if run is None:
            msg = f"no way from {start} to {end}"
            raise ValueError(msg)
        return run

    def nearest_earth(self, point: str) -> str:
        """Return the nearest earth point, of equally near ones the first in the file.

        The starter's takes only what sits there, where there is another.
        """
        able = [earth for earth in self.bike.earth if earth != self.bike.starter or earth == point]
        near = [earth for earth in able or self.bike.earth if self.frame.path(point, earth) is not None]
        if not near:
            msg = f"no way from {point} to earth"
            raise ValueError(msg)
        return min(near, key=lambda earth: self.frame.length_um(self.path(point, earth)))

    def beside(self, start: str, end: str) -> Run:
        """Return the way of a wire alongside, over all legs. Raises ValueError where a frame falls apart."""
        run = self.everywhere.path(start, end)
        if run is None:
            msg = f"no way from {start} to {end}"
            raise ValueError(msg)
        return run

    def _one_serves(self, key: Key, loads: Sequence[Load]) -> bool:
        """Tell whether one return, no thicker than a shared one may be, serves loads at a point."""
        point, number = key
        run, most = (
            self.path(point, self.nearest_earth(point)),
            self._most_ma(loads, coiled_at(self.bike, point) if number == 0 else frozenset()),
        )
        return any(self._serves(wire, run, most) for wire in self.bike.reels if wire.area <= self.bike.thickest_return)

    def _most_ma(self, loads: Iterable[Load], coils: frozenset[str]) -> int:
        """Return the most (mA) that loads draw together in any case, with the coils of the relays of some others."""
        held = list(loads)
        return max(
            sum(load.current_ma for load in held if case.has_on(load)) + COIL_MA * len(coils & case.on)
            for case in self.cases
        )

    def _serves(self, wire: Wire, run: Run, most: int) -> bool:
        """Tell whether a wire carries a return's worst case (mA) with a reserve, and loses little."""
        return wire.carries_ma >= with_reserve(most) and self.legs_mohm(run, wire) * most <= RETURN_UV

    def _joint(self, one: Dealt) -> Joint:
        run, most, reels = self.path(one.point, one.earth), max(self.steady.joint[one.key]), self.bike.reels
        able = (number for number, wire in enumerate(reels) if self._serves(wire, run, most))
        contacts = self.bike.contacts
        mohm = contacts.connector * self.connectors_on(run, one.point, one.earth) + (contacts.splice if run else 0)
        whole = self.whole
        uv = judged_uv(run, self.legs_mohm(run, reels[-1]) * most) if whole is self else whole.joints[one.key].judged_uv
        return Joint(one.key, run, one.earth, one.names, reels[next(able, -1) :], uv, mohm)

    def behind_uv(self, flow: Flow, load: Load, case: int) -> Fraction:
        """Return what a plan is judged with (uV) from a load back to the battery's side in a case."""
        if not load.back:
            return self.bike.contacts.earth_point * flow.ma[load.name]
        return self.lift_uv(flow, self.joints[self.return_of[load.name]], case)

    def lift_uv(self, flow: Flow, joint: Joint, case: int) -> Fraction:
        """Return by how much (uV) joint return and earth point lift the earth of a point in a case, as it is judged."""
        lost = joint.mohm * flow.joint[joint.key][case] + self.bike.contacts.earth_point * flow.earth[joint.earth][case]
        return joint.judged_uv + lost

    @cached_property
    def signals_kept(self) -> bool:
        """Tell whether no switch to earth finds its earth lifted too far."""
        points = {point for switch in self.bike.wired_switches if switch.earthed for point in switch.points}
        return "signal" in self.bike.set_aside or all(
            self.lift_uv(self.steady, self.joints[point, 0], case) <= EARTH_LIFT_UV
            for point in points
            for case in range(len(self.cases))
        )

    @cached_property
    def fed(self) -> tuple[Fed, ...] | None:
        """The wires from the battery to fed loads; None where no fuse or wire serves one."""
        wires = [fed_load(self, load) for load in self.bike.loads if load.fed != "unit"]
        whole = tuple(wire for wire in wires if wire is not None)
        return whole if len(whole) == len(wires) else None

    def drop_limit_uv(self, load: Load) -> Fraction:
        """Return how much (uV) may be lost on the whole path of a load."""
        return self.bike.drop_uv[drop_class(load.part)]

    @cached_property
    def always(self) -> list[Laid]:
        """The wires of the looms that neither place nor plan change, in no other size."""
        laid = [Laid(self.thin.diameter_um, run) for run in (*self._sender_returns(), *self._dash_runs())]
        laid += [Laid(self.thin.diameter_um, fed.coil) for fed in self.fed or ()]
        for other in self.bike.alongside:
            laid += [Laid(other.diameter_um, self.beside(other.start, other.end))] * other.count
        live = frozenset(p for switch in self.bike.wired_switches if switch.signal == "supply" for p in switch.points)
        if live:
            tree = self.frame.tree(live | {self.bike.battery})
            laid.append(Laid(self.thin.diameter_um, tree or frozenset()))
        return laid

    def _sender_returns(self) -> list[Run]:
        """A sender read at several places sits at the first of them: one return of its own."""
        return [
            self.path(switch.points[0], self.nearest_earth(switch.points[0]))
            for switch in self.bike.switches
            if switch.signal == "sender" and not switch.framed
        ]

    def _dash_runs(self) -> list[Run]:
        """The wires of what only dashes read. Raises ValueError where a frame falls apart."""
        runs = [self.frame.tree(ends) for switch in self.bike.dash_switches for ends in switch.dash_wires]
        if None in runs:
            msg = "no way from a sensor to its dash"
            raise ValueError(msg)
        return [run for run in runs if run is not None]

    @cached_property
    def fixed_um(self) -> int:
        """The run (um) of all returns, of what only dashes read, and of the wires of fed loads."""
        runs = [joint.run for joint in self.joints.values()] + self._sender_returns() + self._dash_runs()
        runs += [run for fed in self.fed or () for run in (*(wire.run for wire in fed.wires), fed.coil)]
        return sum(self.frame.length_um(run) for run in runs)


def first_alike(unit: Unit) -> dict[Output, Output]:
    """For each output the first that drives a circuit as it does: only what it is called and shares may differ."""
    told_apart_by = [field.name for field in fields(Output) if field.name not in ("name", "bank", "follow", "many")]
    first: dict[tuple[object, ...], Output] = {}
    return {out: first.setdefault(tuple(getattr(out, name) for name in told_apart_by), out) for out in unit.outputs}

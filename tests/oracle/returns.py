"""How the currents of a point's loads are dealt to its returns.

A return is of one size, and a hand can crimp only so much: a point has as many as its loads need at their first
sizes. Source: common practice, no source.
"""

from collections.abc import Callable, Iterable, Sequence
from dataclasses import dataclass
from fractions import Fraction

from .catalogue import Wire
from .frame import Run
from .losses import RETURN_UV
from .parts import LAMP_PARTS, LEADING
from .things import Bike, Load

Key = tuple[str, int]
"""A point, and the number of the return there."""
Fits = Callable[[Key, Sequence[Load]], bool]
Pin = tuple[Load, ...]
"""Loads whose currents come back by one pin: a coil's by what switches it, a bulb's filaments."""
LIT = frozenset({"filament", "led", "discharge"})


@dataclass(frozen=True)
class Dealt:
    """A return: where it starts and ends, its number there, and the names of its loads."""

    point: str
    number: int
    earth: str
    names: frozenset[str]

    @property
    def key(self) -> Key:
        """Its point and number."""
        return self.point, self.number


@dataclass(frozen=True)
class Joint:
    """A return with its legs and its sizes from the first up.

    `judged_uv` is what its own wire is judged with, `mohm` what connectors and splice on it resist.
    """

    key: Key
    run: Run
    earth: str
    names: frozenset[str]
    sizes: tuple[Wire, ...]
    judged_uv: Fraction
    mohm: Fraction


def points(bike: Bike) -> list[str]:
    """Return the points that have a return, those of loads first."""
    return list(dict.fromkeys([load.back for load in bike.loads if load.back] + switch_points(bike)))


def switch_points(bike: Bike) -> list[str]:
    """Return the points where a switch is earthed, a relay's own one too."""
    own = [load.own_switch for load in bike.loads if load.own_switch and load.fed == "relay"]
    return [point for switch in bike.wired_switches if switch.earthed for point in switch.points] + own


def coiled_at(bike: Bike, point: str) -> frozenset[str]:
    """Return the loads whose relays have coils that a switch at a point earths: by the first return there."""
    return frozenset(load.name for load in bike.loads if load.fed == "relay" and load.own_switch == point)


def dealt(bike: Bike, earth_of: Callable[[str], str], fits: Fits) -> dict[Key, Dealt]:
    """Deal the loads of each point; `fits` tells whether one return from a point, of a number, serves loads.

    In order they fill a return while it serves; the next begins another, and none goes back. What needs more
    than such a return has one of its own, of any size. Switches and multiplexers are on the first.
    """
    made: dict[Key, Dealt] = {}
    for point in points(bike):
        for number, loads in enumerate(_filled(point, pins(bike, point), fits) or [()]):
            made[point, number] = Dealt(point, number, earth_of(point), frozenset(load.name for load in loads))
    return made


def _filled(point: str, waiting: Iterable[Pin], fits: Fits) -> list[Pin]:
    filled: list[Pin] = []
    for pin in waiting:
        if filled and fits((point, len(filled) - 1), filled[-1] + pin):
            filled[-1] += pin
        else:
            filled.append(pin)
    return filled


def pins(bike: Bike, point: str) -> list[Pin]:
    """Return the loads that come back from a point, pin by pin, in the order in which they are dealt."""
    found: dict[str, list[tuple[int, int, Load]]] = {}
    for number, load in enumerate(bike.loads):
        if load.back == point:
            found.setdefault(load.pin, []).append((_job(load), number, load))
    order = sorted(found.values(), key=lambda pin: min((job, number) for job, number, _ in pin))
    return [tuple(load for _, _, load in pin) for pin in order]


def _job(load: Load) -> int:
    """Return the rank of a load by what it does: what leads the bike, then lamps, then the rest."""
    if load.part in LEADING:
        return 0
    lit = load.part in LAMP_PARTS if load.part else load.kind in LIT
    return 1 if lit else 2


def left(whole: dict[Key, Dealt], bike: Bike) -> dict[Key, Dealt]:
    """Return what is left of a whole bike's returns on a part of it: each load stays on its own."""
    here, switched = {load.name for load in bike.loads}, set(switch_points(bike))
    kept = {key: Dealt(one.point, one.number, one.earth, one.names & here) for key, one in whole.items()}
    return {key: one for key, one in kept.items() if one.names or (one.number == 0 and one.point in switched)}


def judged_uv(run: Run, loses: Fraction) -> Fraction:
    """Return what a return's wire is judged with, where the thickest allowed loses so much (uV); no leg, no wire."""
    return max(Fraction(RETURN_UV), loses) if run else Fraction(0)

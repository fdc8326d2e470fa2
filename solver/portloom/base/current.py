"""What a load draws: one steady current and its inrush, and what it draws and gives at another voltage.

Source of the latter: lamp engineering, from memory: filament current ~ V^0.55, light ~ V^3.4; heaters and coils
are resistances; an LED with its converter, a discharge lamp with its ballast and electronics draw constant power; a
motor constant current.
"""

from fractions import Fraction
from math import ceil

from portloom.base.assumptions import Assumptions
from portloom.base.bike import Load, Part
from portloom.base.lamps import LAMPS
from portloom.base.parts.loads import load_part
from portloom.base.quantities import MicroAmps, Microseconds, MilliAmps, MilliVolts, MilliWatts
from portloom.base.values import dataclass
from portloom.base.vocabulary import COIL, HORN, Kind


@dataclass(frozen=True)
class Inrush:
    """The height of an inrush and how long it lasts."""

    height: MicroAmps
    lasts: Microseconds


def current_of_power(power: MilliWatts, running: MilliVolts) -> MilliAmps:
    """Return the current of ``power`` at the running voltage, rounded up to 1 mA.

    Source: I = P / U.
    """
    return MilliAmps(-(-1000 * power // running))


def steady_current(load: Load, running: MilliVolts) -> MilliAmps:
    """Return the one steady current of a load, in every rule, sum and price.

    Raises KeyError for a lamp that the catalogue lacks and ValueError for a load that says nothing.
    """
    if load.lamp is not None:
        return LAMPS[load.lamp].current
    if load.power is not None:
        return current_of_power(load.power, running)
    if load.current is not None:
        return load.current
    raise ValueError(f"{load.name} has neither lamp, power nor current")


def kind_of(load: Load) -> Kind:
    """Return the electrical kind of a load: a lamp is filament, a bare current is electronics."""
    if load.kind is not None:
        return load.kind
    return "filament" if load.lamp is not None else "electronics"


def inrush_kind(kind: Kind, part: Part | None) -> str:
    """Return the kind by which a load's usual inrush is found: a fan's is higher than another motor's."""
    known = load_part(part)
    return known.inrush if known and known.inrush and known.kind == kind else kind


def inrush_of(load: Load, steady: MilliAmps, assume: Assumptions) -> Inrush:
    """Return the inrush of a load: its own, what it pulls in with, or the usual multiple of its steady current.

    Source: common practice, no source (the table of defaults).
    """
    kind = inrush_kind(kind_of(load), load.part)
    own = load.pull_in if load.inrush is None else load.inrush
    height = MicroAmps(steady * assume[f"{kind} inrush"]) if own is None else MicroAmps(own * 1000)
    pulls = load.pull_in is not None and load.inrush is None
    lasts = Microseconds(assume["pull-in time" if pulls else f"{kind} inrush time"])
    return Inrush(height, lasts if load.inrush_for is None else load.inrush_for)


def combined_inrush(inrushes: tuple[Inrush, ...]) -> Inrush:
    """Return the inrush of loads that come on at once: the sum, for the longest of their times."""
    height = sum(inrush.height for inrush in inrushes)
    lasts = max(inrush.lasts for inrush in inrushes)
    return Inrush(MicroAmps(height), Microseconds(lasts))


CURRENT_EXPONENT: dict[Kind, float] = {
    "filament": 0.55,
    "heater": 1.0,
    COIL: 1.0,
    "relay coil": 1.0,
    HORN: 1.0,
    "led": -1.0,
    "discharge": -1.0,
    "electronics": -1.0,
    "motor": 0.0,
}
LIGHT_EXPONENT = 3.4


def current_at(kind: Kind, steady: MilliAmps, known_at: MilliVolts, voltage: MilliVolts) -> MilliAmps:
    """Return the current at ``voltage`` of a load that draws ``steady`` at ``known_at``, rounded up to 1 mA."""
    exact = steady * (voltage / known_at) ** CURRENT_EXPONENT[kind]
    return MilliAmps(ceil(exact - 1e-9))


def brightness_share(supply: MilliVolts, lamp: Fraction) -> float:
    """Return the share of its light that a filament lamp keeps at ``lamp`` millivolts instead of ``supply``."""
    return float(pow(float(lamp / supply), LIGHT_EXPONENT))

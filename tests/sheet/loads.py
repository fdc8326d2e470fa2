"""Loads as a bike's file has them, with what their parts bring, as far as three bikes need it."""

from dataclasses import dataclass
from fractions import Fraction

from .entries import Entry, amount
from .tables import LAMPS, RELAY_COIL_MA, F, rounded_up

RIDING, KEY_ON = ("day", "night"), ("key on", "day", "night")
SPARKING = ("key on", "cranking", "day", "night")
PARTS: dict[str, tuple[str, str, tuple[str, ...]]] = {
    "dipped beam": ("filament", "steady", RIDING),
    "main beam": ("filament", "steady", ("main beam", "flashing the main beam")),
    "position lamp": ("filament", "steady", KEY_ON),
    "tail lamp": ("filament", "steady", KEY_ON),
    "plate lamp": ("filament", "steady", KEY_ON),
    "brake lamp": ("filament", "hold", ("braking",)),
    "left indicator": ("filament", "flash", ("indicating left", "hazard")),
    "right indicator": ("filament", "flash", ("indicating right", "hazard")),
    "indicator tell-tale": ("led", "flash", ()),
    "ignition coil": ("ignition coil", "steady", SPARKING),
    "engine controller": ("electronics", "steady", SPARKING),
    "dash": ("electronics", "steady", SPARKING),
    "fuel pump": ("motor", "engine-run", ("cranking", "day", "night")),
    "starter solenoid": ("relay coil", "start", ("cranking",)),
    "horn": ("horn", "hold", ("horn",)),
    "fan": ("motor", "steady", ("fan running",)),
    "satellite navigation": ("electronics", "steady", KEY_ON),
    "socket": ("electronics", "steady", KEY_ON),
    "heated grips": ("heater", "steady", RIDING),
    "heated seat": ("heater", "steady", RIDING),
    "spot lamp": ("filament", "steady", ("main beam",)),
    "": ("electronics", "steady", KEY_ON),
}
"""Kind, mode, and when it is on. Common practice, no source."""
CONTROLLERS = ("engine controller", "dash")


@dataclass(frozen=True)
class Load:
    """A load with what it draws (mA) and when."""

    name: str
    part: str
    at: str
    kind: str
    mode: str
    when: frozenset[str]
    never: frozenset[str]
    steady_ma: int
    told_v: Fraction
    """The voltage for which its current is told."""
    lamp: str
    feeders: tuple[str, ...]
    fed: str
    own_switch: str
    returns_at: str
    """Where a wire leads its current back from; '' where none does."""
    by_frame: bool
    pin: str
    avoid: frozenset[str]
    lowest_v: Fraction | None
    dim_to: Fraction

    @property
    def stop(self) -> str:
        """Return where the wire from its output ends: at its own switch, if it has one."""
        return self.own_switch or self.at

    @property
    def surge(self) -> str:
        """Return the row of the inrush table."""
        return "fan" if self.part == "fan" else self.kind


def loads_of(file: Entry, running_v: Fraction) -> list[Load]:
    """Return the loads of a file, and the coils of the relays that feed some of them."""
    entries: list[Entry] = file["loads"]
    loads = [_load(entry, entries, running_v) for entry in entries]
    relays = [load for load in loads if load.fed == "relay" and not load.own_switch]
    return loads + [_relay(load, file["supply"]["battery"]["at"], running_v) for load in relays]


def _relay(load: Load, battery: str, running_v: Fraction) -> Load:
    name = f"{load.name} relay"
    return Load(
        name, load.part, battery, "relay coil", load.mode, load.when, load.never, RELAY_COIL_MA, running_v, "",
        (), "unit", "", battery, by_frame=False, pin=name, avoid=frozenset(), lowest_v=None,
        dim_to=F(1),
    )  # fmt: skip


def _load(entry: Entry, entries: list[Entry], running_v: Fraction) -> Load:
    part: str = entry.get("part", "")
    kind, mode, when = PARTS[part]
    name: str = entry.get("name", part)
    lamp: str = entry.get("lamp", "")
    steady_ma, told_v = _steady(entry, running_v)
    return Load(
        name,
        part,
        entry["at"],
        entry.get("kind", kind),
        entry.get("mode", "toggle" if part == "main beam" and _pushed(entries, lamp) else mode),
        frozenset(entry.get("when", when)),
        frozenset(entry.get("except", PARTS["main beam"][2] if lamp in ("H4 dipped", "HS1 dipped") else ())),
        steady_ma,
        told_v,
        lamp,
        _feeders(entry, entries),
        entry.get("fed", "unit"),
        entry.get("own_switch", ""),
        _returns_at(entry, entries),
        by_frame=entry.get("return") == "frame" or entry.get("switched_by") == "points",
        pin=f"{lamp.partition(' ')[0]} at {entry['at']}" if " " in lamp else name,
        avoid=frozenset(entry.get("avoid", ())),
        lowest_v=amount(entry["lowest"], "V") if "lowest" in entry else None,
        dim_to=amount(entry.get("dim_to", "100 %"), "%") / 100,
    )


def _pushed(entries: list[Entry], lamp: str) -> bool:
    """Tell whether a push button dips the beams: of the three bikes only where both beams are one HS1."""
    return lamp == "HS1 main" and any(entry.get("lamp") == "HS1 dipped" for entry in entries)


def _steady(entry: Entry, running_v: Fraction) -> tuple[int, Fraction]:
    """Return what a load draws (mA, rounded up once), and the voltage for which that is told."""
    if "lamp" in entry:
        lamp = LAMPS[entry["lamp"]]
        return rounded_up(lamp.watts / lamp.test_v * 1000), lamp.test_v
    if "power" in entry:
        return rounded_up(amount(entry["power"], "W") / running_v * 1000), running_v
    return rounded_up(amount(entry["current"], "A") * 1000), running_v


def _feeders(entry: Entry, entries: list[Entry]) -> tuple[str, ...]:
    if "from" in entry:
        return tuple(entry["from"])
    if entry.get("part") != "indicator tell-tale":
        return ()
    sides = ("left indicator", "right indicator")
    return tuple(next(other["name"] for other in entries if other.get("part") == side) for side in sides)


def _returns_at(entry: Entry, entries: list[Entry]) -> str:
    """Return where a load's current comes back: a coil's, at what switches it."""
    switched_by = entry.get("switched_by")
    if switched_by == "points" or entry.get("return") == "frame":
        return ""
    if switched_by:
        return next(str(other["at"]) for other in entries if other.get("part") == switched_by)
    return str(entry["at"])

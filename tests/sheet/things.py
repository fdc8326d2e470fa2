"""What the bike's file and the unit's file say, read plainly."""

from dataclasses import dataclass
from fractions import Fraction
from pathlib import Path

from .entries import Entry, amount, read, several
from .loads import Load, loads_of
from .tables import MOHM, SLEEVE_MM, USUAL_REELS

BY_FRAME = ("neutral switch",)
TAKE_NO_RETURN = ("engine speed signal",)


@dataclass(frozen=True)
class Leg:
    """A stretch of the loom, in mm."""

    name: str
    ends: tuple[str, str]
    length_mm: Fraction
    opening_mm: Fraction | None
    opens_to_mm: Fraction | None
    sleeve_mm: Fraction
    ambient_c: Fraction
    moves: bool


@dataclass(frozen=True)
class Switch:
    """A switch; it is earthed by a wire, by the frame, or not at all."""

    name: str
    at: str
    signal: str
    wired_back: bool


class Bike:
    """One bike's file."""

    def __init__(self, path: Path) -> None:
        """Read a file in which nothing is wrong."""
        self.file: Entry = read(path)
        supply = self.file["supply"]
        self.running_v = amount(supply["running"], "V")
        self.cranking_v = amount(supply.get("cranking", "9.0 V"), "V")
        self.starter: Entry | None = supply.get("starter")
        self.battery = str(supply["battery"]["at"])
        self.capacity_ah = amount(supply["battery"]["capacity"], "Ah")
        self.idle_w = amount(supply["charging"]["idle"], "W")
        self.cruise_w = amount(supply["charging"]["cruise"], "W")
        frame = self.file["frame"]
        self.legs = [_leg(entry) for entry in frame["legs"]]
        self.earth = several(frame["earth"])
        self.connectors = frozenset(several(frame.get("connectors")))
        self.places: list[Entry] = self.file["places"]
        self.reels = [reel.split(" ")[0] for reel in self.file.get("reels", ())] or list(USUAL_REELS)
        assumed = {name: amount(text, "mohm") for name, text in self.file.get("assume", {}).items()}
        self.mohm: dict[str, Fraction] = MOHM | assumed
        self.loads = loads_of(self.file, self.running_v)
        self.switches = [_switch(entry) for entry in self.file["inputs"]]
        self.events: dict[str, Entry] = self.file.get("events", {})
        self.alongside: list[Entry] = self.file.get("alongside", [])
        self.later: list[Entry] = self.file.get("later", [])
        self.multiplexers: list[Entry] = self.file.get("multiplexers", [])

    def load(self, name: str) -> Load:
        """Return a load by its name."""
        return next(load for load in self.loads if load.name == name)

    def leg(self, name: str) -> Leg:
        """Return a leg by its name."""
        return next(leg for leg in self.legs if leg.name == name)


class Unit:
    """One unit's file."""

    def __init__(self, path: Path) -> None:
        """Read a profile in which nothing is wrong."""
        file: Entry = read(path)
        feed = file["feed"]
        self.limit_a = amount(feed["limit"], "A")
        self.fuse_max_a = amount(feed["fuse_max"], "A") if "fuse_max" in feed else None
        self.standby_ma, self.awake_ma = amount(feed["standby"], "mA"), amount(feed["awake"], "mA")
        self.lowest_v = amount(feed["lowest"], "V")
        self.feed_face = str(feed["face"])
        self.feed_wire_max = amount(feed["wire_max"], "mm2")
        self.banks = {name: amount(text, "A") for name, text in file.get("banks", {}).items()}
        self.ports = {name: entry for kind in ("outputs", "inputs") for name, entry in _ports(file[kind])}


def _ports(entries: list[Entry]) -> list[tuple[str, Entry]]:
    return [(name, entry) for entry in entries for name in several(entry.get("names") or entry["name"])]


def _leg(entry: Entry) -> Leg:
    one, other = entry["between"]
    millimetres = {key: amount(entry[key], "mm") for key in ("length", "opening", "opens_to", "sleeve") if key in entry}
    return Leg(
        entry.get("name", f"{one} - {other}"),
        (one, other),
        millimetres["length"],
        millimetres.get("opening"),
        millimetres.get("opens_to"),
        millimetres.get("sleeve", SLEEVE_MM),
        amount(entry.get("ambient", "30 C"), "C"),
        entry.get("moves") == "true",
    )


def _switch(entry: Entry) -> Switch:
    part: str = entry.get("part", "")
    signal: str = "pulse" if part in TAKE_NO_RETURN else entry.get("signal", "earth")
    return Switch(entry.get("name", part), entry["at"], signal, signal == "earth" and part not in BY_FRAME)

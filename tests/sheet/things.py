"""What the bike's file and the unit's file say: as the oracle reads them, with what only figures need beside it."""

from dataclasses import dataclass
from fractions import Fraction

from oracle.catalogue import GAUGES, METRIC, Wire
from oracle.filling import filled
from oracle.profiles import each, read_unit
from oracle.reading import read_bike, tree_of
from oracle.things import InPort, Load, Output

from .entries import Entry, amount, several
from .tables import ENDS_MM, MOHM, USUAL_TEXTS, F


@dataclass(frozen=True)
class Leg:
    """A stretch of the loom, in mm; `slack_mm` is what each wire needs more where it moves."""

    name: str
    ends: tuple[str, str]
    length_mm: Fraction
    opening_mm: Fraction | None
    opens_to_mm: Fraction | None
    sleeve_mm: Fraction
    ambient_c: Fraction
    slack_mm: Fraction


class Bike:
    """One bike's file."""

    def __init__(self, text: str) -> None:
        """Read the text of a file in which nothing is wrong."""
        self.file: Entry = filled(tree_of(text))
        self.read = read_bike(text)
        self.assumed: dict[str, str] = USUAL_TEXTS | self.file.get("assume", {})
        supply = self.file["supply"]
        self.running_v, self.cranking_v = self.read.running_mv / 1000, self.read.cranking_mv / 1000
        self.starter: Entry | None = supply.get("starter")
        self.battery = self.read.battery
        self.capacity_ah = amount(supply["battery"]["capacity"], "Ah")
        given = supply.get("charging", {})
        self.idle_w, self.cruise_w = (amount(given[key], "W") if key in given else None for key in ("idle", "cruise"))
        self.ends_mm, self.share = self._margin(self.file.get("margin", {}))
        self.legs = [self._leg(entry) for entry in self.file["frame"]["legs"]]
        self.earth = list(self.read.earth)
        self.connectors = self.read.connectors
        self.places: list[Entry] = self.file["places"]
        self.reels = list(self.read.reels)
        self.mohm: dict[str, Fraction] = {name: getattr(self.read.contacts, name.replace(" ", "_")) for name in MOHM}
        self.loads = list(self.read.loads)
        self.items: dict[str, Entry] = {entry["name"]: entry for entry in self.file["loads"]}
        self.dim_to = {name: amount(entry.get("dim_to", "100 %"), "%") / 100 for name, entry in self.items.items()}
        self.alongside: list[Entry] = self.file.get("alongside", [])
        self.later = {later.load.name: later for later in self.read.later}
        self.multiplexers: dict[str, Entry] = {box["name"]: box for box in self.file.get("multiplexers", [])}

    def usual(self, name: str, unit: str) -> Fraction:
        """Return what is assumed by a name."""
        return amount(self.assumed[name], unit)

    def load(self, name: str) -> Load:
        """Return a load by its name."""
        return next(load for load in self.loads if load.name == name)

    def leg(self, name: str) -> Leg:
        """Return a leg by its name."""
        return next(leg for leg in self.legs if leg.name == name)

    def wire(self, mm2: Fraction) -> Wire:
        """Return the wire of a size, in the bike's copper and insulation."""
        texts = [f"{row} mm2" for row in METRIC] + [f"{row} AWG" for row in GAUGES]
        return next(wire for text in texts if (wire := self.read.stock.wire(text)).area == mm2)

    def _margin(self, said: Entry) -> tuple[dict[str, Fraction], Fraction]:
        """Return what is added at each end and where a leg moves, and the share of the run."""
        ends = dict(ENDS_MM)
        if "ends" in said:
            ends |= dict.fromkeys(set(ends) - {"moves"}, amount(said["ends"], "mm") / 2)
        for end, key in END_KEYS.items():
            if key in said:
                ends[end] = amount(said[key], "mm")
        return ends, amount(said.get("share", "10 %"), "%") / 100

    def _leg(self, entry: Entry) -> Leg:
        one, other = entry["between"]
        moves = entry.get("moves") == "true"
        given = {key: amount(entry[key], "mm") for key in ("length", "opening", "opens_to", "sleeve") if key in entry}
        return Leg(
            entry.get("name", f"{one} - {other}"),
            (one, other),
            given["length"],
            given.get("opening"),
            given.get("opens_to"),
            given.get("sleeve", self.usual("sleeve", "mm")),
            amount(entry.get("ambient", "30 C"), "C"),
            (amount(entry["travel"], "mm") if "travel" in entry else self.ends_mm["moves"]) if moves else F(0),
        )


END_KEYS = {
    "unit": "unit_plug", "load": "device", "splice": "splice", "connector": "connector", "battery": "battery",
    "relay": "battery", "earth": "battery", "moves": "moves",
}  # fmt: skip
"""The key of `margin` for what each end is."""


def stop(load: Load) -> str:
    """Return where the wire from a load's output ends: at the load's own switch, if it has one."""
    return load.own_switch or load.at


class Unit:
    """One unit's file."""

    def __init__(self, text: str) -> None:
        """Read the text of a profile in which nothing is wrong."""
        file = tree_of(text)
        self.read = read_unit(text)
        feed = file["feed"]
        self.limit_a = F(self.read.limit_ma, 1000)
        self.standby_ma, self.awake_ma = (amount(feed.get(key, "0 mA"), "mA") for key in ("standby", "awake"))
        self.outputs: dict[str, Output] = {port.name: port for port in self.read.outputs}
        self.inputs: dict[str, InPort] = {port.name: port for port in self.read.inputs}
        self.up_to_v = {
            entry["name"]: amount(entry["up_to"], "V") for entry in each(file.get("inputs", [])) if "up_to" in entry
        }

    def face(self, port: str) -> str:
        """Return the face of a port."""
        return (self.outputs.get(port) or self.inputs[port]).face


def words(entry: Entry, key: str) -> frozenset[str]:
    """Return the words of a key, one or several or none."""
    return frozenset(several(entry.get(key)))

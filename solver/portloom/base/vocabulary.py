"""The words that a bike's file and a unit's may use as values, each list once."""

from collections.abc import Mapping
from types import MappingProxyType
from typing import Final, Literal

Kind = Literal[
    "filament", "led", "discharge", "motor", "horn", "ignition coil", "relay coil", "heater", "electronics"
]  # fmt: skip
"""What a load is electrically."""
COIL: Final = "ignition coil"
HORN: Final = "horn"
"""The two kinds that are called as the parts are that have them."""
INDUCTIVE: tuple[Kind, ...] = ("motor", HORN, COIL, "relay coil")
"""Kinds that kick back when they are switched off."""
ALSO_KINDS: Mapping[str, Kind] = MappingProxyType({
    "bulb": "filament", "halogen": "filament", "incandescent": "filament", "hid": "discharge", "xenon": "discharge",
    "solenoid": "relay coil", "relay": "relay coil", "coil": "ignition coil",
})  # fmt: skip
"""Other words for kinds."""
Signal = Literal["earth", "supply", "pulse", "sender", "coded"]
"""What is on a switch's wire."""
Told = Literal[
    "engine turning", "neutral", "clutch", "side stand", "engine stop", "key", "fallen", "front brake", "rear brake"
]  # fmt: skip
"""What an input may tell the unit."""
Action = Literal["push", "latch", "hold"]
"""Whether a switch springs back, stays, or is held by something else for as long as it asks."""
Rest = Literal["open", "closed"]
"""How a switch's contact is at rest."""
DropClass = Literal["headlamp", "engine", "brake lamp", "indicators", "position lamps", "other"]
"""Loads that may lose the same voltage."""
Concern = Literal["fire", "stopping and being seen", "start and run", "comfort"]
"""What something wrong is about, the most dangerous first."""
SwitchedBy = Literal["ignition box", "engine controller", "points"]
Opened = Literal["grommet", "panel", "bracket", "cover"]
NEVER_OPENED = "handlebars, yokes, forks and frame tubes are never drilled or opened"
"""Common practice, no source: a hole weakens what carries the rider."""
"""What takes an ignition coil's other end to earth."""

STEADY, HOLD, TOGGLE, FLASH, DIM, ENGINE_RUN, START, TIMED = (
    "steady", "hold", "toggle", "flash", "dim", "engine-run", "start", "timed",
)  # fmt: skip
MODES = (STEADY, HOLD, TOGGLE, FLASH, DIM, ENGINE_RUN, START, TIMED)
"""How an output may be driven; all else only as a unit's file declares it."""

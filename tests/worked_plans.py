"""Plans of the examples to be worked through by hand, and the tables that the hand needs."""

from functools import cache

from outcomes import EXAMPLES, PROFILES, planned
from portloom.documents.document import FixedLine, OutputLine, Plan
from portloom.documents.protection import ProtectionLine

OHM_PER_KM = {"0.5": 39.0, "0.75": 26.0, "1": 19.5, "1.5": 13.3, "2.5": 7.98, "4": 4.95, "6": 3.30, "10": 1.91}
"""IEC 60228 class 5, plain, greatest at 20 C, by mm2; the same in milliohms a metre."""
AT_85_C = 319.5 / 254.5
"""FAA AC 43.13-1B par. 11-66: (234.5 + 85) / 254.5."""
CONNECTOR, EARTH, SPLICE, LOAD_PLUG, RELAY, OWN_SWITCH = 5.0, 2.0, 1.0, 5.0, 10.0, 20.0
"""Milliohms; common practice, no source."""
OUTPUT = 10.0 + 5.0
"""The output's default of a profile, and the unit's plug; common practice, no source."""
MAIN_FUSE, SMALL_FUSE = 100.0, 130.0
"""Millivolts at the rating; a small one has 10 A at most (from memory)."""


def mohm(size: str, millimetres: float) -> float:
    """Return the milliohms of a wire at 85 C."""
    return OHM_PER_KM[size] * millimetres / 1000 * AT_85_C


@cache
def worked(bike: str, unit: str) -> Plan:
    """Return the best plan of an example on a bundled profile."""
    return planned((EXAMPLES / f"{bike}.yaml").read_text("utf-8"), (PROFILES / f"{unit}.yaml").read_text("utf-8"))


def harbour_trail() -> Plan:
    """Return the plan of the Harbour Trail on the eleven-way: behind the headstock, its rear to the tank."""
    plan = worked("harbour-trail", "eleven-way")
    assert (plan.only.place, plan.only.turned) == ("behind the headstock", False)
    return plan


def dressed_tourer() -> Plan:
    """Return the plan of the Dressed Tourer on the eleven-way: beside the battery, its rear to it."""
    plan = worked("dressed-tourer", "eleven-way")
    assert (plan.only.place, plan.only.turned) == ("beside the battery", False)
    return plan


def output(plan: Plan, load: str) -> OutputLine:
    """Return the output that drives a load."""
    return next(line for line in plan.outputs if load in line.loads)


def fed(plan: Plan, load: str) -> FixedLine:
    """Return the line of a load that the unit does not feed."""
    return next(line for line in plan.fed if line.name == load)


def joint(plan: Plan, point: str) -> FixedLine:
    """Return the joint return from a point."""
    return next(line for line in plan.returns if line.name == point)


def weakest(plan: Plan, wire: str) -> ProtectionLine:
    """Return a wire where it is weakest: 'feed', an output's port, a fed load, or 'return from' a point."""
    return next(line for line in plan.protection if line.wire == wire)


def lost(line: OutputLine, load: str) -> float:
    """Return the millivolts that a load is said to lose."""
    return next(float(lost.drop) / 1000 for lost in line.drops if lost.load == load)


def lost_when_fed(line: FixedLine) -> float:
    """Return the millivolts that a load which the unit does not feed is said to lose."""
    assert line.drop is not None
    return float(line.drop.drop) / 1000


# --- the Harbour Trail in figures, from its file

# The Harbour Trail, 14.0 V, currents in amperes, rounded up to the milliampere.
DIPPED, MAIN = 5.152, 5.682  # 68 and 75 W at 13.2 V
POSITION, PLATE, TAIL, BRAKE = 0.408, 0.408, 0.489, 1.963  # 5.5, 5.5, 6.6 and 26.5 W at 13.5 V
INDICATOR, TELL_TALE = 0.143, 0.072  # 2 and 1 W at 14 V
SIDE = 2 * INDICATOR + TELL_TALE
IGNITION, PUMP, CONTROLLER, DASH, SOLENOID, HORN, FAN = 3.0, 5.5, 2.0, 0.4, 3.0, 3.5, 5.0
COIL = 0.15  # of a relay; where a switch of its load's own works it, back by the return at that switch
# Through the feed with hazard: the tell-tale is fed from both sides, and counts in each.
ALWAYS = POSITION + PLATE + TAIL + BRAKE + 2 * SIDE + IGNITION + PUMP + CONTROLLER + DASH
WITH_DIPPED, WITH_MAIN = ALWAYS + DIPPED, ALWAYS + MAIN
CRANKED = IGNITION + PUMP + CONTROLLER + DASH + SOLENOID
# Back by the joint returns, the tell-tale once.
FROM_SHELL = POSITION + TELL_TALE + DASH
FROM_TAIL = TAIL + PLATE + BRAKE + 2 * INDICATOR
AT_ENGINE = FROM_SHELL + 2 * INDICATOR + HORN + FAN + COIL
AT_SEAT_TRAY = CONTROLLER + IGNITION + PUMP + FROM_TAIL  # the controller switches the coil, whose current it leads back
# The feed that is cut; 2.5 mm2 would carry 30 A alone, and 20.566 A lose 126 mV in 610 mm of it, less than 150 mV.
FEED = mohm("6", 150 + 240 + 220) + MAIN_FUSE / 30

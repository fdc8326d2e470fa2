"""The bench test's steps with one circuit at a time, on a small fuse: volts at the load, and amperes, at 12.6 V.

What is lost in such a step is lost with this circuit alone on, the fuse that the step names in place of the main fuse;
what switched coils draw nothing while the engine stands. Common practice, no source.
"""

import re
from collections.abc import Iterator
from dataclasses import replace
from fractions import Fraction

from oracle.flow import cranking_ma
from oracle.fuses import step_from
from oracle.things import Load

from .cases import Case, Currents
from .drops import MICRO, fuse_mohm, output_uv
from .figures import Sheet
from .tables import SMALL_FUSE_A, F
from .things import Bike
from .wires import Wire

PRINTED_FOR_V = F("12.6")
DIMMEST = F("0.8")
"""A filament draws 80 to 100 % of its planning current."""
AMPERES = r"(?P<least>[0-9.]+) to (?P<most>[0-9.]+) (?P<unit>m?A)"
STEP = re.compile(
    r"<td>(?P<fuse>[0-9.]+) A fuse; plug in th[^<]* Amperes in the wire of (?P<port>[^<,]+?)(, [^<]*)?, volts at [^<]+"
    rf"</td><td>{AMPERES}, at the load (?P<volts>[0-9.]+) V or more</td>"
)
BY_JUMPER = re.compile(
    r"<td>(?P<fuse>[0-9.]+) A fuse; plug in th[^<]* Jumper in the plug from the supply way to the way of "
    rf"(?P<port>[^<]+?)\. Amperes in it[^<]*</td><td>{AMPERES}</td>"
)
"""Where nothing but the engine turns a circuit on: only its current is read."""


class Alone(Currents):
    """What is drawn at 12.6 V with one circuit on and nothing else plugged in."""

    def __init__(self, bike: Bike, circuit: list[Load]) -> None:
        """Take the loads of the circuit; coils that a box or controller switches draw nothing."""
        super().__init__(bike, Case("", frozenset()))
        self._at = replace(bike.read, cranking_mv=PRINTED_FOR_V * 1000)
        self.on = {load.name for load in circuit if not is_switched(bike, load)} | {
            load.name for load in circuit if load.feeders
        }

    def of(self, load: Load, circuit: tuple[str, ...] = ()) -> Fraction:
        """Return what a load takes."""
        fed = not load.feeders or not circuit or bool(self.on & load.feeders & set(circuit))
        return F(cranking_ma(load, self._at) if load.name in self.on and fed else 0)

    def coil(self, load: Load) -> Fraction:
        """Return what the coil of a relay takes that a switch of a load's own works: it is not plugged in."""
        return F(0 * load.current_ma)


def is_switched(bike: Bike, load: Load) -> bool:
    """Tell whether a load is a coil that a box or a controller switches."""
    return bool(bike.items.get(load.name, {}).get("switched_by", "points") != "points")


def bench_steps(sheet: Sheet, page: str) -> Iterator[str]:
    """Each step that reads a circuit by itself; none is left out but of coils, and of what turns the starter."""
    wires, seen = {wire.name: wire for wire in sheet.plan.outputs}, set[str]()
    for found in (*STEP.finditer(page), *BY_JUMPER.finditer(page)):
        seen.add(found["port"])
        yield from _current(sheet, wires[found["port"]], found)
    for found in STEP.finditer(page):
        yield from _voltage(sheet, wires[found["port"]], found)
    for port, wire in wires.items():
        loads = sheet.plan.loads_of(wire.port)
        read_elsewhere = any(is_switched(sheet.bike, load) or "start" in load.modes for load in loads)
        if port not in seen and not read_elsewhere:
            yield f"{port}: no step reads it"


def _current(sheet: Sheet, wire: Wire, found: re.Match[str]) -> Iterator[str]:
    """The fuse is the least above the trip; what is drawn at 12.6 V is within what is told."""
    plan, loads = sheet.plan, sheet.plan.loads_of(wire.port)
    fuse_a = _above(plan.trips_a[wire.port])
    if F(found["fuse"]) != fuse_a:
        yield f"{wire.name}: a fuse of {found['fuse']} A, the least above the trip is {float(fuse_a)} A"
    now = Alone(sheet.bike, loads)
    drawn = sum((now.of(load, plan.circuits[wire.port]) for load in loads), F(0))
    scale = 1 if found["unit"] == "mA" else 1000
    least, most = F(found["least"]) * scale, F(found["most"]) * scale
    if not least - scale / F(100) <= drawn <= most + scale / F(100):
        yield f"{wire.name}: {found['least']} to {found['most']} {found['unit']}, worked out {float(drawn)} mA"
    if all(load.kind == "filament" for load in loads) and abs(least - drawn * DIMMEST) > scale / F(50):
        yield f"{wire.name}: {found['least']} {found['unit']} at least, worked out {float(drawn * DIMMEST)} mA"


def _voltage(sheet: Sheet, wire: Wire, found: re.Match[str]) -> Iterator[str]:
    """What reaches the load that loses most is what is told, to 10 mV, rounded down."""
    now, loads = Alone(sheet.bike, sheet.plan.loads_of(wire.port)), sheet.plan.loads_of(wire.port)
    read = [load for load in loads if not load.feeders and not is_switched(sheet.bike, load)]
    lost = max(_lost_uv(sheet, wire, load, now, _above(sheet.plan.trips_a[wire.port])) for load in read)
    volts = PRINTED_FOR_V - lost / MICRO
    if not 0 <= volts - F(found["volts"]) < F(1, 100):
        yield f"{wire.name}: {found['volts']} V or more, worked out {float(volts)} V"


def _above(trip_a: Fraction) -> Fraction:
    """Return the least fuse above a trip; the trip itself where there is none."""
    return F(step_from(trip_a * 1000 + 1) or trip_a * 1000, 1000)


def _lost_uv(sheet: Sheet, wire: Wire, load: Load, now: Currents, fuse_a: Fraction) -> Fraction:
    """Return what is lost on the way to a load, through the fuse of the step instead of the main fuse."""
    plan, bike = sheet.plan, sheet.bike
    drawn = sum((now.of(one, plan.circuits[wire.port]) for one in plan.loads_of(wire.port)), F(0))
    named = "small fuse drop" if fuse_a <= SMALL_FUSE_A else "fuse drop"
    main = fuse_mohm(bike, "main fuse drop", plan.seats[wire.unit].main_fuse_a)
    return output_uv(plan, wire, load, now) + (fuse_mohm(bike, named, fuse_a) - main) * drawn

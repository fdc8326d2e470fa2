"""What leads to dashes: their ends of others' wires, the diodes there and at the unit, and what only they read.

A diode lets current through towards a switch to earth, and away from what puts supply on the wire: so the lamp of a
dash never feeds the unit's input, nor one lamp's switch another lamp. What counts pulses or measures is tapped
without: a diode would falsify it. Source: common practice, no source.
"""

from collections.abc import Iterator

from portloom.base.bike import DashPoint, Switch
from portloom.base.unit import Port
from portloom.documents.wiring.cutting import RunEnd
from portloom.documents.wiring.wire import WireEnd
from portloom.job.circuits import InputCircuit
from portloom.job.consumers import Consumer
from portloom.job.job import Job

DIODE = "D"
"""Stands for a diode that has no number yet."""


def dash_end(point: DashPoint, shown: str, diode: str = "", *, leaves: bool = False) -> WireEnd:
    """Return a dash's terminal for what it shows."""
    return WireEnd("dash", point.dash, point.at, f"for {shown}", diode, leaves=leaves)


def load_shown(load: Consumer) -> Iterator[RunEnd]:
    """Return the dashes that show a load: a diode each, and nothing is drawn."""
    return (RunEnd(dash_end(point, load.name, DIODE)) for point in load.shown_by)


def switch_shown(job: Job, switch: Switch) -> Iterator[RunEnd]:
    """Return the dashes that an input's wire leads to."""
    return (RunEnd(end) for end in dash_ends(job, switch))


def dash_ends(job: Job, switch: Switch) -> list[WireEnd]:
    """Return a dash's end of an input's wire for each dash that shows it, in the order of the file."""
    return [
        dash_end(
            point,
            switch.name,
            DIODE if diode_at_dash(job, point, switch) else "",
            leaves=switch.signal == "earth",
        )
        for point in switch.shown_by
    ]


def diode_at_dash(job: Job, point: DashPoint, switch: Switch) -> bool:
    """Tell whether a contact needs a diode at a dash.

    It does where the unit reads it too, or where anything that shares its lamp is read elsewhere.
    """
    if not switch.is_contact:
        return False
    if switch.to_unit:
        return True
    lamp = lamp_of(job, point.dash, switch.name)
    return len(lamp) > 1 and any(_read_elsewhere(job, name) for name in lamp)


def lamp_of(job: Job, dash: str, shown: str) -> tuple[str, ...]:
    """Return all that one lamp of a dash shows."""
    load = next(load for load in job.bike.loads if load.name == dash)
    return next(lamp for lamp in load.shows if shown in lamp)


def _read_elsewhere(job: Job, name: str) -> bool:
    """Tell whether anything but one lamp hangs on a thing: its own circuit, the unit, or another dash."""
    switch = next((switch for switch in job.wired_inputs if switch.name == name), None)
    return switch is None or switch.to_unit or len(switch.shown_by) > 1


def diode_at_unit(job: Job, circuit: InputCircuit, port: Port | None) -> bool:
    """Tell whether a port, or a way of a multiplexer (None), has a diode at it: a dash shows a contact on its wire.

    None where the unit's file says that its input takes the lamp's voltage, the running one at most.
    """
    if port is not None and port.up_to is not None and port.up_to >= job.bike.supply.running:
        return False
    return any(switch.is_contact and switch.shown_by for switch in circuit.switches)


def leaves_unit(circuit: InputCircuit) -> bool:
    """Tell which way that diode points: current leaves the unit for a switch to earth."""
    return any(switch.signal == "earth" for switch in circuit.switches)

"""What dashes show, each thing with what carries it: an output, an input, a multiplexer, or wires of its own."""

from collections.abc import Iterator

from portloom.base.bike import DashPoint, Load, Switch
from portloom.base.figures import listed
from portloom.base.quantities import Micrometres
from portloom.base.values import dataclass
from portloom.documents.notes import NotesOf, notes_of_loads, notes_of_switches
from portloom.documents.wiring.dashes import diode_at_dash, diode_at_unit
from portloom.job.job import Job
from portloom.job.laid import Laid


@dataclass(frozen=True)
class ShownLine:
    """A thing that a dash shows: which lamp it lights, what carries it, and the wires that only dashes read."""

    dash: str
    at: str
    lamp: int
    """The lamp's number on its dash, 1 and up; two things may light one."""
    shown: str
    by: str
    """An output, an input, a multiplexer by its name, or a load's own feed; empty where it has wires of its own."""
    diode: bool
    """Whether there is a diode at the dash."""
    unit_diode: bool
    """Whether there is another at the unit, or at its multiplexer."""
    wires: int
    """How many wires of its own it has to dashes."""
    run: Micrometres
    """Their length together."""
    notes: NotesOf = ()
    """Of what it shows."""


def shown_lines(laid: Laid) -> Iterator[ShownLine]:
    """Return what each dash shows, in the order of the file."""
    job = laid.site.job
    switches = {switch.name: switch for switch in job.wired_inputs}
    for dash in job.bike.loads:
        for number, lamp in enumerate(dash.shows, 1):
            for name in lamp:
                yield _shown(laid, dash, number, name, switches.get(name))


def _shown(laid: Laid, dash: Load, lamp: int, name: str, switch: Switch | None) -> ShownLine:
    own = [
        wire.run.length
        for kind in ("dash signal", "dash supply", "dash return")
        for wire in laid.site.fixed_of(kind)
        if wire.name == name
    ]
    return ShownLine(
        dash=dash.name,
        at=dash.at,
        lamp=lamp,
        shown=name,
        by=_carried_by(laid, name),
        diode=_has_diode(laid.site.job, DashPoint(dash.name, dash.at), switch),
        unit_diode=_has_unit_diode(laid, name),
        wires=len(own),
        run=Micrometres(sum(own)),
        notes=(notes_of_switches if switch else notes_of_loads)(laid.site.job.bike, [name]),
    )


def _has_diode(job: Job, point: DashPoint, switch: Switch | None) -> bool:
    return switch is None or diode_at_dash(job, point, switch)


def _has_unit_diode(laid: Laid, name: str) -> bool:
    inputs = [(told.circuit, told.port) for told in laid.inputs]
    ways = [(wired.circuit, None) for wired in laid.switches]
    return any(
        diode_at_unit(laid.site.job, circuit, port)
        for circuit, port in [*inputs, *ways]
        if name in [switch.name for switch in circuit.switches]
    )


def _carried_by(laid: Laid, name: str) -> str:
    inputs = [told.port.name for told in laid.inputs if name in [switch.name for switch in told.circuit.switches]]
    boxes = [wired.stand.multiplexer.name for wired in laid.switches if wired.switch.name == name]
    fed = [f"the feed of {name}" for one in laid.site.job.loads.fed if one.consumer.name == name]
    ports = (*laid.ports_of(name), *fed, *inputs, *boxes)
    return listed(ports) if ports else ""

"""What stands at each point of the frame: loads with their outputs, switches with their inputs, and the rest."""

from collections.abc import Iterator

from solver.job.laid import Laid
from solver.pictures.lettering import whole
from solver.pictures.notes import Note
from solver.wiring.wire import Wiring
from solver.words.figures import amperes, counted, listed


def notes_at(laid: Laid, wiring: Wiring, point: str) -> tuple[Note, ...]:
    """Return the notes of a point: battery, earth, connector, multiplexers, loads, switches, splices."""
    things = (note for notes in (_fittings, _boxes, _outputs, _fed, _inputs, _ways) for note in notes(laid, point))
    return (*_connectors(wiring, point), *things, *_splices(wiring, point))


def _connectors(wiring: Wiring, point: str) -> Iterator[Note]:
    for connector in wiring.connectors:
        if connector.at == point:
            yield Note("connector", f"connector, {whole(counted(len(connector.wires), 'way'))}")


def _splices(wiring: Wiring, point: str) -> Iterator[Note]:
    for splice in wiring.splices:
        if splice.point == point:
            text = f"{splice.name}: {whole(counted(len(splice.wires), 'wire'))} of {whole(splice.circuit)}"
            yield Note("splice", text, (("splice", splice.name),))


def _fittings(laid: Laid, point: str) -> Iterator[Note]:
    bike = laid.site.job.bike
    if point == bike.supply.battery.at:
        fuse = laid.site.main_fuse
        yield Note("battery", "battery" if fuse is None else f"battery, main fuse {whole(amperes(fuse))}")
    if point in bike.frame.earth:
        yield Note("earth", "earth point")


def _boxes(laid: Laid, point: str) -> Iterator[Note]:
    for box in laid.multiplexers:
        if box.stand.at == point:
            yield Note("multiplexer", f"{box.stand.multiplexer.name}, {whole(box.port.name)}")


def _outputs(laid: Laid, point: str) -> Iterator[Note]:
    """A load that several outputs feed through diodes is told once."""
    ports: dict[str, list[str]] = {}
    for wired in laid.outputs:
        for load in wired.circuit.loads:
            if load.at == point:
                ports.setdefault(load.name, []).append(wired.output.name)
    loads = {load.name for load in laid.site.job.bike.loads}
    for name, outputs in ports.items():
        known_by = "load" if name in loads else "relay"
        yield Note("load", f"{name}, {listed([whole(output) for output in outputs])}", ((known_by, name),))


def _fed(laid: Laid, point: str) -> Iterator[Note]:
    for fed in laid.site.job.loads.fed:
        if fed.consumer.at == point:
            by = "by a relay" if fed.by == "relay" else "by a fuse of its own"
            yield Note("load", f"{fed.consumer.name}, {by}", (("load", fed.consumer.name),))


def _inputs(laid: Laid, point: str) -> Iterator[Note]:
    for wired in laid.inputs:
        for switch in wired.circuit.switches:
            if point in switch.at:
                known_by = (("switch", switch.name),)
                yield Note("switch", f"{switch.name}, {whole(wired.port.name)}", known_by)


def _ways(laid: Laid, point: str) -> Iterator[Note]:
    for wired in laid.switches:
        if point in wired.switch.at:
            known_by = (("switch", wired.switch.name),)
            yield Note("switch", f"{wired.switch.name}, {wired.stand.multiplexer.name}", known_by)

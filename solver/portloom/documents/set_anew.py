"""What is set anew of a built loom: fuses, trips, modes, and how inputs read their switches."""

from collections.abc import Iterable, Iterator

from portloom.base.bike import Switch
from portloom.base.built import BuiltInput, BuiltLoom, BuiltOutput
from portloom.base.figures import amperes, listed
from portloom.base.fuses import fuse_for
from portloom.base.quantities import MilliAmps
from portloom.base.values import dataclass
from portloom.documents.wiring.lines import coil_fuse, relay_name
from portloom.job.laid import Laid, WiredInput
from portloom.job.wired import WiredOutput


@dataclass(frozen=True)
class SetAnew:
    """A setting or a fuse that is otherwise than it was built."""

    circuit: str
    """The circuit that is tested again for it."""
    said: str


def settings_anew(laid: Laid, loom: BuiltLoom) -> Iterator[SetAnew]:
    """Return the main fuse and the other fuses, then outputs, inputs and ways of multiplexers."""
    fuse = laid.site.main_fuse
    if fuse is not None and fuse != loom.main_fuse:
        yield SetAnew("feed", f"main fuse: {_instead(amperes(fuse), amperes(loom.main_fuse))}")
    yield from _fuses(laid, loom)
    yield from _outputs(laid, loom)
    yield from _inputs(laid, loom)
    yield from _ways(laid, loom)
    yield from _off(laid, loom)


def _instead(now: str, was: str) -> str:
    return f"{now} instead of {was}"


# --- fuses


def _fuses(laid: Laid, loom: BuiltLoom) -> Iterator[SetAnew]:
    before = {(line.kind, line.name): line.fuse for line in loom.fixed}
    for kind, name, circuit, fuse, rating in _fused(laid):
        was = before.get((kind, name))
        if was is None:
            yield SetAnew(circuit, f"{fuse}: {amperes(rating)}")
        elif was != rating:
            yield SetAnew(circuit, f"{fuse}: {_instead(amperes(rating), amperes(was))}")


def _fused(laid: Laid) -> Iterator[tuple[str, str, str, str, MilliAmps]]:
    """Return each small fuse at the battery: its wire, the circuit, what it is called, and its rating."""
    job, small = laid.site.job, MilliAmps(laid.site.job.assume["supply switch fuse"])
    for fed in job.loads.fed:
        name = fed.consumer.name
        if (rating := fuse_for(fed.consumer.current)) is not None:
            yield "fed load", name, f"feed of {name}", f"fuse of {name}", rating
    for wire in laid.site.fixed_of("coil lead"):
        relay = relay_name(wire.name)
        yield "coil lead", wire.name, f"coil of {relay}", coil_fuse(relay), small
    for wire in laid.site.fixed_of("supply"):
        yield "supply", wire.name, wire.name, f"fuse of the {wire.name}", small


# --- ports


def _outputs(laid: Laid, loom: BuiltLoom) -> Iterator[SetAnew]:
    before = {line.port: line for line in loom.outputs}
    for wired in laid.outputs:
        line = before.get(wired.output.name)
        if line is None or not wired.stays:
            said: tuple[str, ...] = (
                f"{wired.circuit.said}, {_modes(wired.circuit.modes)}, trip {amperes(wired.trip)}",
            )
        else:
            said = tuple(_output(wired, line))
        yield from (SetAnew(wired.output.name, f"{wired.output.name}: {one}") for one in said)


def _output(wired: WiredOutput, line: BuiltOutput) -> Iterator[str]:
    if line.trip != wired.trip:
        yield f"trip {_instead(amperes(wired.trip), amperes(line.trip))}"
    if line.modes and set(line.modes) != set(wired.circuit.modes):
        yield _instead(_modes(wired.circuit.modes), _modes(line.modes))
    more = [load.name for load in wired.circuit.loads if load.name not in line.loads]
    if more:
        yield f"now also for {listed(more)}"


def _modes(modes: Iterable[str]) -> str:
    return " and ".join(sorted(modes))


def _inputs(laid: Laid, loom: BuiltLoom) -> Iterator[SetAnew]:
    before = {line.port: line for line in loom.inputs}
    for told in laid.inputs:
        switches, line = told.circuit.switches, before.get(told.port.name)
        if line is None or set(line.switches) != {switch.name for switch in switches}:
            said: tuple[str, ...] = (f"{listed([s.name for s in switches])}, {_read(switches)}",)
        else:
            said = tuple(_input(told, line))
        yield from (SetAnew(told.port.name, f"{told.port.name}: {one}") for one in said)


def _read(switches: Iterable[Switch]) -> str:
    """Say how an input is set to read its switches: signal, action, and the contact at rest."""
    each = tuple(switches)
    plain = [each[0].signal, *dict.fromkeys(one.action or "" for one in each)]
    rest = dict.fromkeys(f"{one.normally} at rest" for one in each if one.is_contact)
    return ", ".join(word for word in (*plain, *rest) if word)


def _input(told: WiredInput, line: BuiltInput) -> Iterator[str]:
    switches = told.circuit.switches
    if line.signal and line.signal != switches[0].signal:
        yield f"signal {_instead(switches[0].signal, line.signal)}"
    actions = dict.fromkeys(switch.action for switch in switches)
    if line.action and len(actions) == 1 and (now := switches[0].action) is not None and now != line.action:
        yield _instead(now, line.action)
    rests = dict(zip(line.switches, line.at_rest, strict=False))
    for switch in switches:
        was = rests.get(switch.name, switch.normally)
        if switch.is_contact and was != switch.normally:
            yield f"contact of {switch.name} {_instead(switch.normally, was)} at rest"


def _ways(laid: Laid, loom: BuiltLoom) -> Iterator[SetAnew]:
    for box in laid.multiplexers:
        name = box.stand.multiplexer.name
        old = next((one for one in loom.multiplexers if one.name == name), None)
        before = {one.switch: one for one in old.ways} if old is not None and box.old is not None else {}
        for way, wired in laid.ways_of(box):
            switch, was = wired.switch, before.get(wired.switch.name)
            place, circuit = f"{box.port.name}, way {way} of {name}", f"{name} way {way}"
            if was is None or was.way != way:
                yield SetAnew(circuit, f"{place}: {switch.name}, {_read([switch])}")
            elif was.at_rest and (was.signal, was.at_rest) != (switch.signal, switch.normally):
                rest = f"{was.signal}, {was.at_rest} at rest"
                yield SetAnew(circuit, f"{place}: {switch.name}, {_instead(_read([switch]), rest)}")


def _off(laid: Laid, loom: BuiltLoom) -> Iterator[SetAnew]:
    now = {wired.output.name for wired in laid.outputs}
    for line in loom.outputs:
        if line.port not in now:
            yield SetAnew(line.port, f"{line.port}: off, nothing is on it any more{_never(laid, line.port)}")
    read = {told.port.name for told in laid.inputs} | {box.port.name for box in laid.multiplexers}
    for port in (*(line.port for line in loom.inputs), *sorted({box.port for box in loom.multiplexers})):
        if port not in read:
            yield SetAnew(port, f"{port}: open, nothing is on it any more{_never(laid, port)}")


def _never(laid: Laid, port: str) -> str:
    """Say why nothing may come on a port again, where it is out of use."""
    why = laid.site.job.bike.out_of_use.get(port)
    return f"; OUT OF USE: {why}; put nothing on it" if why else ""

"""A plan laid again from what it says: its ports, and the legs of each wire."""

from collections.abc import Iterator, Sequence

from portloom.base.bike import Place
from portloom.job.assignment import Assignment, OnMultiplexer, OnOutput, Seat
from portloom.job.circuits import InputCircuit, OutputCircuit
from portloom.job.job import Job
from portloom.job.laid import Laid
from portloom.job.losses import Losses
from portloom.job.site import Site
from portloom.job.ways import earthed_points
from portloom.job.wired import WiredInput, WiredOutput, laid_along, not_laid
from portloom.job.wires import FixedWire
from portloom.rules.faults import not_wired, wrong_port
from portloom.rules.fuse_size import main_fuse
from portloom.rules.shapes import Rule
from portloom.verify.joined import CannotBeLaid, check_avoided, check_run
from portloom.verify.multiplexed import lay_multiplexers


def lay(job: Job, rules: tuple[Rule, ...], plan: Assignment) -> Laid:
    """Lay a plan again; raise CannotBeLaid where a name is unknown or a wire does not join its ends."""
    place = place_named(job, plan.place)
    site = Site(job, place, turned=plan.turned, main_fuse=main_fuse(job, rules), fixed_wires=plan.fixed_wires)
    check_fixed_wires(site, plan.multiplexers)
    return lay_seat(site, plan)


def lay_seat(site: Site, plan: Seat) -> Laid:
    """Lay what is on the ports of a unit at its site; raise CannotBeLaid as lay does."""
    losses = Losses(site)
    boxes, switches = lay_multiplexers(site, plan.multiplexers)
    return Laid(
        site,
        losses,
        tuple(_output(site, losses, line) for line in plan.outputs),
        tuple(_inputs(site, plan)),
        tuple(_later(site, losses, plan)),
        switches,
        boxes,
    )


def place_named(job: Job, name: str) -> Place:
    """Return the place of that name; raise CannotBeLaid where the bike has none."""
    place = next((place for place in job.bike.places if place.name == name), None)
    if place is None:
        raise CannotBeLaid(not_wired(name, f"the bike has no place '{name}'"))
    return place


# --- wires that no assignment changes


def check_fixed_wires(site: Site, boxes: Sequence[OnMultiplexer]) -> None:
    """Raise CannotBeLaid unless every fixed wire that is wanted is there, once, and joins what it is to join."""
    wanted = dict(_wanted_ends(site, boxes))
    have = {(wire.kind, wire.name): wire for wire in site.fixed_wires}
    if len(have) < len(site.fixed_wires):
        raise CannotBeLaid(not_wired(site.label, "a wire that no assignment changes is laid twice"))
    for key, ends in wanted.items():
        if key not in have or have[key].ends[: len(ends)] != ends:
            raise CannotBeLaid(not_wired(key[1], f"{key[1]}: its {key[0]} wire is missing or ends elsewhere"))
    for wire in site.fixed_wires:
        if (wire.kind, wire.name) not in wanted:
            raise CannotBeLaid(not_wired(wire.name, f"{wire.name}: a {wire.kind} wire that nothing asks for"))
        check_run(site.job, wire.name, wire.run, wire.ends)
        _check_earth(site.job, wire)
    avoided = {fed.consumer.name: fed.consumer.avoid for fed in site.job.loads.fed}
    for wire in site.fixed_of("fed load"):
        check_avoided(site.job, wire.name, wire.run, avoided[wire.name])


def _wanted_ends(site: Site, boxes: Sequence[OnMultiplexer]) -> Iterator[tuple[tuple[str, str], tuple[str, ...]]]:
    """Return each fixed wire that must be there and the ends that are settled."""
    job, bike = site.job, site.job.bike
    battery = bike.supply.battery.at
    for unit in site.units:
        face = unit.face(unit.job.unit.feed.face)
        yield ("feed", unit.own_name or "feed"), (battery, face)
        yield ("unit earth", unit.own_name or "unit earth"), (face,)
    for point in (*earthed_points(job), *(box.at for box in boxes)):
        yield ("return", point), (point,)
    for switch in bike.inputs:
        if switch.signal == "sender":
            yield ("sender return", switch.name), (switch.at[0],)
    for fed in job.loads.fed:
        yield ("fed load", fed.consumer.name), (battery, fed.consumer.at or "")
    if any(switch.signal == "supply" for switch in bike.inputs):
        yield ("supply", "supply to switches"), (battery,)
    for other in bike.alongside:
        yield ("alongside", other.name), (other.from_, other.to)


def _check_earth(job: Job, wire: FixedWire) -> None:
    if wire.kind in ("unit earth", "return", "sender return") and wire.ends[-1] not in job.bike.frame.earth:
        raise CannotBeLaid(not_wired(wire.name, f"{wire.name}: its return ends at no earth point"))
    if wire.kind == "supply":
        wanted = {p for switch in job.bike.inputs if switch.signal == "supply" for p in switch.at}
        if wanted - set(wire.ends):
            raise CannotBeLaid(not_wired(wire.name, f"{wire.name}: a switch has no live side"))


# --- circuits


def _output(site: Site, losses: Losses, line: OnOutput) -> WiredOutput:
    job = site.job
    output = next((output for output in job.unit.outputs if output.name == line.port), None)
    if output is None:
        raise CannotBeLaid(wrong_port("outputs", line.port, f"the unit has no output '{line.port}'"))
    members = tuple(load for load in job.loads.on_unit if load.name in line.loads)
    circuit = job.circuit(members)
    if not members or sorted(load.name for load in circuit.loads) != sorted(line.loads):
        raise CannotBeLaid(not_wired(line.port, f"{line.port}: {', '.join(line.loads)} are not one circuit's loads"))
    face = site.face(output.face)
    check_run(job, line.port, line.run, (face, *circuit.points))
    check_avoided(job, line.port, line.run, circuit.avoid)
    return laid_along(site, losses, circuit, line.run, output)


def _inputs(site: Site, plan: Seat) -> Iterator[WiredInput]:
    ports = {port.name: port for port in site.job.unit.inputs}
    switches = {switch.name: switch for switch in site.job.bike.inputs}
    for line in plan.inputs:
        if line.port not in ports or not set(line.switches) <= set(switches):
            raise CannotBeLaid(wrong_port("inputs", line.port, f"{line.port}: no such input, or no such switch"))
        circuit = InputCircuit(tuple(switches[name] for name in line.switches))
        check_run(site.job, line.port, line.run, (site.face(ports[line.port].face), *circuit.points))
        yield WiredInput(site, circuit, line.run, ports[line.port])


def _later(site: Site, losses: Losses, plan: Seat) -> Iterator[WiredOutput]:
    outputs = {output.name: output for output in site.job.unit.outputs}
    later = {later.consumer.name: later.consumer for later in site.job.loads.later}
    for room in plan.room_for:
        if room.load not in later or room.port not in outputs:
            raise CannotBeLaid(not_wired(room.load, f"{room.load}: no such later load, or no such output"))
        yield not_laid(site, losses, OutputCircuit((later[room.load],), ()), outputs[room.port])

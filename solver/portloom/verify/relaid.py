"""A plan laid again from what it says: its ports, the legs of each wire, its multiplexers."""

from collections import Counter
from collections.abc import Iterator, Sequence
from functools import reduce

from portloom.base.bike import Place, Switch
from portloom.base.fuses import carried_for_good
from portloom.base.quantities import MilliAmps
from portloom.job.assignment import Assignment, OnMultiplexer, OnOutput, Seat
from portloom.job.circuits import InputCircuit, OutputCircuit
from portloom.job.fixed_wires import UNIT_OWNED, FixedWire, FixedWireKey
from portloom.job.job import Job
from portloom.job.laid import Laid, MultiplexerStand, WiredInput, WiredMultiplexer, WiredSwitch
from portloom.job.losses import Losses
from portloom.job.network import Run
from portloom.job.routed import DisconnectedRoute, paths, routed_tree
from portloom.job.site import Site
from portloom.job.wired import OutputWire, WiredOutput, laid_along, not_laid
from portloom.rules.clash import Clash
from portloom.rules.faults import not_wired, wrong_multiplexer, wrong_port
from portloom.verify.dealing import dealt_again, earth_points_for


class CannotBeLaid(Exception):
    """A plan that can't be laid: names that are unknown, or wires that do not join their ends."""

    def __init__(self, clash: Clash) -> None:
        """Take what is broken."""
        super().__init__(clash.sentence)
        self.clash = clash


# --- wires: whether they join what they are to join


def check_avoided(job: Job, name: str, run: Run, avoid: frozenset[str]) -> None:
    """Raise CannotBeLaid where a wire follows a leg that one of its loads avoids."""
    followed = sorted(job.network.numbers_of(avoid).intersection(run.legs))
    if followed:
        label = job.network.legs[followed[0]].label
        raise CannotBeLaid(not_wired(name, f"{name}: its wire follows {label}, which it must avoid"))


def check_run(job: Job, name: str, run: Run, ends: tuple[str, ...], least: int = 0) -> None:
    """Raise CannotBeLaid unless the legs form one wire that joins the ends and is as long as it says.

    It is ``least`` micrometres long, though its legs be shorter.
    """
    try:
        paths(job.network, run, ends[0], dict.fromkeys(ends[1:], MilliAmps(0)), ())
    except DisconnectedRoute as route:
        raise CannotBeLaid(not_wired(name, f"{name}: {route}")) from route
    length = sum(job.network.legs[number].length for number in run.legs)
    if max(least, length) != run.length:
        raise CannotBeLaid(not_wired(name, f"{name}: its legs are not as long as it says"))


# --- the plan


def lay(jobs: Sequence[Job], plan: Assignment) -> Laid:
    """Lay a plan again, its units side by side on one bike; each job is the bike on one of them.

    Raises CannotBeLaid where a name is unknown or a wire does not join its ends.
    """
    sites = tuple(_sites(jobs, plan))
    whole = reduce(Site.beside, sites)
    _check_fixed(whole, plan.multiplexers)
    _check_none_left(whole, plan.fixed_wires)
    units = [_seated(site, seat) for site, seat in zip(sites, plan.seats, strict=True)]
    return Laid(
        whole,
        units[0].losses,
        tuple(wired for unit in units for wired in unit.outputs),
        tuple(wired for unit in units for wired in unit.inputs),
        tuple(wired for unit in units for wired in unit.later),
        tuple(wired for unit in units for wired in unit.switches),
        tuple(box for unit in units for box in unit.multiplexers),
    )


def _sites(jobs: Sequence[Job], plan: Assignment) -> Iterator[Site]:
    """Return each unit's site; of two units each has its own feed and earth, by the name of its place."""
    if len({seat.place for seat in plan.seats}) < len(plan.seats):
        place = plan.seats[0].place
        raise CannotBeLaid(not_wired(place, f"both units sit at {place}"))
    alone = len(plan.seats) == 1
    for job, seat in zip(jobs, plan.seats, strict=True):
        yield Site(
            job,
            _place_named(job, seat.place),
            turned=seat.turned,
            fuses=(seat.main_fuse,),
            fixed_wires=tuple(
                wire for wire in plan.fixed_wires if alone or wire.kind not in UNIT_OWNED or wire.name == seat.place
            ),
            feed_most=None if alone else carried_for_good(job.unit.feed.largest_fuse),
        )


def _check_none_left(whole: Site, wires: Sequence[FixedWire]) -> None:
    """Raise CannotBeLaid where a wire of the plan is at no site; none is at one twice."""
    known = {wire.key for wire in whole.fixed_wires}
    for wire in wires:
        if wire.key not in known:
            raise CannotBeLaid(_unasked(wire))


def _unasked(wire: FixedWire) -> Clash:
    return not_wired(wire.name, f"{wire.name}: a {wire.kind} wire that nothing asks for")


def _seated(site: Site, plan: Seat) -> Laid:
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


def _place_named(job: Job, name: str) -> Place:
    """Return the place of that name; raise CannotBeLaid where the bike has none."""
    place = next((place for place in job.bike.places if place.name == name), None)
    if place is None:
        raise CannotBeLaid(not_wired(name, f"the bike has no place '{name}'"))
    return place


# --- wires that no assignment changes


def _check_fixed(site: Site, boxes: Sequence[OnMultiplexer]) -> None:
    """Raise CannotBeLaid unless every fixed wire that is wanted is there, once, and joins what it is to join."""
    wanted = dict(_wanted_ends(site, boxes))
    have = {wire.key: wire for wire in site.fixed_wires}
    if len(have) < len(site.fixed_wires):
        raise CannotBeLaid(not_wired(site.label, "a wire that no assignment changes is laid twice"))
    for key, ends in wanted.items():
        if key not in have or have[key].ends[: len(ends)] != ends:
            raise CannotBeLaid(not_wired(key[1], f"{key[1]}: its {key[0]} wire is missing or ends elsewhere"))
    for wire in site.fixed_wires:
        if wire.key not in wanted:
            raise CannotBeLaid(_unasked(wire))
        least = site.job.assume["shortest feed"] if wire.kind == "feed" else 0
        for stretch in wire.stretches:
            check_run(site.job, wire.name, stretch.run, stretch.ends, least)
        _check_earth(site.job, wire)
    avoided = {fed.consumer.name: fed.consumer.avoid for fed in site.job.loads.fed}
    for wire in site.fixed_of("fed load"):
        check_avoided(site.job, wire.name, wire.run, avoided[wire.name])


Ends = tuple[FixedWireKey, tuple[str, ...]]


def _wanted_ends(site: Site, boxes: Sequence[OnMultiplexer]) -> Iterator[Ends]:
    """Return each fixed wire that must be there and the ends that are settled."""
    job, bike = site.job, site.job.bike
    battery = bike.supply.battery.at
    for unit in site.units:
        face = unit.face(unit.job.unit.feed.face)
        yield ("feed", unit.own_name or "feed", 1), (battery, face)
        yield ("unit earth", unit.own_name or "unit earth", 1), (face, battery)
    for point, number in _wanted_returns(job, boxes):
        yield ("return", point, number), (point,)
    for switch in job.inputs:
        if switch.signal == "sender" and switch.return_ == "wire":
            yield ("sender return", switch.name, 1), (switch.at[0],)
    for switch in job.dash_inputs:
        yield from _dash_ends(switch)
    for fed in job.loads.fed:
        dashes = (point.at for point in fed.consumer.shown_by)
        passed = () if fed.consumer.own_switch is None else (fed.consumer.own_switch,)
        ends = (battery, *passed, *dict.fromkeys((fed.consumer.at or "", *dashes)))
        yield ("fed load", fed.consumer.name, 1), ends
        if fed.coil_switch is not None:
            yield ("coil lead", fed.consumer.name, 1), (battery, fed.coil_switch)
    if any(switch.signal == "supply" for switch in job.wired_inputs):
        yield ("supply", "supply to switches", 1), (battery,)
    for other in bike.alongside:
        yield ("alongside", other.name, 1), (other.from_, other.to)


def _wanted_returns(job: Job, boxes: Sequence[OnMultiplexer]) -> Iterator[tuple[str, int]]:
    """Return the joint returns: of loads as they are dealt, the first of a point for its switches and multiplexers.

    Raises CannotBeLaid where a load is taken to be on another.
    """
    dealt = dealt_again(job)
    for load in job.loads.wired:
        if load.back != dealt.get(load.name):
            raise CannotBeLaid(not_wired(load.name, f"{load.name}: its return is not the one that was dealt to it"))
    yield from dealt.values()
    yield from ((point, 1) for switch in job.wired_inputs if switch.earthed_by_wire for point in switch.at)
    yield from ((fed.coil_switch, 1) for fed in job.loads.fed if fed.coil_switch is not None)
    yield from ((box.at, 1) for box in boxes)


def _dash_ends(switch: Switch) -> Iterator[Ends]:
    """Return the wires of what only dashes read: to each dash, and a sensor's others to the first dash alone."""
    first, *others = (point.at for point in switch.shown_by)
    reached = dict.fromkeys((*switch.at, *others))
    yield ("dash signal", switch.name, 1), (first, *(point for point in reached if point != first))
    if switch.signal not in ("earth", "supply") and switch.return_ == "wire" and switch.wires != "1":
        yield ("dash return", switch.name, 1), (first, switch.at[0])
    if switch.wires == "3":
        yield ("dash supply", switch.name, 1), (first, switch.at[0])


def _check_earth(job: Job, wire: FixedWire) -> None:
    if wire.kind in ("return", "sender return") and wire.ends[-1] not in job.bike.frame.earth:
        raise CannotBeLaid(not_wired(wire.name, f"{wire.name}: its return ends at no earth point"))
    if wire.kind in ("return", "sender return") and wire.ends[-1] not in earth_points_for(job, wire.ends[0]):
        raise CannotBeLaid(not_wired(wire.name, f"{wire.name}: its return ends where the starter motor's current does"))
    if wire.kind == "supply":
        wanted = {p for switch in job.wired_inputs if switch.signal == "supply" for p in switch.at}
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
    if line.staying is None or job.built is None:
        return laid_along(site, losses, circuit, line.run, output)
    stock = [job.catalogue[built.size] for built in job.built.loom.outputs if built.port == line.port]
    tree = routed_tree(site, circuit, line.run, face)
    return WiredOutput(site, losses, OutputWire(job, tree, output, stock=stock, staying=line.staying))


def _inputs(site: Site, plan: Seat) -> Iterator[WiredInput]:
    ports = {port.name: port for port in site.job.unit.inputs}
    switches = {switch.name: switch for switch in site.job.inputs}
    for line in plan.inputs:
        if line.port not in ports or not set(line.switches) <= set(switches):
            raise CannotBeLaid(wrong_port("inputs", line.port, f"{line.port}: no such input, or no such switch"))
        circuit = InputCircuit(tuple(switches[name] for name in line.switches))
        check_run(site.job, line.port, line.run, (site.face(ports[line.port].face), *circuit.points))
        yield WiredInput(site, circuit, line.run, ports[line.port], line.old)


def _later(site: Site, losses: Losses, plan: Seat) -> Iterator[WiredOutput]:
    outputs = {output.name: output for output in site.job.unit.outputs}
    later = {later.consumer.name: later.consumer for later in site.job.loads.later}
    for room in plan.room_for:
        if room.load not in later or room.port not in outputs:
            raise CannotBeLaid(not_wired(room.load, f"{room.load}: no such later load, or no such output"))
        yield not_laid(site, losses, OutputCircuit((later[room.load],), ()), outputs[room.port])


# --- multiplexers


def lay_multiplexers(
    site: Site, lines: Sequence[OnMultiplexer]
) -> tuple[tuple[WiredMultiplexer, ...], tuple[WiredSwitch, ...]]:
    """Lay each multiplexer and the switches on it.

    Raises CannotBeLaid where a name is unknown or a wire joins no ends.
    """
    for name, times in Counter(line.name for line in lines).items():
        if times > 1:
            raise CannotBeLaid(wrong_multiplexer(name, f"{name} stands at {times} points"))
    boxes = tuple(_multiplexer(site, line) for line in lines)
    pairs = zip(boxes, lines, strict=True)
    return boxes, tuple(switch for box, line in pairs for switch in _switches(box, line))


def _multiplexer(site: Site, line: OnMultiplexer) -> WiredMultiplexer:
    box = next((box for box in site.job.bike.multiplexers if box.name == line.name and line.at in box.at), None)
    port = next((port for port in site.job.unit.inputs if port.name == line.port), None)
    if box is None or port is None or not line.ways:
        what = f"{line.name}: no such multiplexer at {line.at} on {line.port}, or nothing goes through it"
        raise CannotBeLaid(wrong_multiplexer(line.name, what))
    check_run(site.job, line.name, line.run, (site.face(port.face), line.at))
    return WiredMultiplexer(site, MultiplexerStand(box, line.at), line.run, port, line.old)


def _switches(box: WiredMultiplexer, line: OnMultiplexer) -> Sequence[WiredSwitch]:
    known = {switch.name: switch for switch in box.site.job.inputs}
    for way in line.ways:
        if way.switch not in known:
            raise CannotBeLaid(wrong_multiplexer(line.name, f"{line.name}: no such switch as {way.switch}"))
        check_run(box.site.job, way.switch, way.run, (line.at, *dict.fromkeys(known[way.switch].reached)))
    return [WiredSwitch(box.site, known[way.switch], way.run, box.stand, way.old) for way in line.ways]

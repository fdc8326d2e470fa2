"""What leads current back: joint returns with all that is joined to them, senders' returns, the unit's earth.

From an earth point itself each thing has a short wire of its own to that point.
"""

from collections.abc import Iterator, Sequence
from dataclasses import replace

from portloom.base.figures import listed
from portloom.base.fuses import fuse_for
from portloom.base.quantities import MilliAmps
from portloom.base.sizes import WireSize
from portloom.base.values import dataclass
from portloom.documents.wiring.cutting import Piece, RunFork, in_order
from portloom.documents.wiring.lines import (
    UNIT_INPUT,
    UNIT_SUPPLY,
    coils,
    coils_of,
    earth_end,
    load_end,
    negative_pole,
    of_fuse,
    of_trip,
    own_switch_end,
    relay_name,
    stub_end,
    switch_end,
    unit_end,
)
from portloom.documents.wiring.wire import CutWireKind, WireEnd
from portloom.job.bulbs import bulbs_of
from portloom.job.consumers import Consumer, Return
from portloom.job.fixed import conductor_of, fed_load
from portloom.job.fixed_as_built import stays
from portloom.job.fixed_wires import FixedWire
from portloom.job.laid import Laid
from portloom.job.wired import WiredOutput

EARTH_SIDE = "none: earth of the unit, which carries no load"


@dataclass(frozen=True)
class Returned:
    """One thing that is joined to a return: its terminal, what it draws, its own wire."""

    end: WireEnd
    current: MilliAmps
    size: WireSize
    protection: str
    whose: tuple[str, ...] = ()
    """What protects it, by name: 'out 3', 'horn'; nothing for a switch."""
    enough: WireSize | None = None
    """The thinnest that this protects, which will do where it is built; None where that is its size."""


@dataclass(frozen=True)
class EarthPiece:
    """A piece on the way to earth, with what is settled about it."""

    circuit: str
    kind: CutWireKind
    piece: Piece
    size: WireSize
    protection: str
    enough: WireSize | None = None
    """As of what is joined to a return."""


def unit_earth(laid: Laid) -> Iterator[EarthPiece]:
    """Return the unit's own earth."""
    for wire in laid.site.fixed_of("unit earth"):
        yield from earth_pieces(laid, wire)


def returns(laid: Laid) -> Iterator[EarthPiece]:
    """Return every joint return, the short wires to it first, then the senders' own."""
    for wire in (*laid.site.fixed_of("return"), *laid.site.fixed_of("sender return")):
        yield from earth_pieces(laid, wire)


def earth_pieces(laid: Laid, wire: FixedWire) -> Iterator[EarthPiece]:
    """Return a wire that leads to an earth point, with what joins it there; nothing of any other wire."""
    match wire.kind:
        case "return":
            yield from _joint(laid, wire, tuple(_joined(laid, wire.back)))
        case "sender return":
            yield _whole(laid, wire, "sender return", switch_end(wire.name, wire.ends[0], "earth"), UNIT_INPUT)
        case "unit earth":
            yield _whole(laid, wire, "unit earth", unit_end("earth", wire.ends[0]), EARTH_SIDE)


def _whole(laid: Laid, wire: FixedWire, kind: CutWireKind, start: WireEnd, protection: str) -> EarthPiece:
    """Return a wire to earth that nothing else joins."""
    circuit = "unit earth" if kind == "unit earth" else f"return of {wire.name}"
    size = conductor_of(laid.site, wire).size
    return EarthPiece(circuit, kind, _long(laid, wire, start, MilliAmps(0)), size, protection)


def _long(laid: Laid, wire: FixedWire, start: WireEnd | RunFork, current: MilliAmps) -> Piece:
    legs, points = in_order(laid.site.job.network, wire.run, wire.ends[0])
    connectors = laid.site.job.bike.frame.connectors
    parted = tuple(point for point in points[1:-1] if point in connectors)
    end = negative_pole if wire.kind == "unit earth" else earth_end
    return Piece(start, end(wire.ends[1]), legs, points, parted, current)


def _joint(laid: Laid, wire: FixedWire, joined: tuple[Returned, ...]) -> Iterator[EarthPiece]:
    circuit, point = circuit_of_return(wire), wire.name
    joined = (*joined, *_stubs(laid, wire, joined))
    size = conductor_of(laid.site, wire).size
    worst = max((laid.site.job.returned(wire.back, case) for case in laid.site.job.cases), default=MilliAmps(0))
    if wire.run.legs and len(joined) == 1:
        piece = _long(laid, wire, joined[0].end, worst)
        yield EarthPiece(circuit, "return", piece, size, joined[0].protection)
        return
    to: WireEnd | RunFork = RunFork(point, 1) if wire.run.legs else earth_end(point)
    for one in joined:
        piece = Piece(one.end, to, (), (point,), (), one.current)
        yield EarthPiece(circuit, "return", piece, one.size, one.protection, one.enough)
    if wire.run.legs:
        yield EarthPiece(circuit, "return", _long(laid, wire, to, worst), size, _of_all(joined))


NO_CURRENT = "not used: no current"


def _stubs(laid: Laid, wire: FixedWire, joined: Sequence[Returned]) -> Iterator[Returned]:
    """Return the built wires to a return, which stays, of what is gone."""
    standing = laid.site.job.built
    if standing is None or not stays(wire, conductor_of(laid.site, wire)):
        return
    pieces = standing.pieces("return", circuit_of_return(wire))
    for end in standing.stubs(pieces, [one.end.meets for one in joined]):
        size = next((piece.size for piece in pieces if end in piece.ends), None)
        yield Returned(stub_end(end), MilliAmps(0), size or laid.site.job.reels[0].size, NO_CURRENT)


def circuit_of_return(wire: FixedWire) -> str:
    """Return how lists call a joint return: 'return tail', a further one 'return 2 from tail'."""
    return wire.said if wire.number > 1 else f"return {wire.name}"


def _of_all(joined: tuple[Returned, ...]) -> str:
    """Say what protects a joint return: the trips and fuses of all that is joined to it."""
    whose = tuple(dict.fromkeys(name for one in joined for name in one.whose))
    if not whose:
        return UNIT_INPUT
    one = {one.protection for one in joined if one.whose}
    return one.pop() if len(one) == 1 else f"what protects {listed(whose)}"


def _joined(laid: Laid, back: Return) -> Iterator[Returned]:
    """Return all that is joined to a return: its loads; to the first of a point its switches and multiplexers."""
    job, thinnest, point = laid.site.job, laid.site.job.reels[0].size, back.point
    own = {load.name: load for load in job.wired_loads if load.has_own_return and load.back == back}
    pins = {name: names for names in bulbs_of(job.bike) for name in names}
    for name in own:
        filaments = [own[one] for one in pins.get(name, (name,)) if one in own]
        if filaments[0].name == name:
            yield _pin(laid, filaments)
    if back.number > 1:
        return
    for switch in job.wired_inputs:
        if switch.earthed_by_wire and point in switch.at:
            yield Returned(switch_end(switch.name, point, "earth"), MilliAmps(0), thinnest, UNIT_INPUT)
    for fed in job.loads.fed:
        if fed.coil is not None and fed.coil.back == back:
            end = own_switch_end(fed.consumer.name, point, "earth")
            fuse = of_fuse(MilliAmps(job.assume["supply switch fuse"]))
            yield Returned(end, fed.coil.current, thinnest, fuse, (relay_name(fed.consumer.name),))
    for box in laid.multiplexers:
        if box.stand.at == point:
            end = WireEnd("multiplexer", box.stand.multiplexer.name, point, "-")
            yield Returned(end, MilliAmps(0), thinnest, UNIT_SUPPLY)


def _pin(laid: Laid, filaments: Sequence[Consumer]) -> Returned:
    """Return what leaves by one pin: a load, or all filaments of a bulb, with the most that they draw in any case."""
    job, each = laid.site.job, [_load(laid, load) for load in filaments]
    together = (
        sum(one.current for load, one in zip(filaments, each, strict=True) if job.on(load, case)) for case in job.cases
    )
    return Returned(
        replace(each[0].end, with_=tuple(one.end.name for one in each[1:])),
        MilliAmps(max(together, default=0)) if len(each) > 1 else each[0].current,
        max(one.size for one in each),
        " and ".join(dict.fromkeys(one.protection for one in each)),
        tuple(dict.fromkeys(name for one in each for name in one.whose)),
        max(one.enough or one.size for one in each),
    )


def _load(laid: Laid, load: Consumer) -> Returned:
    """Return a load's own wire back: as thick as what feeds it, and protected by the same.

    What switches coils takes their current back as well, through a wire as thick as the joint return.
    """
    through = (load, *(coil for coil in coils_of(laid.site.job) if coil.switched_by == load.name))
    feeding = [wired for wired in laid.outputs if any(one in wired.circuit.loads for one in through)]
    fused = [wire for wire in laid.site.fixed_of("fed load") if wire.name in {one.name for one in through}]
    joint = [way for way in laid.site.fixed_of("return") if way.back == load.back and len(through) > 1]
    sizes = [wired.drawn.size for wired in feeding]
    sizes += [conductor_of(laid.site, wire).size for wire in (*fused, *joint)]
    trips = [of_trip(wired) for wired in feeding]
    trips += [of_fuse(fuse_for(fed_load(laid.site, wire).consumer.current)) for wire in fused]
    whose = (*(wired.output.name for wired in feeding), *(wire.name for wire in fused))
    current = MilliAmps(sum(one.current for one in through))
    told = " and ".join(dict.fromkeys(trips))
    return Returned(_earth_side(laid, load), current, max(sizes), told, whose, _enough(laid, feeding, max(sizes)))


def _enough(laid: Laid, feeding: Sequence[WiredOutput], size: WireSize) -> WireSize | None:
    """Return the thinnest reel that the trips of what feeds a load protect, where these alone feed it."""
    able = (reel.size for reel in laid.site.job.reels if all(reel.ampacity >= wired.trip for wired in feeding))
    return min(next(able, size), size) if feeding else None


def _earth_side(laid: Laid, load: Consumer) -> WireEnd:
    if load.name in coils(laid.site.job):
        return WireEnd("relay", load.name, load.at or "", "85")
    return load_end(load.name, load.at or "", "-")

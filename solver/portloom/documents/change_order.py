"""The change order of a built loom: what to leave, set anew, take out, join and cut, and what to test on the bench."""

from collections.abc import Collection, Iterable, Iterator, Sequence

from portloom.base.built import BuiltLoom, BuiltPiece
from portloom.base.figures import listed
from portloom.base.quantities import Micrometres, MilliAmps
from portloom.base.values import dataclass
from portloom.documents.notes import Notes, notes_of
from portloom.documents.set_anew import SetAnew, settings_anew
from portloom.documents.wiring.wire import Wire, WireEnd, Wiring
from portloom.job.assignment import Assignment, Change
from portloom.job.laid import Laid
from portloom.job.touching import mattering

NOT_USED = "not used"


@dataclass(frozen=True)
class DeadWire:
    """A wire that nothing uses any more: taken out, or both ends insulated and labelled."""

    number: int
    key: str
    start: str
    end: str
    legs: tuple[str, ...]


@dataclass(frozen=True)
class Join:
    """A built wire that is cut at an end, where a splice joins it to new ones."""

    number: int
    key: str
    was_at: str
    splice: str
    point: str


@dataclass(frozen=True)
class Altered:
    """A wire that joins a circuit that stays, or comes off it, and where a hand must be for that."""

    circuit: str
    number: int
    key: str
    joins: bool
    """Whether it joins; else it comes off."""
    at: str
    """The splice, or what else, at which it does."""
    point: str
    leg: str
    """The leg under whose sleeve the splice is; empty where it is in none."""


@dataclass(frozen=True)
class Short:
    """A built wire that is shorter than what would be cut for its way as the bike's file has it now."""

    number: int
    key: str
    length: Micrometres
    asked: Micrometres
    """What would be cut for it."""
    run: Micrometres
    """Its way along the legs, without ends and slack."""


@dataclass(frozen=True)
class Retest:
    """A circuit to test again on the bench, and why."""

    circuit: str
    on_it: tuple[str, ...]
    is_new: bool
    """Whether a wire of it is new or joined."""
    is_off: bool
    """Whether a wire comes off it."""
    is_set: bool
    """Whether it is set anew, or its fuse is another."""
    opened: tuple[str, ...]
    """The legs that it lies in and that were opened."""
    parted: tuple[str, ...]
    """The plugs that it is in and that were parted."""
    always: bool
    """Whether brake, ignition, engine stop or start hang on it."""


@dataclass(frozen=True)
class Figures:
    """What a plan comes to: the unit's worst case, and the later loads that there is room for."""

    worst: MilliAmps
    room_for: tuple[str, ...]


@dataclass(frozen=True)
class ChangeOrder:
    """All that is done to a built loom."""

    built: str
    """The built plan's file."""
    change: Change
    proven: bool
    """Whether it is proved that nothing less does."""
    left: tuple[str, ...]
    """The circuits of which the built wire stays, and at which nothing is done."""
    altered: tuple[Altered, ...]
    """The wires that join circuits that stay, or come off them."""
    short: tuple[Short, ...]
    settings: tuple[str, ...]
    out: tuple[DeadWire, ...]
    dead_before: int
    """How many wires were dead before."""
    joins: tuple[Join, ...]
    new: tuple[Wire, ...]
    parted: tuple[str, ...]
    """The plugs that are opened for it."""
    retests: tuple[Retest, ...]
    before: Figures
    after: Figures
    last_number: int
    """The greatest number that a wire of the loom ever had."""
    notes: Notes

    @property
    def nothing(self) -> bool:
        """Whether nothing is done at all."""
        change = self.change
        touched = (*change.mattering, *change.others, *change.opened)
        return not (touched or self.settings or self.out or self.joins or self.new or self.short)


def change_order(laid: Laid, plan: Assignment, wiring: Wiring, after: Figures) -> ChangeOrder | None:
    """Return the change order of a plan; None where nothing was built before."""
    standing = laid.site.job.built
    if standing is None or plan.change is None:
        return None
    loom = standing.loom
    out = tuple(_dead(wiring, loom))
    parted = tuple(_parted(wiring, loom))
    built = [wire for wire in wiring.ours if wire.built and wire.used]
    anew = tuple(settings_anew(laid, loom))
    altered = tuple(_altered(wiring, {wire.number for wire in out}))
    worked_at = {one.circuit for one in altered}
    return ChangeOrder(
        loom.file,
        plan.change,
        plan.proven,
        tuple(dict.fromkeys(wire.circuit for wire in built if wire.circuit not in worked_at)),
        altered,
        tuple(_short(built)),
        tuple(one.said for one in anew),
        out,
        len(loom.dead) + sum(not piece.used for piece in loom.pieces),
        tuple(_joins(wiring)),
        tuple(wire for wire in wiring.ours if not wire.built),
        parted,
        tuple(_retests(laid, wiring, plan.change.opened, parted, altered, anew)),
        Figures(loom.worst, loom.room_for),
        after,
        max(loom.last_number, *(wire.number for wire in wiring.wires)),
        notes_of(laid.site.job.bike),
    )


# --- wires


def _dead(wiring: Wiring, loom: BuiltLoom) -> Iterator[DeadWire]:
    """Return the wires that this change leaves without a use, by number."""
    before = {piece.number for piece in (*loom.dead, *(piece for piece in loom.pieces if not piece.used))}
    dead = [DeadWire(p.number, p.key, p.start.name, p.end.name, p.legs) for p in wiring.dead]
    stubs = (wire for wire in wiring.ours if wire.built and not wire.used)
    dead += [DeadWire(wire.number, wire.key, _was(wire.start), _was(wire.end), wire.legs) for wire in stubs]
    yield from sorted((wire for wire in dead if wire.number not in before), key=lambda wire: wire.number)


def _was(end: WireEnd) -> str:
    return listed(end.names)


def _joins(wiring: Wiring) -> Iterator[Join]:
    for wire in wiring.ours:
        for end, was in zip(wire.ends, (wire.cut_start, wire.cut_end), strict=True):
            if was is not None:
                yield Join(wire.number, wire.key, was, end.name, end.point)


def _altered(wiring: Wiring, dead: Collection[int]) -> Iterator[Altered]:
    """Return the wires that join circuits of which built wire stays, or come off them, at what stays of them."""
    under = {one.name: one.spot.leg for one in wiring.splices if one.spot is not None}
    for circuit, wires in wiring.circuits.items():
        stay = {
            end.meets for wire in wires if wire.built and wire.used and wire.kind != "alongside" for end in wire.ends
        }
        off = [piece for piece in wiring.dead if piece.circuit == circuit and piece.kind == wires[0].kind]
        changed: tuple[tuple[Wire | BuiltPiece, bool], ...] = (
            *((wire, False) for wire in wires if not wire.used and wire.number in dead),
            *((piece, False) for piece in off if piece.number in dead),
            *((wire, True) for wire in wires if not wire.built and wire.kind != "alongside"),
        )
        for wire, joins in changed:
            for end in (end for end in wire.ends if end.meets in stay):
                yield Altered(circuit, wire.number, wire.key, joins, end.name, end.point, under.get(end.name, ""))


def _short(built: Iterable[Wire]) -> Iterator[Short]:
    for wire in built:
        if wire.cut < wire.asked:
            yield Short(wire.number, wire.key, wire.cut, wire.asked, wire.run)


# --- tests


def _parted(wiring: Wiring, loom: BuiltLoom) -> Iterator[str]:
    """Return the plugs that are opened: what a wire that is new, or newly dead, ends in or passes."""
    before = {piece.number for piece in loom.dead}
    plugs: list[str] = []
    for wire in wiring.ours:
        if not wire.built:
            plugs += _plugs(wire.ends, [way.at for way in wire.connectors])
    for piece in wiring.dead:
        if piece.number not in before:
            plugs += _plugs(piece.ends, [way.at for way in piece.ways])
    return iter(dict.fromkeys(plugs))


def _plugs(ends: Iterable[object], connectors: Iterable[str]) -> Iterator[str]:
    for end in ends:
        kind, name, point = getattr(end, "kind"), getattr(end, "name"), getattr(end, "point")  # noqa: B009
        if kind == "unit":
            yield f"the unit's plug at {point}"
        elif kind == "multiplexer":
            yield f"the plug of {name}"
    yield from (f"the connector at {point}" for point in connectors)


def _retests(
    laid: Laid,
    wiring: Wiring,
    opened: Sequence[str],
    parted: Sequence[str],
    altered: Iterable[Altered],
    anew: Iterable[SetAnew],
) -> Iterator[Retest]:
    """Return what is new or set anew, what was cut, opened or parted, and what always is tested."""
    always = mattering(laid.site.job)
    off, is_set = {one.circuit for one in altered if not one.joins}, {one.circuit for one in anew}
    for circuit, wires in wiring.circuits.items():
        own = [wire for wire in wires if wire.used and wire.kind != "alongside"]
        names = tuple(dict.fromkeys(name for wire in own for name in _things(wire)))
        plugs = {plug for wire in own for plug in _plugs(wire.ends, [way.at for way in wire.connectors])}
        test = Retest(
            circuit,
            names,
            not all(wire.built and wire.cut_at is None for wire in own),
            circuit in off,
            circuit in is_set,
            tuple(leg for leg in opened if any(leg in wire.legs for wire in own)),
            tuple(plug for plug in parted if plug in plugs),
            bool(own) and own[0].kind in ("output", "input", "multiplexer way") and not always.isdisjoint(names),
        )
        done = test.is_new or test.is_off or test.is_set or test.opened or test.parted
        if own and (done or test.always):
            yield test


def _things(wire: Wire) -> Iterator[str]:
    for end in wire.ends:
        reads = end.kind == "multiplexer" and wire.kind == "multiplexer data"
        if (end.kind in ("load", "switch", "relay") or reads) and not end.stub:
            yield from end.names


def dead_after(wiring: Wiring, loom: BuiltLoom) -> tuple[BuiltPiece, ...]:
    """Return all wires of no circuit that lie in the loom after a change, by number."""
    every = {piece.number: piece for piece in (*wiring.dead, *loom.dead)}
    return tuple(every[number] for number in sorted(every))

"""The checker's own count of what a plan costs: term by term, from the legs of its wires and the unit's ports.

It looks at nothing that the search goes by, so that a term that is wrong there does not pass here.
"""

from collections.abc import Callable, Iterable, Iterator

from portloom.base.quantities import Micrometres
from portloom.job.fixed import conductor_of
from portloom.job.fixed_wires import FixedWire, WireKind
from portloom.job.laid import Laid, WiredInput, WiredMultiplexer, WiredSwitch
from portloom.job.network import Run

TermCount = Callable[[Laid], int]
"""Returns micrometres of wire."""


def wire_run(laid: Laid) -> Micrometres:
    """Return the length of all wires that count, without margin."""
    return Micrometres(sum(count(laid) for count in WIRES.values()))


def spare_port_loss(laid: Laid) -> Micrometres:
    """Return what the ports in use, and the later loads that have no room, are worth."""
    return Micrometres(sum(count(laid) for count in SPARES.values()))


def _length(laid: Laid, run: Run) -> int:
    return sum(laid.site.job.network.legs[number].length for number in run.legs)


def _feed(laid: Laid) -> int:
    """A feed counts as long as the shortest that can be at least."""
    least = laid.site.job.assume["shortest feed"]
    whole = sum(max(least, _length(laid, wire.run)) for wire in laid.site.fixed_wires if wire.kind == "feed")
    return whole - sum(max(least, _length(laid, old)) for kind, old in _staying(laid) if kind == "feed")


def _returns(laid: Laid) -> int:
    return _of_kinds(laid, "return", "sender return")


def _fed_loads(laid: Laid) -> int:
    return _of_kinds(laid, "fed load", "coil lead")


def _of_kinds(laid: Laid, *kinds: WireKind) -> int:
    """What is built and stays is no new wire."""
    whole = sum(_length(laid, wire.run) for wire in laid.site.fixed_wires if wire.kind in kinds)
    return whole - sum(_length(laid, old) for kind, old in _staying(laid) if kind in kinds)


def _staying(laid: Laid) -> Iterator[tuple[WireKind, Run]]:
    """Return the built wires of no port that are still of their size: the kind and the way of each."""
    for wire in laid.site.fixed_wires:
        if wire.old is not None and conductor_of(laid.site, wire).size == wire.old_size:
            yield wire.kind, wire.old


def _dash_wires(laid: Laid) -> int:
    """What only dashes read: the wire to the dash; a sender's or sensor's way back along it; a third wire's."""
    total = 0
    for switch in laid.site.job.dash_inputs:
        total += sum(_length(laid, wire.run) for wire in _named(laid, "dash signal", switch.name))
        if not switch.is_contact and switch.return_ == "wire" and switch.wires != "1":
            total += sum(_length(laid, wire.run) for wire in _named(laid, "dash return", switch.name))
        if switch.wires == "3":
            total += sum(_length(laid, wire.run) for wire in _named(laid, "dash supply", switch.name))
    read = ("dash signal", "dash return", "dash supply")
    return total - sum(_length(laid, old) for kind, old in _staying(laid) if kind in read)


def _named(laid: Laid, kind: WireKind, name: str) -> list[FixedWire]:
    return [wire for wire in laid.site.fixed_of(kind) if wire.name == name]


def _output_wires(laid: Laid) -> int:
    old = sum(_length(laid, wired.wire.staying.old) for wired in laid.outputs if wired.wire.staying is not None)
    return sum(_length(laid, wired.run) for wired in laid.outputs) - old


def _input_wires(laid: Laid) -> int:
    return sum(_length(laid, wired.run) for wired in laid.inputs) - _old(laid, laid.inputs)


def _switch_wires(laid: Laid) -> int:
    return sum(_length(laid, wired.run) for wired in laid.switches) - _old(laid, laid.switches)


def _multiplexer_wires(laid: Laid) -> int:
    """Data on one wire and supply on another, both along the same legs."""
    data = supply = sum(_length(laid, box.run) for box in laid.multiplexers) - _old(laid, laid.multiplexers)
    return data + supply


def _old(laid: Laid, wired: Iterable[WiredInput | WiredSwitch | WiredMultiplexer]) -> int:
    return sum(_length(laid, one.old) for one in wired if one.old is not None)


WIRES: dict[str, TermCount] = {
    "feed": _feed,
    "returns": _returns,
    "fed loads": _fed_loads,
    "dash wires": _dash_wires,
    "output wires": _output_wires,
    "input wires": _input_wires,
    "switch wires": _switch_wires,
    "multiplexer wires": _multiplexer_wires,
}


def _spare_amperes(laid: Laid) -> int:
    """Milliamperes that no load of a circuit draws, each at a thousandth of what an ampere is worth."""
    worth = laid.site.job.bike.weights.ampere
    spare = sum(w.output.limit - sum(load.current for load in w.circuit.loads) for w in laid.outputs)
    return worth * spare


def _spare_abilities(laid: Laid) -> int:
    worth = 1000 * laid.site.job.bike.weights.ability
    asked = ({mode for load in w.circuit.members for mode in load.modes} for w in laid.outputs)
    return worth * sum(len(set(w.output.modes) - modes) for w, modes in zip(laid.outputs, asked, strict=True))


def _later_loads(laid: Laid) -> int:
    room = {load.name for wired in laid.later for load in wired.circuit.loads}
    return sum(later.worth for later in laid.site.job.loads.later if later.consumer.name not in room)


SPARES: dict[str, TermCount] = {
    "spare amperes": _spare_amperes,
    "spare abilities": _spare_abilities,
    "later loads": _later_loads,
}


def legs_in_use(laid: Laid) -> Micrometres:
    """Return what the legs that hold a wire are worth."""
    return Micrometres(sum(count(laid) for count in LEGS.values()))


def used_legs(laid: Laid) -> list[int]:
    """Return the numbers of the legs in which anything lies but what is alongside, looked at leg by leg."""
    ours = [wire.run.legs for wire in laid.site.fixed_wires if wire.kind != "alongside"]
    ours += [wired.tree.wires.legs for wired in laid.outputs]
    ours += [wired.run.legs for wired in laid.inputs]
    ours += [wired.run.legs for wired in laid.switches]
    ours += [box.run.legs for box in laid.multiplexers]
    return [number for number in range(len(laid.site.job.network.legs)) if any(number in legs for legs in ours)]


def _legs_in_use(laid: Laid) -> int:
    return 1000 * laid.site.job.bike.weights.leg * len(used_legs(laid))


LEGS: dict[str, TermCount] = {"legs in use": _legs_in_use}

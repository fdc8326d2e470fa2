"""What is on which port: what moved, what is set there, and the wire and the figures of each circuit."""

from collections.abc import Iterable, Iterator, Sequence
from typing import Any

from portloom.documents.amounts import Json
from portloom.documents.difference.canonical import natural, pairs
from portloom.documents.difference.change import Change
from portloom.documents.difference.sides import Circuit, Couple, Sides, UnitPart
from portloom.documents.difference.walk import changed, wired

FED_BY = {"relay": "relay and fuse at the battery", "fuse": "fuse at the battery"}
"""Where a load sits that no output feeds, by what feeds it."""
SETTINGS = {"outputs": ("mode", "trip_a"), "inputs": ("signal", "action", "at_rest")}
"""What a fitter sets, or must mind, at a port."""
OF_CIRCUITS = ("port", "loads", "inputs", "input", *SETTINGS["outputs"], *SETTINGS["inputs"])
"""Keys of a circuit that are told by its port and by what is on it."""
Places = dict[str, tuple[str, ...]]
"""The ports of each load or switch; a tell-tale that several circuits feed has several."""


def moved(both: Sides) -> Iterator[Change]:
    """Return what is elsewhere: loads, switches, multiplexers; what a plan lacks has no port there."""
    loads = [_loads(both.old, both.old_units), _loads(both.new, both.new_units)]
    switches = [_places(each for unit in units for each in unit.inputs) for units in (both.old_units, both.new_units)]
    boxes = [_boxes(both.old_units), _boxes(both.new_units)]
    yield from _moved("outputs", "load", *loads)
    yield from _moved("inputs", "switch", *switches)
    yield from _moved("multiplexers", "multiplexer", *boxes)


def _moved(part: str, key: str, old: Places, new: Places) -> Iterator[Change]:
    for name in sorted({*old, *new}, key=natural):
        if old.get(name) != new.get(name):
            yield Change("moved", part, name, key, old.get(name), new.get(name))


def _places(circuits: Iterable[Circuit]) -> Places:
    found: dict[str, list[str]] = {}
    for circuit in circuits:
        for name in circuit.names:
            found.setdefault(name, []).append(circuit.port)
    return {name: tuple(sorted(ports, key=natural)) for name, ports in found.items()}


def _loads(whole: Json, units: Sequence[UnitPart]) -> Places:
    fed = [Circuit.of(_fed_by(entry), [str(entry.get("name"))], entry) for entry in whole["fed"]]
    return _places([*(each for unit in units for each in unit.outputs), *fed])


def _fed_by(entry: Json) -> str:
    by = entry.get("by")
    return FED_BY.get(by, f"fed by {by}") if isinstance(by, str) else "fed from the battery"


def _boxes(units: Sequence[UnitPart]) -> Places:
    return _places(
        Circuit.of(unit.called(box["port"]), [str(box.get("name"))], box)
        for unit in units
        for box in unit.document["multiplexers"]
    )


def set_ports(both: Sides) -> Iterator[Change]:
    """Return what is set otherwise at a port, whatever is on it."""
    for part, keys in SETTINGS.items():
        old, new = ([_setting(unit, entry, keys) for unit in units for entry in unit.document[part]]
                    for units in (both.old_units, both.new_units))  # fmt: skip
        for port, before, after in pairs(old, new, lambda entry: str(entry["port"])):
            for key in keys:
                yield from changed("setting", part, port, key, (before or {}).get(key), (after or {}).get(key))


def _setting(unit: UnitPart, entry: Json, keys: Sequence[str]) -> Json:
    return {"port": unit.called(entry["port"]), **{key: entry.get(key) for key in keys}}


def told_circuits(part: str, found: Sequence[Couple]) -> Iterator[Change]:
    """Return how the wires of circuits differ, and their figures."""
    for couple in found:
        old, new = (None if circuit is None else circuit.entry for circuit in (couple.old, couple.new))
        but = OF_CIRCUITS if "port" in {**(old or {}), **(new or {})} else ("input",)
        if (old is None or "port" in old) != (new is None or "port" in new):
            but = OF_CIRCUITS
        yield from wired(part, couple.name, old, new, but)


def renamed(units: Sequence[UnitPart], whole: Json, names: dict[str, str]) -> list[Json]:
    """Return what wires carry, those of outputs under the names of their circuits."""
    own = [_under(entry, unit, names) for unit in units for entry in unit.document.get("protection", ())]
    alone = units[0] if len(units) == 1 else None
    return [*own, *(_under(entry, alone, names) for entry in whole["protection"])]


def _under(entry: Json, unit: UnitPart | None, names: dict[str, str]) -> Json:
    wire = str(entry.get("wire"))
    if unit is None:
        return entry
    port = unit.called(wire)
    if port in names:
        return {**entry, "wire": names[port]}
    return {**entry, "wire": port} if "protection" in unit.document or wire == "feed" else entry


def names_of(found: Sequence[Couple]) -> tuple[dict[str, str], dict[str, str]]:
    """Return by port what the circuits of both plans are called."""
    old = {couple.old.port: couple.name for couple in found if couple.old is not None}
    return old, {couple.new.port: couple.name for couple in found if couple.new is not None}


def free(units: Sequence[UnitPart], key: str) -> list[Any]:
    """Return what is free, or what there is room for, on all units."""
    return [_called(unit, held) for unit in units for held in unit.document[key]]


def _called(unit: UnitPart, held: Any) -> Any:
    if isinstance(held, dict):
        return {**held, "port": unit.called(str(held.get("port")))}
    return unit.called(held)

"""Bench steps before the battery goes on: an ohmmeter finds open wires and shorts, and harms nothing.

That a good wire reads under half an ohm is common practice, no source.
"""

from collections.abc import Iterator

from solver.handover.drafts import Draft
from solver.handover.steps import Part
from solver.job.laid import Laid
from solver.job.wired import WiredOutput
from solver.words.figures import listed

BEFORE: Part = "before the battery goes on"
GOOD = "under 0.5 ohm"
OPEN = "no reading (open)"


def unplugged(laid: Laid) -> tuple[str, ...]:
    """Give what must be unplugged before anything is measured with an ohmmeter."""
    electronic = [
        load.name
        for load in (*laid.site.job.loads.on_unit, *laid.site.job.loads.guests)
        if load.kind in ("led", "electronics") or load.part == "engine controller"
    ]
    boxes = [box.stand.multiplexer.name for box in laid.multiplexers]
    return ("the control unit", "the regulator/rectifier", *boxes, *dict.fromkeys(electronic))


def steps_without_power(laid: Laid) -> Iterator[Draft]:
    """Give each wire's continuity, each return's, each switch's, and what must not be joined."""
    for wired in laid.outputs:
        yield _run(wired)
    for way in laid.site.ways_of("return"):
        if way.run.legs:
            do = f"From the earth side at {way.name} to {way.ends[-1]}, then to the battery's negative pole."
            yield Draft(BEFORE, f"Return from {way.name}", do, "ohms", GOOD)
    for switch in laid.site.job.bike.inputs:
        if switch.signal in ("earth", "supply"):
            yield _switch(laid, switch.name, switch.signal, switch.normally)
    yield Draft(
        BEFORE,
        "Shorts to earth",
        "Loads, lamps and the unit unplugged: from each output's way in the unit's connector to the battery's "
        "negative pole, one after the other.",
        "ohms",
        OPEN,
    )
    yield Draft(
        BEFORE, "The feed", "Main fuse out: from the unit's supply way to the battery's negative pole.", "ohms", OPEN
    )


def _run(wired: WiredOutput) -> Draft:
    names = [load.name for load in wired.circuit.loads]
    ends = f"the feed side of {listed(names)}" + (", one after the other" if len(names) > 1 else "")
    do = f"From the way of {wired.output.name} in the unit's connector to {ends}."
    return Draft(BEFORE, f"{wired.output.name}: {listed(names)}", do, "ohms", GOOD, wired.output.name)


def _switch(laid: Laid, name: str, signal: str, normally: str) -> Draft:
    to = "the battery's negative pole" if signal == "earth" else "its live side"
    rest, worked = (GOOD, OPEN) if normally == "closed" else (OPEN, GOOD)
    do = f"From its way at {_where_read(laid, name)} to {to}: at rest, then worked."
    return Draft(BEFORE, name, do, "ohms", f"at rest {rest}; worked {worked}", _where_read(laid, name))


def _where_read(laid: Laid, name: str) -> str:
    """Give the input, or the multiplexer, that a switch is wired to."""
    ports = {s.name: wired.port.name for wired in laid.inputs for s in wired.circuit.switches}
    boxes = {wired.switch.name: wired.stand.multiplexer.name for wired in laid.switches}
    return {**ports, **boxes}.get(name, "the unit")

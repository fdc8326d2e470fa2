"""A new multiplexer for switches to earth, wherever on the frame it serves best."""

from collections.abc import Iterator, Sequence

from portloom.base.bike import Multiplexer
from portloom.base.figures import counted
from portloom.base.unit import Unit
from portloom.explaining.conflicts.kept import Instance
from portloom.explaining.fixes.change import Change, Target
from portloom.rules.fact_kinds import SWITCH
from portloom.rules.practice import goes_straight

EFFORT, WAYS = 5, 6
NEW = ("new multiplexer", "second new multiplexer")
"""What new ones are called; so many are thought of."""


def proposals(instance: Instance, known: Sequence[Unit]) -> Iterator[Change]:
    """Return each new multiplexer, where there is a switch that may go through one, and an input that reads it."""
    job = instance.job
    through = [s for s in job.bike.inputs if s.signal == "earth" and goes_straight(job, s) is None]
    read = any("coded" in port.accepts for unit in (job.unit, *known) for port in unit.inputs)
    names = {box.name for box in job.bike.multiplexers}
    new = [name for name in NEW if name not in names]
    for number, name in enumerate(new if read and through else ()):
        yield Change(
            kind="multiplexer",
            effort=EFFORT,
            sentence=f"fit a {'second ' * number}multiplexer of {counted(WAYS, 'way')} for switches to earth",
            make=lambda target, name=name: _fitted(target, name),  # type: ignore[misc]
            slot=("multiplexer", name),
            acts="things",
            facts=frozenset(SWITCH.key(switch.name) for switch in through),
            parts=(f"a multiplexer of {counted(WAYS, 'way')} that takes switches to earth",),
            only_helps=True,
            after=("multiplexer", new[0]) if number else (),
            room=WAYS,
        )


def _fitted(target: Target, name: str) -> Target:
    bike, unit = target
    points = dict.fromkeys(point for leg in bike.frame.legs for point in leg.between)
    box = Multiplexer(name=name, at=tuple(points), ways=WAYS, takes=("earth",))
    return bike.model_copy(update={"multiplexers": (*bike.multiplexers, box)}), unit

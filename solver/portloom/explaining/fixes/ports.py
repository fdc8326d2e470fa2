"""Changes that make room on ports: a multiplexer for switches, a bigger unit."""

from collections.abc import Iterator, Sequence

from portloom.base.bike import Multiplexer
from portloom.base.figures import counted
from portloom.base.unit import Unit
from portloom.explaining.conflicts.kept import Instance
from portloom.explaining.fixes.change import Change, Target
from portloom.explaining.fixes.reach import things_of
from portloom.rules.practice import goes_straight

# --- a multiplexer


MULTIPLEXER, WAYS = 5, 5
NEW_MULTIPLEXER = "multiplexer"
NEW = ("new multiplexer", "second new multiplexer")
"""What new ones are called; so many are thought of."""


def new_multiplexers(instance: Instance, known: Sequence[Unit]) -> Iterator[Change]:
    """Return each new multiplexer, where there is a switch that may go through one, and an input that reads it."""
    job = instance.job
    through = [switch for switch in job.inputs if switch.signal == "earth" and goes_straight(job, switch) is None]
    read = any("coded" in port.accepts for unit in (job.unit, *known) for port in unit.inputs)
    names = {box.name for box in job.bike.multiplexers}
    new = [name for name in NEW if name not in names]
    for number, name in enumerate(new if read and through else ()):
        yield Change(
            kind=NEW_MULTIPLEXER,
            effort=MULTIPLEXER,
            sentence=f"fit a {'second ' * number}multiplexer of {counted(WAYS, 'way')} for switches to earth",
            make=lambda target, name=name: _fitted(target, name),  # type: ignore[misc]
            slot=("multiplexer", name),
            acts="things",
            reach=things_of(instance, (switch.name for switch in through), draws=False),
            parts=(f"a multiplexer of {counted(WAYS, 'way')} that takes switches to earth",),
            only_helps=True,
            needs=(("multiplexer", new[0]),) if number else (),
            room=WAYS,
        )


def _fitted(target: Target, name: str) -> Target:
    bike = target.bike
    points = dict.fromkeys(point for leg in bike.frame.legs for point in leg.between)
    box = Multiplexer(name=name, at=tuple(points), ways=WAYS, takes=("earth",))
    return target._replace(bike=bike.model_copy(update={"multiplexers": (*bike.multiplexers, box)}))


# --- a bigger unit


BIGGER = "bigger unit"
STEP_UP = 10
"""For each size up."""


def bigger_units(instance: Instance, known: Sequence[Unit]) -> Iterator[Change]:
    """Each known unit with more outputs, or as many and more inputs, smallest first; each step is one size up.

    None where one is built in: to change it is to wire the bike anew.
    """
    if instance.job.built is not None:
        return
    bigger = sorted((unit for unit in known if _size(unit) > _size(instance.job.unit)), key=_size)
    for step, unit in enumerate(bigger, 1):
        yield Change(
            kind=BIGGER,
            effort=STEP_UP * step,
            sentence=f"take the {unit.unit} instead of the {instance.job.unit.unit}",
            make=lambda target, unit=unit: target._replace(unit=unit),  # type: ignore[misc]
            slot=("unit",),
            acts="unit",
            parts=(f"a control unit like the {unit.unit}",),
            everywhere=True,
        )


def _size(unit: Unit) -> tuple[int, int]:
    return len(unit.outputs), len(unit.inputs)

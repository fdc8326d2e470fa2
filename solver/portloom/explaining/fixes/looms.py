"""Another way round a full opening, an opening opened up, and the unit at another point of the frame."""

from collections.abc import Iterator

from portloom.base.bike import Leg, Place
from portloom.base.figures import millimetres
from portloom.explaining.conflicts.kept import Instance
from portloom.explaining.fixes.change import Change, Target, with_load
from portloom.explaining.fixes.reach import Reach
from portloom.rules.fact_kinds import altered

AVOID, OPEN, PLACE = 1, 3, 2
ROUND, OPENED = "another way round", "opened up"


def ways_round(instance: Instance) -> Iterator[Change]:
    """Return for each load and each leg with an opening another way round, where wires have one."""
    for leg in instance.job.network.legs:
        if leg.opening is None:
            continue
        for load in instance.job.bike.loads:
            if leg.label not in load.avoid and _has_another(instance, load.at, leg):
                yield Change(
                    kind=ROUND,
                    effort=AVOID,
                    sentence=f"route the wire of {load.name} another way around {leg.label}",
                    make=lambda target, name=load.name, leg=leg: _avoiding(target, name, leg),  # type: ignore[misc]
                    slot=("avoid", load.name, leg.label),
                    acts="wires",
                    reach=Reach(altered("load", load.name, ["avoid"])),
                )


def _has_another(instance: Instance, point: str | None, leg: Leg) -> bool:
    """Tell whether a point can be reached from both ends of a leg without it; if not, no wire there has a choice."""
    network = instance.job.network
    closed = frozenset({network.legs.index(leg)})
    return all(network.wire(end, point or end, closed) is not None for end in leg.between)


def _avoiding(target: Target, name: str, leg: Leg) -> Target | None:
    avoid = next((load.avoid for load in target.bike.loads if load.name == name), ())
    return with_load(target, name, avoid=(*avoid, leg.label))


def opened_up(instance: Instance) -> Iterator[Change]:
    """Return each opening that can be opened up, as far as its file says."""
    for leg in instance.job.network.legs:
        if leg.opening is not None and leg.opens_to is not None and leg.opens_to > leg.opening:
            wider = f"from {millimetres(leg.opening)} to {millimetres(leg.opens_to)}"
            yield Change(
                kind=OPENED,
                effort=OPEN,
                sentence=f"open up the {leg.opens} in {leg.label} {wider}",
                make=lambda target, leg=leg: _opened(target, leg),  # type: ignore[misc]
                slot=("opening", leg.label),
                acts="wires",
                reach=Reach(altered("leg", leg.label, ["opening"])),
                parts=(f"a grommet for an opening of {millimetres(leg.opens_to)} at {leg.label}",),
                only_helps=True,
            )


def _opened(target: Target, leg: Leg) -> Target:
    bike = target.bike
    legs = tuple(
        own.model_copy(update={"opening": own.opens_to}) if own.label == leg.label else own for own in bike.frame.legs
    )
    return target._replace(bike=bike.model_copy(update={"frame": bike.frame.model_copy(update={"legs": legs})}))


def places(instance: Instance) -> Iterator[Change]:
    """Return each frame point that is no place yet as one; none where one place is allowed, or the unit is built in."""
    if instance.place is not None or instance.job.built is not None:
        return
    known = {point for place in instance.job.bike.places for point in (place.front, place.rear)}
    names = {place.name for place in instance.job.bike.places}
    for point in instance.job.network.points:
        name = f"at {point}"
        if point not in known and name not in names:
            yield Change(
                kind="place",
                effort=PLACE,
                sentence=f"mount the unit at {point}",
                make=lambda target, name=name, point=point: _placed(target, name, point),  # type: ignore[misc]
                slot=("place",),
                acts="wires",
                parts=(f"a bracket for the unit at {point}",),
                everywhere=True,
                only_helps=True,
            )


def _placed(target: Target, name: str, point: str) -> Target:
    bike = target.bike
    place = Place(name=name, front=point, rear=point)
    return target._replace(bike=bike.model_copy(update={"places": (*bike.places, place)}))

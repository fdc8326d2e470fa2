"""Another way round a full opening, an opening opened up, and the unit at another point of the frame."""

from collections.abc import Iterator

from portloom.base.bike import Leg, Place
from portloom.base.figures import millimetres
from portloom.explaining.conflicts.kept import Instance
from portloom.explaining.fixes.change import Change, Target, with_load
from portloom.rules.fact_kinds import altered

AVOID, OPEN, PLACE = 1, 3, 2
FACES = ("front", "rear")


def ways_round(instance: Instance) -> Iterator[Change]:
    """Return for each load whose wire can pass an opening, and each such leg, another way round it."""
    for leg in instance.job.network.legs:
        if leg.opening is None:
            continue
        for load in instance.job.loads.on_unit:
            if _passes(instance, load.at, leg) and load.name in {known.name for known in instance.job.bike.loads}:
                yield Change(
                    kind="another way round",
                    effort=AVOID,
                    sentence=f"route the wire of {load.name} another way around {leg.label}",
                    make=lambda target, name=load.name, leg=leg: _avoiding(target, name, leg),  # type: ignore[misc]
                    slot=("avoid", load.name, leg.label),
                    acts="wires",
                    facts=altered("load", load.name, ["avoid"]),
                )


def _passes(instance: Instance, point: str | None, leg: Leg) -> bool:
    """Tell whether the shortest wire to a point passes a leg from some place, and there is a way without it."""
    network = instance.job.network
    number = network.legs.index(leg)
    closed = frozenset({number})
    for site in instance.sites:
        for face in ("front", "rear"):
            start = site.face(face)
            run = network.wire(start, point or start)
            if run and number in run.legs and network.wire(start, point or start, closed) is not None:
                return True
    return False


def _avoiding(target: Target, name: str, leg: Leg) -> Target:
    avoid = next(load.avoid for load in target[0].loads if load.name == name)
    return with_load(target, name, avoid=(*avoid, leg.label))


def opened_up(instance: Instance) -> Iterator[Change]:
    """Return each opening that can be opened up, as far as its file says."""
    for leg in instance.job.network.legs:
        if leg.opening is not None and leg.opens_to is not None and leg.opens_to > leg.opening:
            wider = f"from {millimetres(leg.opening)} to {millimetres(leg.opens_to)}"
            yield Change(
                kind="opened up",
                effort=OPEN,
                sentence=f"open up the {leg.opens} in {leg.label} {wider}",
                make=lambda target, leg=leg: _opened(target, leg),  # type: ignore[misc]
                slot=("opening", leg.label),
                acts="wires",
                facts=altered("leg", leg.label, ["opening"]),
                parts=(f"a grommet for an opening of {millimetres(leg.opens_to)} at {leg.label}",),
                only_helps=True,
            )


def _opened(target: Target, leg: Leg) -> Target:
    bike, unit = target
    legs = tuple(
        own.model_copy(update={"opening": own.opens_to}) if own.label == leg.label else own for own in bike.frame.legs
    )
    return bike.model_copy(update={"frame": bike.frame.model_copy(update={"legs": legs})}), unit


def places(instance: Instance) -> Iterator[Change]:
    """Return each frame point that is no place yet as one, unless only one place is allowed."""
    if instance.place is not None:
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
    bike, unit = target
    place = Place(name=name, front=point, rear=point)
    return bike.model_copy(update={"places": (*bike.places, place)}), unit

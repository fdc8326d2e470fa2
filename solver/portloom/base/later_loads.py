"""What may come to a bike one day: what its file says, else what usually comes."""

from portloom.base.bike import Bike, LaterLoad
from portloom.base.parts.loads import HEATED_GRIPS, SOCKET, SPOT_LAMP

USUAL_LATER: dict[str, LaterLoad] = {
    HEATED_GRIPS.name: LaterLoad.model_validate(
        {"name": HEATED_GRIPS.name, "power": "36 W", "kind": "heater", "mode": "dim"}
    ),
    SPOT_LAMP.name: LaterLoad.model_validate({"name": "auxiliary lamps", "power": "20 W", "kind": "led"}),
    SOCKET.name: LaterLoad.model_validate({"name": SOCKET.also[0], "current": "5 A"}),
}
"""What comes to a bike one day where its file does not say, by the part that each is."""


def later_of(bike: Bike) -> tuple[LaterLoad, ...]:
    """Return the loads that may come one day: those of the bike's file, else the usual ones that it does not have.

    A load is known by its part; a name says nothing, but no two loads may be called the same.
    """
    if bike.later is not None:
        return bike.later
    parts, names = {load.part for load in bike.loads}, {load.name for load in bike.loads}
    return tuple(later for part, later in USUAL_LATER.items() if part not in parts and later.name not in names)

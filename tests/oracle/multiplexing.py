"""What may go through a multiplexer, and the wires of one that stands somewhere."""

from collections.abc import Iterable
from dataclasses import dataclass

from .drive import Column
from .frame import Run
from .job import Laid
from .site import Site
from .things import InPort, Multiplexer, Switch


@dataclass(frozen=True)
class Stand:
    """A multiplexer in use: the point where it stands, its input, and the switches that go through it."""

    box: Multiplexer
    point: str
    port: InPort
    switches: tuple[Switch, ...]

    @property
    def sound(self) -> bool:
        """Tell whether it may stand there, on that input, with these switches."""
        ways = len(self.switches) if self.box.ways is None else self.box.ways
        return (
            self.point in self.box.points
            and port_takes(self.box, self.port)
            and 0 < len(self.switches) <= ways
            and all(goes_through(switch, self.box) for switch in self.switches)
        )


def goes_through(switch: Switch, box: Multiplexer) -> bool:
    """Tell whether a switch may go through a multiplexer."""
    if switch.held:
        return False
    return box.agreed or (not switch.straight and (switch.any_box or switch.signal in box.takes))


def port_takes(box: Multiplexer, port: InPort) -> bool:
    """Tell whether an input takes a multiplexer's data."""
    return box.agreed or "coded" in port.accepts


def way_column(site: Site, switch: Switch, point: str) -> Column | None:
    """Return the wire of a switch to a multiplexer at a point; None if there is no way."""
    return _thin(site, site.job.frame.tree(frozenset({point, *switch.ends})))


def wire_column(site: Site, point: str, port: InPort) -> Column | None:
    """Return one of the two equal wires, data and supply, from a point to an input; None if there is no way.

    There is none either where a return from there has no way to earth.
    """
    if all(site.job.frame.path(point, earth) is None for earth in site.bike.earth):
        return None
    return _thin(site, site.job.frame.path(point, site.faces[port.face]))


def return_column(site: Site, point: str) -> Column | None:
    """Return the return that a point has only because a multiplexer stands there; None if it has one anyway."""
    if (point, 0) in site.job.joints or all(site.job.frame.path(point, one) is None for one in site.bike.earth):
        return None
    return _thin(site, site.job.path(point, site.job.nearest_earth(point)))


def _thin(site: Site, run: Run | None) -> Column | None:
    if run is None:
        return None
    return Column(site.job.frame.length_um(run), (Laid(site.job.thin.diameter_um, run),), 0, None)


def stand_columns(site: Site, stand: Stand) -> list[Column | None]:
    """Return the wires of a multiplexer in use, without its return; None for one that can't be."""
    if not stand.sound:
        return [None]
    wire = wire_column(site, stand.point, stand.port)
    return [wire, wire, *(way_column(site, switch, stand.point) for switch in stand.switches)]


def return_columns(site: Site, stands: Iterable[Stand]) -> list[Column]:
    """Return the returns that only multiplexers need, one for each point."""
    points = dict.fromkeys(stand.point for stand in stands)
    found = (return_column(site, point) for point in points)
    return [column for column in found if column is not None]

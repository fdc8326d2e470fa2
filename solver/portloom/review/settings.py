"""Trips, wire sizes and the main fuse of a post: what was written, and the figures that it means."""

from collections.abc import Iterator
from dataclasses import field

from portloom.base.copper import BY_SIZE
from portloom.base.figures import amperes
from portloom.base.letters import quoted
from portloom.base.quantities import MilliAmps
from portloom.base.sizes import WireSize
from portloom.base.values import dataclass
from portloom.inputs.checks.wires import unknown_size
from portloom.inputs.problems import Flaw
from portloom.review.figures import SplitText, current_said, size_said
from portloom.review.post import PostedLine, TextCell


@dataclass(frozen=True)
class PostedSettings:
    """What outputs are set to and wired with, as far as it was posted, by the names of the outputs."""

    trips: dict[str, MilliAmps] = field(default_factory=dict)
    sizes: dict[str, WireSize] = field(default_factory=dict)
    main_fuse: MilliAmps | None = None


@dataclass(frozen=True)
class Beside:
    """The cells beside one output that tell its trip and its wire."""

    trips: tuple[TextCell, ...]
    sizes: tuple[TextCell, ...]


def beside(said: PostedLine, port: SplitText, things: tuple[SplitText, ...]) -> Beside:
    """Gather the figures of a line: its own, those beside the port, and those that stand among the things."""
    alone = tuple(cell for thing in things if not thing.name.text for cell in thing.currents)
    trips = (*port.trips, *port.currents, *(cell for thing in things for cell in thing.trips), *alone)
    sizes = (*port.sizes, *(cell for thing in things for cell in thing.sizes))
    return Beside(
        trips if said.trip is None else (said.trip, *trips), sizes if said.size is None else (said.size, *sizes)
    )


def note(figures: Beside, port: str, settings: PostedSettings) -> Iterator[Flaw]:
    """Note what an output is set to and wired with; return what can't be read and what says two things."""
    for cell in figures.trips:
        trip = current_said(cell.text, bare=True)
        if not trip:
            yield Flaw(cell.line, cell.column, f"'{quoted(cell.text)}' is not a trip", "write it such as 10 A")
        elif settings.trips.setdefault(port, trip) != trip:
            both = f"{port} trips at {amperes(settings.trips[port])} and at {amperes(trip)}"
            yield Flaw(cell.line, cell.column, both, "leave one of them out")
    for cell in figures.sizes:
        size = size_said(cell.text)
        if size is None:
            what = f"'{quoted(cell.text)}' is not a wire size"
            yield Flaw(cell.line, cell.column, what, "write it such as 1.5 mm2 or 16 AWG")
        elif size not in BY_SIZE:
            yield unknown_size(cell, size)
        elif settings.sizes.setdefault(port, size) != size:
            both = f"the wire of {port} is {settings.sizes[port].label} and {size.label}"
            yield Flaw(cell.line, cell.column, both, "leave one of them out")


def main_fuse_said(cell: TextCell) -> MilliAmps | Flaw:
    """Return the main fuse, or what can't be read."""
    fuse = current_said(cell.text, bare=True)
    return fuse or Flaw(cell.line, cell.column, f"'{quoted(cell.text)}' is not a fuse", "write it such as 30 A")

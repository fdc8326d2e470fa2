"""Outputs set and wired as somebody posted them, and what is wrong with that.

A trip that is posted is one of the output's listed values, carries 1.25 x the current, holds the inrush, and is
below the main fuse; the wire that is posted carries that trip in every leg, in its company too, drops no more than
the loads' limits, stands a short circuit, and fits the terminal. Where only one of the two is posted the other is
what the rules ask for.
"""

from collections.abc import Iterator, Sequence
from functools import cached_property

from portloom.base.ampacity import derated
from portloom.base.copper import BY_SIZE, Conductor
from portloom.base.figures import amperes, counted, limit_volts, lost_volts, peak_amperes, with_verb
from portloom.base.fuses import carries, holds_inrush, trip_for, trip_values
from portloom.base.nearest import or_list
from portloom.base.quantities import MilliAmps
from portloom.base.sizes import WireSize
from portloom.base.unit import Output
from portloom.job.circuits import OutputCircuit
from portloom.job.losses import Losses
from portloom.job.site import Site
from portloom.job.sizing import Unprotected
from portloom.job.wired import OutputWire, WiredOutput
from portloom.rules.company import carried_alone, leg_said


class AsPosted(WiredOutput):
    """A circuit whose output is set to a posted trip, or wired with a posted size, or both."""

    def __init__(
        self,
        like: WiredOutput,
        trip: MilliAmps | None,
        size: WireSize | None,
        conductor: Conductor | None = None,
    ) -> None:
        """Take the circuit as the rules would lay it, and what is posted of it."""
        set_so = OutputWire(like.site.job, like.tree, like.output, like.trip if trip is None else trip)
        super().__init__(like.site, like.losses, set_so, conductor)
        self._like = like
        self.posted_trip = trip
        self.posted_size = size

    def fed_at(self, site: Site, losses: Losses) -> "AsPosted":
        """Return the same circuit, set and wired as posted, with another main fuse or feed."""
        return AsPosted(self._like.fed_at(site, losses), self.posted_trip, self.posted_size)

    def sized(self, conductor: Conductor) -> "AsPosted":
        """Return the same circuit with a wire of another size."""
        return AsPosted(self._like, self.posted_trip, self.posted_size, conductor)

    @property
    def reels(self) -> Sequence[Conductor]:
        """The posted wire alone, whatever the shop has; else those that the trip allows."""
        if self.posted_size is None:
            return super().reels
        return (self.site.job.catalogue[self.posted_size],)

    @cached_property
    def serving(self) -> Sequence[Conductor]:
        """The posted wire, if it is right by itself; else those that serve."""
        if self.posted_size is None:
            return super().serving
        return () if wire_said(self) else self.reels


# --- trips


def set_wrong(circuit: OutputCircuit, output: Output, trip: MilliAmps) -> Iterator[str]:
    """Say what is wrong with an output's trip for a circuit, whatever its wire."""
    if not_listed := unlisted(output, trip):
        yield not_listed
    if trip_for(output, circuit.current, circuit.inrush) is None:
        return  # no setting is right, which the rule says already
    needed = MilliAmps(-(-5 * circuit.current // 4))
    if not carries(trip, circuit.current):
        yield (
            f"{output.name} is set to trip at {amperes(trip)}, and {with_verb(circuit.said, 'draws')} "
            f"{amperes(circuit.current)}: that needs {amperes(needed)} (1.25 x) at least"
        )
    elif not holds_inrush(output.trip_curve, trip, circuit.inrush):
        yield (
            f"{output.name} is set to trip at {amperes(trip)}, and trips on the "
            f"{peak_amperes(circuit.inrush.height)} that {with_verb(circuit.said, 'draws')} at switch-on"
        )


def unlisted(output: Output, trip: MilliAmps) -> str | None:
    """Say that an output can't be set to a trip."""
    values = trip_values(output)
    if trip in values:
        return None
    known = [amperes(value) for value in values]
    right = or_list(known) if known else "nothing within its limit"
    return f"{output.name} can't be set to trip at {amperes(trip)}: it can be set to {right}"


# --- wires


def wire_said(wired: AsPosted) -> str | None:
    """Say what is wrong with a circuit's wire where its trip or its size is posted; None where nothing is."""
    if wired.posted_size is None:
        return _no_reel(wired)
    wire = wired.site.job.catalogue[wired.posted_size]
    return terminal_said(wired.output, wire.size) or _carries(wired, wire) or _drops(wired, wire) or _melts(wired, wire)


def _no_reel(wired: AsPosted) -> str | None:
    """With a posted trip alone the wire is what the rules ask for, and there may be none."""
    if wired.reels:
        return None
    terminal, reels = wired.output.wire_max, wired.site.job.reels
    able = [reel for reel in reels if terminal is None or reel.size.area <= terminal.area]
    if not able:
        return f"no wire on the reels is thin enough for {wired.output.name}"
    carries_there = carried_alone(wired.site, able[-1], wired.run.legs)
    return (
        f"{_set_to(wired)} for {wired.circuit.said}, and {able[-1].size.label}, the thickest wire that may be "
        f"there, carries {carries_there}"
    )


def terminal_said(output: Output, size: WireSize) -> str | None:
    """Say that a posted wire is too thick for an output's terminal."""
    most = output.wire_max
    if most is None or size.area <= most.area:
        return None
    return f"{with_verb(output.name, 'takes')} wire of up to {most.label}, {size.label} is posted"


def wire_alone_said(output: Output, trip: MilliAmps | None, size: WireSize | None) -> Iterator[str]:
    """Say what is wrong with a posted wire alone, in no heat and no company: the most that it can carry."""
    if size is None:
        return
    too_thick = terminal_said(output, size)
    if too_thick is not None:
        yield too_thick
    carried = BY_SIZE[size].ampacity
    if trip is not None and carried < trip and unlisted(output, trip) is None:
        yield (
            f"{output.name} is set to trip at {amperes(trip)}, and its wire of {size.label} carries "
            f"{amperes(carried)} even where it runs alone and cool"
        )


def _carries(wired: AsPosted, wire: Conductor) -> str | None:
    legs, site = wired.run.legs, wired.site
    if wire.ampacity >= wired.trip and all(site.job.carries(wire, leg, 1, wired.trip) for leg in legs):
        return None
    return (
        f"{_set_to(wired)}, and the wire of {wire.size.label} that is posted for {wired.circuit.said} carries "
        f"{carried_alone(site, wire, legs)}"
    )


def _drops(wired: AsPosted, wire: Conductor) -> str | None:
    lost = wired.drops(wire)
    for load in wired.circuit.loads:
        if load.at and wired.losses.ever_on(load) and lost[load.name] > load.drop_limit:
            return (
                f"{load.name} would lose {lost_volts(lost[load.name])} with the wire of {wire.size.label} that is "
                f"posted on {wired.output.name}, it may lose {limit_volts(load.drop_limit)}"
            )
    return None


def _melts(wired: AsPosted, wire: Conductor) -> str | None:
    if wired.withstands(wire):
        return None
    return (
        f"a short circuit of {wired.circuit.said} on {wired.output.name} would heat the posted {wire.size.label}, or "
        f"thinner tails, above 160 C before the trip of {amperes(wired.trip)} opens"
    )


def in_company(site: Site, wired: AsPosted, wire: Unprotected) -> str:
    """Say that a posted wire is too thin beside what lies with it."""
    ambient = site.job.network.legs[wire.leg].ambient
    carried = derated(wire.thickest.ampacity, site.job.insulation, ambient, wire.loaded)
    return (
        f"the wire of {wired.circuit.said} on {wired.output.name}, {wire.thickest.size.label} as posted, must carry "
        f"its trip of {amperes(wired.trip)} in {leg_said(site, wire.leg)}, where "
        f"{counted(wire.loaded, 'loaded wire')} run together; it carries {amperes(carried)} there"
    )


def _set_to(wired: AsPosted) -> str:
    said = "is set to trip at" if wired.posted_trip is not None else "needs a trip of"
    return f"{wired.output.name} {said} {amperes(wired.trip)}"

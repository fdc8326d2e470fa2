"""A plan as it lies on the bike: the site, every circuit on its port, and the multiplexers with their switches."""

from collections.abc import Iterator
from dataclasses import replace
from itertools import count

from portloom.base.bike import Multiplexer, Switch
from portloom.base.quantities import Micrometres
from portloom.base.unit import Port
from portloom.base.values import dataclass
from portloom.job.circuits import InputCircuit
from portloom.job.fixed import lying
from portloom.job.losses import Losses
from portloom.job.network import Run
from portloom.job.site import Site
from portloom.job.wired import WiredOutput

WIRES_TO_UNIT = 2
"""Data and supply: what leads from a multiplexer to the face of its input."""


@dataclass(frozen=True)
class WiredInput:
    """Switches on an input, and their wire."""

    site: Site
    circuit: InputCircuit
    run: Run
    port: Port
    old: Run | None = None
    """The built part of its run, where that stays."""

    @property
    def new_run(self) -> Run:
        """What is laid anew."""
        return self.run if self.old is None else self.run.without(self.old)


@dataclass(frozen=True)
class MultiplexerStand:
    """A multiplexer at one of the frame points where it may sit."""

    multiplexer: Multiplexer
    at: str


@dataclass(frozen=True)
class WiredSwitch:
    """A switch on a way of a multiplexer, and its wire there."""

    site: Site
    switch: Switch
    run: Run
    stand: MultiplexerStand
    old: Run | None = None
    """Its run, where it is built and stays."""

    @property
    def new_run(self) -> Run:
        """What is laid anew."""
        return self.run if self.old is None else self.run.without(self.old)

    @property
    def circuit(self) -> InputCircuit:
        """The switch as a circuit of its own: no two share a way."""
        return InputCircuit((self.switch,))


@dataclass(frozen=True)
class WiredMultiplexer:
    """A multiplexer on an input; its data and its supply follow the same run."""

    site: Site
    stand: MultiplexerStand
    run: Run
    port: Port
    old: Run | None = None
    """Its run, where it is built and stays."""

    @property
    def new_run(self) -> Run:
        """What is laid anew."""
        return self.run if self.old is None else self.run.without(self.old)


@dataclass(frozen=True)
class Laid:
    """Every circuit with its wire; ``later`` are the free outputs given to later loads."""

    site: Site
    losses: Losses
    outputs: tuple[WiredOutput, ...]
    inputs: tuple[WiredInput, ...]
    later: tuple[WiredOutput, ...]
    switches: tuple[WiredSwitch, ...] = ()
    """Switches on the ways of multiplexers."""
    multiplexers: tuple[WiredMultiplexer, ...] = ()
    """Those that are used; the site has the returns that only they need."""

    def with_output(self, wired: WiredOutput) -> "Laid":
        """Return the same with one more circuit."""
        return replace(self, outputs=(*self.outputs, wired))

    def with_input(self, wired: WiredInput) -> "Laid":
        """Return the same with one more input circuit."""
        return replace(self, inputs=(*self.inputs, wired))

    def of(self, unit: Site) -> "Laid":
        """Return what is on one unit: all where it is the only one; the wires of the whole bike keep their sizes."""
        if len(self.site.units) == 1:
            return self
        site = unit.with_sizes(self.site.sizes)
        return replace(
            self,
            site=site,
            losses=Losses(site),
            outputs=tuple(wired for wired in self.outputs if wired.site.shares(unit)),
            inputs=tuple(wired for wired in self.inputs if wired.site.shares(unit)),
            later=tuple(wired for wired in self.later if wired.site.shares(unit)),
        )

    def told(self, unit: Site) -> Iterator[tuple[InputCircuit, Port | None]]:
        """Return what a unit is told: the switches on each input, and each one on a multiplexer's way, on no input."""
        yield from ((wired.circuit, wired.port) for wired in self.inputs if wired.site.shares(unit))
        yield from ((switch.circuit, None) for switch in self.switches if switch.site.shares(unit))

    def on_ways(self, box: WiredMultiplexer) -> tuple[WiredSwitch, ...]:
        """Return the switches on a multiplexer, way by way."""
        return tuple(wired for wired in self.switches if wired.stand == box.stand)

    def ways_of(self, box: WiredMultiplexer) -> tuple[tuple[int, WiredSwitch], ...]:
        """Return the same, each with its way's number: the built ones keep theirs, new ones take the first free."""
        built, on = self.site.job.built, self.on_ways(box)
        known = {} if built is None or box.old is None else built.ways(box.stand.multiplexer.name)
        kept = {wired.switch.name: known[wired.switch.name] for wired in on if wired.old is not None}
        free = (number for number in count(1) if number not in kept.values())
        numbers = [kept[name] if (name := wired.switch.name) in kept else next(free) for wired in on]
        return tuple(sorted(zip(numbers, on, strict=True), key=lambda pair: pair[0]))

    def ports_of(self, load: str) -> tuple[str, ...]:
        """Name the outputs that a load, or a relay's coil, is on."""
        return tuple(w.output.name for w in self.outputs if load in [one.name for one in w.circuit.loads])

    def wires(self) -> Iterator[tuple[tuple[int, ...], Micrometres]]:
        """Return every wire's legs and outer diameter: new ones, and all that was built before, in use or not."""
        for wired in self.outputs:
            yield wired.new_legs, wired.drawn.diameter
        for switches in self.inputs:
            yield switches.new_run.legs, self.site.job.reels[0].diameter
        for switch in self.switches:
            yield switch.new_run.legs, self.site.job.reels[0].diameter
        for box in self.multiplexers:
            yield from [(box.new_run.legs, self.site.job.reels[0].diameter)] * WIRES_TO_UNIT
        for legs, diameter, times in lying(self.site):
            yield from [(legs, diameter)] * times

    @property
    def legs_in_use(self) -> tuple[int, ...]:
        """The numbers of the legs in which a wire lies that is not alongside, sorted."""
        fixed = (wire.run.legs for wire in self.site.fixed_wires if wire.kind != "alongside")
        used = {number for wired in self.outputs for number in wired.legs}.union(*fixed)
        used.update(*(switches.run.legs for switches in self.inputs))
        used.update(*(switch.run.legs for switch in self.switches))
        used.update(*(box.run.legs for box in self.multiplexers))
        return tuple(sorted(used))

    def diameters_in(self, leg: int) -> list[Micrometres]:
        """Return the outer diameter of every wire in the leg of this number; one that passes it twice is two there."""
        return [diameter for legs, diameter in self.wires() for _ in range(legs.count(leg))]

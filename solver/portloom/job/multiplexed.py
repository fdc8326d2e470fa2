"""Multiplexers laid: where each stands, the switches wired to it, its data and supply to an input."""

from dataclasses import dataclass

from portloom.base.bike import Multiplexer, Switch
from portloom.base.unit import Port
from portloom.job.circuits import InputCircuit
from portloom.job.network import Run
from portloom.job.site import Site

WIRES_TO_UNIT = 2
"""Data and supply: what leads from a multiplexer to the face of its input."""


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

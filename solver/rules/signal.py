"""Inputs: the port reads the signal, and switches that share a port say the same."""

from collections.abc import Iterator
from decimal import Decimal
from fractions import Fraction

from solver.job.circuits import InputCircuit
from solver.job.job import Job
from solver.job.losses import Losses
from solver.job.site import Site
from solver.rules.facts import Fact, at_switch
from solver.rules.shapes import Rule, Said
from solver.words.bike import Switch
from solver.words.figures import plain, volts
from solver.words.quantities import MilliHertz, MilliVolts
from solver.words.unit import Port


def _fit(circuit: InputCircuit, port: Port) -> Said:
    for switch in circuit.switches:
        if switch.signal not in port.accepts:
            return f"{switch.name} gives a signal of kind '{switch.signal}', {port.name} does not read that"
        if said := _pulses(switch, port):
            return said
    return None


def _pulses(switch: Switch, port: Port) -> Said:
    if switch.signal != "pulse" or port.pulse is None:
        return None
    if switch.level is not None and switch.level > port.pulse.up_to:
        return f"{switch.name} pulses up to {_volts(switch.level)}, {port.name} takes {_volts(port.pulse.up_to)}"
    if switch.rate is not None and switch.rate > port.pulse.rate:
        return f"{switch.name} pulses at {_hertz(switch.rate)}, {port.name} counts up to {_hertz(port.pulse.rate)}"
    return None


def _volts(voltage: MilliVolts) -> str:
    return f"{plain(Decimal(voltage) / 1000)} V"


def _hertz(rate: MilliHertz) -> str:
    return f"{plain(Decimal(rate) / 1000)} Hz"


def _pair(one: Switch, other: Switch) -> Said:
    both = f"{one.name} and {other.name} can't share an input"
    if one.share is None or one.share != other.share:
        return f"{both}: they name no common share group"
    if set(one.operates) != set(other.operates) or set(one.tells) != set(other.tells):
        return f"{both}: they do not operate and tell the same"
    if one.normally != other.normally:
        return f"{both}: one is open at rest, the other closed"
    if one.signal != other.signal:
        return f"{both}: they do not pull the same way"
    return None


def _earth_lift(site: Site) -> Said:
    """At a switch to earth, what else flows in the joint return must not lift the earth too far."""
    limit, losses = 1000 * site.job.assume["switch earth lift"], Losses(site)
    for switch in site.job.bike.inputs:
        for point in switch.at if switch.signal == "earth" else ():
            lift = max(losses.behind(point))
            if lift > limit:
                return (
                    f"at {switch.name} the joint return from {point} lifts the earth by {volts(lift)}, "
                    f"an input is sure to read it up to {volts(Fraction(limit))}"
                )
    return None


def input_for(signal: str) -> str:
    """Say what switches that all give this signal need."""
    return f"an input that reads '{signal}'"


def _facts(job: Job) -> Iterator[Fact]:
    for switch in job.bike.inputs:
        sentence = f"{switch.name} gives a signal of kind '{switch.signal}'"
        at = at_switch(job, switch.name, "signal")
        yield Fact(("signal", switch.name), "signal", switch.name, sentence, at)


RULE = Rule(
    slug="signal",
    protects="that every switch and sensor is read, and read right",
    source="the unit's profile; common practice, no source",
    input_pair=_pair,
    input_fit=_fit,
    place_fit=_earth_lift,
    facts=_facts,
)

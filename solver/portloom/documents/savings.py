"""What a multiplexer saves: the best plan against the best one without it."""

from collections.abc import Iterator
from typing import Literal

from portloom.base.quantities import Micrometres
from portloom.base.values import dataclass
from portloom.documents.looms import looms
from portloom.job.goal import Priced, cost_of_plan
from portloom.job.laid import Laid


@dataclass(frozen=True)
class LegSaving:
    """A leg whose loom a multiplexer changes: wires and diameter with its sleeve, now and without it."""

    name: str
    wires: int
    wires_without: int
    diameter: Micrometres
    diameter_without: Micrometres


@dataclass(frozen=True)
class Savings(Priced):
    """What the best plan without a multiplexer takes more: less than nothing where it takes less of a part."""

    place: str
    """Where the unit sits without it, and which way round; empty where that is the same."""
    inputs: int
    legs: tuple[LegSaving, ...]
    proven: bool
    """False where a limit left one of the two plans unproved."""


Saves = Savings | Literal["no plan", "unknown"]
"""Without it nothing fits, or a limit was reached before that was known."""


def savings(laid: Laid, without: Laid, *, proven: bool) -> Savings:
    """Compare a plan with the best one without one of its multiplexers."""
    here, there = laid.site.label, without.site.label
    return Savings(
        place=there if there != here else "",
        costs=cost_of_plan(without) - cost_of_plan(laid),
        inputs=inputs_used(without) - inputs_used(laid),
        legs=tuple(_legs(laid, without)),
        proven=proven,
    )


def inputs_used(laid: Laid) -> int:
    """Return how many inputs a plan takes."""
    return len(laid.inputs) + len(laid.multiplexers)


def _legs(laid: Laid, without: Laid) -> Iterator[LegSaving]:
    for leg, now, then in zip(laid.site.job.network.legs, looms(laid), looms(without), strict=True):
        if now != then:
            yield LegSaving(leg.label, now.wires, then.wires, now.diameter, then.diameter)

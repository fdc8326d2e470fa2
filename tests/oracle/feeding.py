"""Loads that no output feeds: a fuse at the battery, then a relay there, or a switch of the load's own on the way.

Source: common practice, no source. A switch behind a fuse carries the load's current, one of a relay its coil's.
"""

from collections.abc import Iterable
from dataclasses import dataclass
from fractions import Fraction
from typing import TYPE_CHECKING

from .catalogue import Wire
from .frame import Run
from .fuses import step_from
from .losses import fuse_mohm
from .things import Load

if TYPE_CHECKING:
    from .job import Job


@dataclass(frozen=True)
class Stretch:
    """One wire: where it starts, its legs, and those on the way of the load's current, in order."""

    start: str
    run: Run
    way: tuple[int, ...]


@dataclass(frozen=True)
class Fed:
    """A load fed by relay or fuse: its fuse, its wires, sizes from the first up.

    `coil` are the legs of the wire from a relay's coil to the switch of its own, `mohm` is what fuse, contact,
    switch, connectors and plug resist.
    """

    load: Load
    fuse_ma: int
    wires: tuple[Stretch, ...]
    coil: Run
    sizes: tuple[Wire, ...]
    mohm: Fraction


def fed_load(job: "Job", load: Load) -> Fed | None:
    """Return the wires from the battery to a load that a fuse or relay feeds; None where no fuse or wire serves."""
    fuse, wires = step_from(Fraction(5 * load.current_ma, 4)), _wires(job, load)
    if fuse is None or wires is None:
        return None
    mohm = fuse_mohm(fuse) + _contacts_mohm(job, load, wires)
    left = min(_left_uv(job, load), default=None)
    able = (
        number
        for number, wire in enumerate(job.bike.reels)
        if wire.carries_ma >= fuse and (left is None or lost_uv(job, load, mohm, wires, wire) <= left)
    )
    first = next(able, None)
    return None if first is None else Fed(load, fuse, wires, _coil_wire(job, load), job.bike.reels[first:], mohm)


def lost_uv(job: "Job", load: Load, mohm: Fraction, wires: Iterable[Stretch], wire: Wire) -> Fraction:
    """Return what is lost (uV) from the battery to a load in a size."""
    return (mohm + sum(job.legs_mohm(stretch.way, wire) for stretch in wires)) * load.current_ma


def _left_uv(job: "Job", load: Load) -> list[Fraction]:
    """Return what may be lost (uV) before the load, in each case in which it is on."""
    on = (number for number, case in enumerate(job.cases) if case.has_on(load))
    return [job.drop_limit_uv(load) - job.behind_uv(job.steady, load, number) for number in on]


def _wires(job: "Job", load: Load) -> tuple[Stretch, ...] | None:
    """Return its wires, each the shortest way; None where there is none."""
    targets = frozenset({load.at, *(tap.at for tap in load.taps)})
    if load.fed == "relay" or not load.own_switch:
        ways = [(job.bike.battery, targets, load.at)]
    else:
        ways = [(job.bike.battery, frozenset({load.own_switch}), load.own_switch), (load.own_switch, targets, load.at)]
    found = []
    for start, ends, target in ways:
        tree = job.without_legs(load.avoid).tree(ends | {start})
        if tree is None:
            return None
        found.append(Stretch(start, tree, job.frame.paths_in(tree, start)[target]))
    return tuple(found)


def _contacts_mohm(job: "Job", load: Load, wires: Iterable[Stretch]) -> Fraction:
    contacts = job.bike.contacts
    passed = contacts.relay_contact if load.fed == "relay" else contacts.own_switch if load.own_switch else 0
    connectors = sum(job.connectors_in(stretch.start, stretch.way) for stretch in wires)
    return contacts.load_plug + passed + contacts.connector * connectors


def _coil_wire(job: "Job", load: Load) -> Run:
    """Return the legs from a relay, at the battery, to the switch that earths its coil; none without such a switch."""
    coil_switched = load.fed == "relay" and load.own_switch
    return job.path(job.bike.battery, load.own_switch) if coil_switched else frozenset()

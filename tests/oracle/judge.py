"""Whether a whole plan at a site keeps the rules, and its exact cost; no solver."""

from collections.abc import Iterable
from dataclasses import dataclass

from .circuits import Circuit
from .drive import Column
from .job import Laid
from .matched import matched
from .multiplexing import Stand, return_columns, stand_columns
from .site import Site
from .things import InPort, Later, Leg, Output, Switch
from .wired import Wired


@dataclass(frozen=True)
class Plan:
    """What is on which port."""

    outputs: tuple[tuple[Circuit, Output], ...]
    inputs: tuple[tuple[tuple[Switch, ...], InPort], ...]
    later: tuple[tuple[Later, Output], ...]
    stands: tuple[Stand, ...] = ()


@dataclass(frozen=True, order=True)
class Optimum:
    """The least cost (um) at a place, and the smallest main fuse (mA) with which a plan there costs no more."""

    cost_um: int
    fuse_ma: int


@dataclass(frozen=True)
class Result:
    """The optimum of each (place, turned), None where nothing fits."""

    per_site: dict[tuple[str, bool], Optimum | None]

    @property
    def feasible(self) -> bool:
        """Whether there is a plan at all."""
        return any(self.per_site.values())

    @property
    def cost_um(self) -> int | None:
        """The least cost (um) of all; None where nothing fits."""
        return min((cost for cost in self.per_place.values() if cost is not None), default=None)

    @property
    def per_place(self) -> dict[tuple[str, bool], int | None]:
        """The least cost (um) of each (place, turned)."""
        return {at: best.cost_um if best else None for at, best in self.per_site.items()}


def room_kept(site: Wired, laid: Iterable[Laid]) -> bool:
    """Tell whether every opening holds the wires that pass it.

    25 x sum d^2 <= 16 x room^2, and no two wires with d1 + d2 above the room.
    """
    wires = list(laid)
    return all(leg_holds(leg, wires) for leg in site.bike.legs)


def leg_holds(leg: Leg, wires: Iterable[Laid]) -> bool:
    """Tell whether the opening of one leg holds those of some wires that pass it."""
    here = sorted(wire.diameter_um for wire in wires if leg.number in wire.run)
    if leg.room_um is None or not here:
        return True
    if leg.room_um < 0 or 25 * sum(d * d for d in here) > 16 * leg.room_um**2:
        return False
    return sum(here[-2:]) <= leg.room_um


def links_kept(site: Site, plan: Plan) -> bool:
    """Tell whether the switches tell what the circuits ask for, and `follow` has its switch."""
    for held, output in plan.outputs:
        if not site.suffices(held):
            return False
        following = [switch for switches, port in plan.inputs if port.name == output.follow for switch in switches]
        following += site.bike.gone_switches
        if output.follow and not any(held.names <= switch.operates for switch in following):
            return False
    return True


def totals_kept(site: Site, plan: Plan) -> bool:
    """Tell whether every bank and the unit carry what is on, in every case, later loads too."""
    drawing = [(held.names, held.steady_ma, output.bank) for held, output in plan.outputs]
    drawing += [(frozenset({x.load.name}), x.load.current_ma, output.bank) for x, output in plan.later]
    for case in site.job.cases:
        on = [(ma, bank) for held, ma, bank in drawing if held & case.on]
        if sum(ma for ma, _ in on) > site.unit.limit_ma:
            return False
        for name, limit in site.unit.banks.items():
            if sum(ma for ma, bank in on if bank == name) > limit:
                return False
    return True


def later_fits(site: Site, later: Later, output: Output) -> bool:
    """Tell whether a free output takes a later load."""
    return site.takes_later(Circuit((later.load,), ()), output)


def cost_um(site: Site, plan: Plan) -> int | None:
    """Return the exact cost (um) of a plan at a site; None if it breaks a rule."""
    if not (site.sound and links_kept(site, plan) and totals_kept(site, plan) and matched(site.bike, plan.outputs)):
        return None
    columns: list[Column | None] = [site.output_column(held, output) for held, output in plan.outputs]
    columns += [site.input_column(switches, port) for switches, port in plan.inputs]
    columns += [column for stand in plan.stands for column in stand_columns(site, stand)]
    columns += return_columns(site, plan.stands)
    able = [column for column in columns if column is not None]
    if len(able) < len(columns) or not all(later_fits(site, later, output) for later, output in plan.later):
        return None
    laid = site.laid(able)
    if laid is None or not _covers(site, plan) or not room_kept(site, laid):
        return None
    placed = {later.load.name for later, _ in plan.later}
    lost = sum(later.worth_um for later in site.bike.later if later.load.name not in placed)
    return site.fixed_um() + sum(column.cost_um for column in able) + lost


def _covers(site: Site, plan: Plan) -> bool:
    """Tell whether each load, switch, port and multiplexer is used once, no more."""
    loads = sorted(name for held, _ in plan.outputs for name in held.names)
    held_by = [held for held, _ in plan.inputs] + [stand.switches for stand in plan.stands]
    switches = sorted(switch.name for held in held_by for switch in held)
    boxes = [stand.box.name for stand in plan.stands]
    ports = [output.name for _, output in (*plan.outputs, *plan.later) if not output.many]
    taken = [port for _, port in plan.inputs] + [stand.port for stand in plan.stands]
    inputs = [port.name for port in taken if not port.many]
    return (
        loads == sorted(load.name for load in site.bike.loads if load.on_unit)
        and switches == sorted(switch.name for switch in site.bike.switches)
        and len(ports) == len(set(ports))
        and len(inputs) == len(set(inputs))
        and len(boxes) == len(set(boxes))
    )

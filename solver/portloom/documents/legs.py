"""The legs that a plan uses, where each is worth something: beside the best plan with every leg open."""

from portloom.base.quantities import Micrometres
from portloom.base.values import dataclass
from portloom.documents.amounts import Json, cost_json, thousandth
from portloom.job.goal import Cost, Priced, cost_of_plan
from portloom.job.laid import Laid

EXPLAINED = (
    "weights.leg: what is in the way, and what would change that, is told with every leg open and each wire its "
    "shortest way; with fewer legs more may be possible, and 'portloom plan' looks at these, too"
)
"""What explanations do not cover where legs are chosen."""
POSTED = (
    "which legs are in use: by weights.leg only the best plan chooses them; the posted one is judged and mended with "
    "every leg open, each wire its shortest way"
)
"""What the check of a posted plan does not judge where legs are chosen."""


@dataclass(frozen=True)
class AllOpen:
    """The best plan with every leg open, each wire its shortest way, beside a plan that chose its legs."""

    used: int
    """How many legs it uses."""
    costs: Cost
    """What the plan that chose its legs costs more than this one; less than nothing where it costs less."""
    dropped: tuple[str, ...]
    """The legs that it uses, and the plan that chose does not."""
    added: tuple[str, ...]
    """The legs that only the plan that chose uses."""
    less_to_sleeve: int
    """How many legs fewer have anything in them; less than nothing where they are more."""
    seat: str
    """Where the unit sits in it; empty where that is the same."""
    proven: bool
    """False where a limit left one of the two plans unproved."""


@dataclass(frozen=True)
class LegsChosen:
    """The legs of a plan that chose them."""

    worth: Micrometres
    """What a leg in use is worth, as wire."""
    used: int
    not_used: tuple[str, ...]
    alongside: tuple[str, ...]
    """Of the legs that are not used those in which something lies that is alongside."""
    all_open: AllOpen | None
    """None where nothing fits with every leg open, or that is not known."""
    none_open: bool = False
    """Proved: with every leg open nothing fits."""


@dataclass(frozen=True)
class LegTradeOff(Priced):
    """A plan at a corner of the hull between legs in use and all else; what its legs are worth is not in its cost."""

    used: int
    not_used: tuple[str, ...]
    place: str
    turned: bool


@dataclass(frozen=True)
class LegTradeOffs:
    """The corners, most legs first, each proven the best for some worth of a leg."""

    corners: tuple[LegTradeOff, ...]
    complete: bool
    """False where a limit ended the search for more."""


def leg_trade_off(laid: Laid) -> LegTradeOff:
    """Return a plan as a corner of the hull."""
    costs, site = cost_of_plan(laid), laid.site
    legs, used = site.job.network.legs, laid.legs_in_use
    return LegTradeOff(
        costs=Cost(costs.wire_run, costs.spare_port_loss),
        used=len(used),
        not_used=tuple(leg.label for number, leg in enumerate(legs) if number not in used),
        place=site.place.name,
        turned=site.turned,
    )


def leg_trade_offs_json(offs: LegTradeOffs) -> Json:
    """Return the trade-offs between legs and all else as they stand in a plan's JSON."""
    corners = (
        {"legs_in_use": one.used, "not_used": list(one.not_used), "place": one.place, "turned": one.turned,
         **cost_json(one.costs)}
        for one in offs.corners
    )  # fmt: skip
    return {"corners": list(corners), "complete": offs.complete}


def legs_chosen(laid: Laid, all_open: AllOpen | None, *, none_open: bool) -> LegsChosen:
    """Return the legs of a plan, beside what there is with every leg open."""
    legs, used = laid.site.job.network.legs, laid.legs_in_use
    not_used = [number for number in range(len(legs)) if number not in used]
    held = _filled(laid)
    return LegsChosen(
        worth=Micrometres(1000 * laid.site.job.bike.weights.leg),
        used=len(used),
        not_used=tuple(legs[number].label for number in not_used),
        alongside=tuple(legs[number].label for number in not_used if number in held),
        all_open=all_open,
        none_open=none_open,
    )


def _filled(laid: Laid) -> set[int]:
    """Return the legs in which anything lies at all."""
    return {number for legs, _ in laid.wires() for number in legs}


def beside_all_open(laid: Laid, all_open: Laid, *, proven: bool) -> AllOpen:
    """Compare a plan that chose its legs with the best one with every leg open."""
    here, there = set(laid.legs_in_use), set(all_open.legs_in_use)
    labels = [leg.label for leg in laid.site.job.network.legs]
    seat = all_open.site.label
    return AllOpen(
        used=len(there),
        costs=cost_of_plan(laid) - cost_of_plan(all_open),
        dropped=tuple(labels[number] for number in sorted(there - here)),
        added=tuple(labels[number] for number in sorted(here - there)),
        less_to_sleeve=len(_filled(all_open)) - len(_filled(laid)),
        seat="" if seat == laid.site.label else seat,
        proven=proven,
    )


def legs_json(legs: LegsChosen) -> Json:
    """Return the legs that a plan chose as they stand in its JSON."""
    return {
        "leg_worth_mm": thousandth(legs.worth),
        "used": legs.used,
        "not_used": list(legs.not_used),
        "alongside_only": list(legs.alongside),
        "with_every_leg_open": _open_json(legs),
    }


def _open_json(legs: LegsChosen) -> Json:
    other = legs.all_open
    if other is None:
        return {"status": "no plan" if legs.none_open else "unknown"}
    return {
        "status": "planned",
        "used": other.used,
        "used_there_alone": list(other.dropped),
        "used_here_alone": list(other.added),
        "more_wire_run_mm": thousandth(other.costs.wire_run),
        "more_spare_port_loss_mm": thousandth(other.costs.spare_port_loss),
        "fewer_to_sleeve": other.less_to_sleeve,
        **({"sits": other.seat} if other.seat else {}),
        "both_proven": other.proven,
    }

"""The legs that a plan chose, as an electrician reads them."""

from collections.abc import Iterator
from itertools import pairwise

from portloom.base.figures import capital, counted, listed, seat_phrase
from portloom.base.quantities import Micrometres
from portloom.documents.legs import AllOpen, LegsChosen, LegTradeOffs
from portloom.report.text.layout import Page, TableColumn, metres


def write_legs(legs: LegsChosen, page: Page) -> None:
    """Write which legs hold a wire, and what their worth changed."""
    page.heading("Legs in use")
    page.line(f"  {capital(counted(legs.used, 'leg'))} in use, each worth {metres(legs.worth)} of wire.")
    if legs.not_used:
        page.line(f"  Not in use: {listed(legs.not_used)}.")
    if legs.alongside:
        page.line(f"  Only what is alongside lies in {listed(legs.alongside)}: that is sleeved all the same.")
    for line in _changed(legs):
        page.line(f"  {line}")


CORNERS: tuple[TableColumn, ...] = (
    ("legs", "right"), ("wire run", "right"), ("spare-port loss", "right"), ("together", "right"), ("place", "left"),
    ("not in use", "left"),
)  # fmt: skip


def write_leg_trade_offs(offs: LegTradeOffs, page: Page) -> None:
    """Write the corners between legs in use and all else."""
    page.heading("Trade-offs: fewer legs against more wire, each proven the best for some worth of a leg")
    rows = [
        [str(one.used), metres(one.wire_run), metres(one.spare_port_loss), metres(one.cost),
         seat_phrase(one.place, turned=one.turned), ", ".join(one.not_used) or "-"]
        for one in offs.corners
    ]  # fmt: skip
    page.table(CORNERS, rows)
    for one, other in pairwise(offs.corners):
        fewer, more = one.used - other.used, other.cost - one.cost
        page.line(f"  {other.used} legs rather than {one.used}: where a leg is worth more than {_each(more, fewer)}.")
    if not offs.complete:
        page.line("  A limit was reached: there may be more.")


def _each(more: int, fewer: int) -> str:
    """Return what each leg that is saved takes, rounded up to the millimetre."""
    return metres(Micrometres(-(-more // (1000 * fewer)) * 1000))


def _changed(legs: LegsChosen) -> Iterator[str]:
    """Say what is other than with every leg open and each wire its shortest way."""
    other = legs.all_open
    if legs.none_open:
        yield "With every leg open, each wire its shortest way, nothing fits."
    elif other is None:
        yield "What the plan would be with every leg open is not known: the time limit was reached."
    elif other.dropped or other.added or other.seat:
        yield f"Beside the best plan with every leg open, {_difference(other)}."
        if not other.proven:
            yield "One of the two is not proved the best: the limit was reached."
    else:
        yield "With every leg open the plan is the same: no leg is worth saving."


def _difference(other: AllOpen) -> str:
    legs = f"{listed(other.dropped)} {'is' if len(other.dropped) == 1 else 'are'} not used" if other.dropped else ""
    instead = f"{listed(other.added)} {'is' if len(other.added) == 1 else 'are'} used instead" if other.added else ""
    what = ", ".join(filter(None, (legs, instead))) or "the legs are the same"
    parts = [_more(other.costs.wire_run, "of wire"), _more(other.costs.spare_port_loss, "of spare-port loss")]
    fewer = other.less_to_sleeve
    sleeved = f"{counted(abs(fewer), 'leg')} {'less' if fewer > 0 else 'more'} to sleeve" if fewer else ""
    sits = f"with every leg open the unit would sit {other.seat}" if other.seat else ""
    return f"{what}: {', '.join(filter(None, (*parts, sleeved, sits)))}"


def _more(length: Micrometres, what: str) -> str:
    if not length:
        return "" if what != "of wire" else "no more wire"
    return f"{metres(Micrometres(abs(length)))} {'more' if length > 0 else 'less'} {what.removeprefix('of ')}"

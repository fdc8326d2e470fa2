"""What is decided of ports, what it costs, and what to lift first, as an electrician reads it."""

from collections.abc import Callable, Iterator

from portloom.base.figures import capital, listed
from portloom.base.quantities import Micrometres
from portloom.explaining.decisions import DecisionPrice, DecisionPrices, LiftedTogether
from portloom.explaining.loom_change import LoomChange
from portloom.job.goal import Cost
from portloom.report.text.layout import Page, metres
from portloom.report.text.places import Places

PROVED_SETS = "no other set of as many saves more"
PROVED_LEAST = "without fewer than the first nothing fits, and with no other set of as many it costs less"
NOT_KNOWN = "not known: the time limit was reached"


def write_decisions(decisions: DecisionPrices, page: Page) -> None:
    """Write each thing that is decided with its price, the price of all together, and what to lift first."""
    page.heading("What is decided in the bike's file, and what it costs")
    if not decisions.each:
        page.line("  Nothing is decided of ports there.")
        return
    places = Places()
    page.items([f"{one.sentence} ({places.said(one.where)}): {_cost_of(one)}" for one in decisions.each])
    if not decisions.fits:
        page.line(f"  {_nothing_fits(decisions)}")
    elif len(decisions.each) > 1:
        page.line(f"  All of it together: {_costs(decisions.together)}.")
    if decisions.fits_without and len(decisions.each) > 1:
        _write_lifted(decisions, page)


def _nothing_fits(decisions: DecisionPrices) -> str:
    if not decisions.fits_without:
        return "Nothing fits with it, proved, nor without all of it: what else is in the way stands above."
    return "Nothing fits with all of it, proved."


def _write_lifted(decisions: DecisionPrices, page: Page) -> None:
    page.heading("What to lift first")
    page.items([f"{_lift(one)}: {_saves(one)}" for one in decisions.lifted])
    if not decisions.complete:
        page.line("  Not every set was tried: others may save more.")
    elif decisions.lifted:
        page.line(f"  Proved: {PROVED_SETS if decisions.fits else PROVED_LEAST}.")
    else:
        page.line("  Nothing is saved by lifting any of it, nor all of it, proved.")


def _lift(one: LiftedTogether) -> str:
    return capital(listed([f"'{sentence}'" for sentence in one.sentences]))


def _saves(one: LiftedTogether) -> str:
    if one.saved is None:
        said = f"then it fits, at {listed(in_parts(one.cost, metres))}"
    else:
        said = listed(list(_saved(one.saved))) or "saves nothing in wire and spare ports"
    loom = [f"then the plan {words}" for words in beside(one.loom)] if one.loom is not None else []
    rest = ["all that can be saved"] if one.all_of_it and one.saved is not None else []
    return "; ".join((said, *loom, *rest))


def _saved(price: Cost) -> Iterator[str]:
    parts = in_parts(price, _signed)
    whole = f"{_signed(price.total)}: " if len(parts) > 1 else ""
    if parts:
        yield f"saves {whole}{' and '.join(parts)}"


def _cost_of(one: DecisionPrice) -> str:
    if one.fits_without is not None:
        return "it fits without it alone" if one.fits_without else "nothing fits without it alone either"
    loom = "" if one.loom is None else "".join(f"; the plan without it {words}" for words in beside(one.loom))
    on = f"; without it, on {one.without}" if one.without else ""
    return f"{_costs(one.price)}{loom}{on}"


def _costs(price: Cost | None) -> str:
    if price is None:
        return NOT_KNOWN
    parts = in_parts(price, _signed)
    whole = f"{_signed(price.total)}: " if len(parts) > 1 else ""
    return f"costs {whole}{' and '.join(parts)}" if parts else "costs nothing"


def _signed(length: Micrometres) -> str:
    """Say a length; one that is won by what costs elsewhere is less than nothing."""
    return f"-{metres(Micrometres(-length))}" if length < 0 else metres(length)


def in_parts(price: Cost, said: Callable[[Micrometres], str]) -> list[str]:
    """Return wire, spare ports and legs in use, as far as there are any."""
    parts = (
        (price.wire_run, "of wire"), (price.spare_port_loss, "in spare ports"), (price.legs_in_use, "in legs in use"),
    )  # fmt: skip
    return [f"{said(length)} {what}" for length, what in parts if length]


def beside(change: LoomChange) -> Iterator[str]:
    """Say what is touched and opened of a built loom that is not without it, and what is not that is without it."""
    said = (
        (change.touched, "touches {}, too"), (change.spared, "does not touch {}"),
        (change.opened, "opens {}, too"), (change.left_closed, "does not open {}"),
    )  # fmt: skip
    yield from (words.format(listed(names)) for names, words in said if names)

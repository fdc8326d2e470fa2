"""The first line of a comparison: which unit to buy."""

from collections.abc import Sequence

from portloom.base.figures import capital, listed, number_word
from portloom.comparing.buying import ToBuy
from portloom.comparing.tables import AcrossBikes
from portloom.report.text.layout import metres

MOST_NAMED = 2
"""So many units that do not do, and rules that are set aside, are named."""


def what_to_buy(buy: ToBuy, set_aside: Sequence[str] = ()) -> str:
    """Say what takes every bike for the least, and what is less but takes fewer; rules set aside come first."""
    parts = [_best(buy), *_open(buy), *(_less(buy) if buy.by_price or buy.best is None else ())]
    return f"{capital(_without(tuple(dict.fromkeys(set_aside))) + '; '.join(parts))}."


def _without(rules: Sequence[str]) -> str:
    """Name a few rules that are set aside, count more; nothing where there is none."""
    if not rules:
        return ""
    if len(rules) > MOST_NAMED:
        return f"with {number_word(len(rules))} rules set aside (see below), "
    return f"with rule{'s' if len(rules) > 1 else ''} {listed(tuple(rules))} set aside, "


def _best(buy: ToBuy) -> str:
    if buy.best is None:
        return _nothing(buy)
    what, every = buy.best.unit, _every(buy)
    if buy.tried == 1:
        return f"the {what} takes {every}{'' if buy.best.price is None else f', {buy.best.price}'}"
    if buy.by_price:
        known = " known" if buy.not_known else ""
        return f"cheapest{known} that takes {every}: {what}, {buy.best.price}"
    length = "-" if buy.best.cost is None else metres(buy.best.cost)
    none = f"{_named(buy.unpriced)} {'has' if len(buy.unpriced) == 1 else 'have'} no price"
    return f"least wire and spare ports of all that take {every}: {what}, {length} ({none})"


def _nothing(buy: ToBuy) -> str:
    what = f"the {buy.less[0].unit}" if buy.tried == 1 else f"none of the {buy.tried} tried"
    if buy.not_known:
        return f"{what} is {'not ' if buy.tried == 1 else ''}known to take {_every(buy)}"
    return f"{what} {'does not take' if buy.tried == 1 else 'takes'} {_every(buy)}, proved"


def _every(buy: ToBuy) -> str:
    return {1: "it" if buy.best else "the bike", 2: "both"}.get(buy.bikes, f"all {number_word(buy.bikes)}")


def _open(buy: ToBuy) -> Sequence[str]:
    """Say of what it is not known."""
    if not buy.not_known:
        return ()
    return (f"it is not known of {_priced(buy.not_known)}: the time limit was reached",)


def _less(buy: ToBuy) -> Sequence[str]:
    """Say what is less: of one bike which do not take it, of several which takes most of them."""
    proved = [one for one in buy.less if one not in buy.not_known]
    if not proved or (buy.best is None and buy.bikes == 1):
        return ()
    if buy.bikes == 1:
        return (f"{_priced(proved[::-1])} {'does' if len(proved) == 1 else 'do'} not",)
    most = proved[0].fits
    return (f"{_priced(proved[:1])} takes {'none' if most == 0 else number_word(most)}",)


def _priced(units: Sequence[AcrossBikes]) -> str:
    return _named([f"the {one.unit}{'' if one.price is None else f' at {one.price}'}" for one in units])


def _named(units: Sequence[str]) -> str:
    """List a few; count the rest."""
    more = len(units) - MOST_NAMED
    return listed([*units[:MOST_NAMED], f"{more} more"]) if more > 1 else listed(list(units))

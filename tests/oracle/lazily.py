"""Which of the chosen columns cannot all be in one plan, once every wire has its size in the looms."""

from collections.abc import Sequence
from math import inf

from .drive import Column
from .judge import room_kept
from .programme import Model
from .site import Site


def forbid(site: Site, model: Model, chosen: list[int]) -> bool:
    """Take chosen columns by number; if no plan has all of them, add a row that says so. Tell whether one was added.

    Wires at their thinnest only grow with more columns. So what is refused even so is refused
    in any company, is cut down to what is needed, and stands for all that is no better; else
    all that bears on sizes is forbidden together.
    """
    laying = [number for number in chosen if model.held[number] is not None]
    if not _thin_fits(site, _columns(model, laying)):
        refused = _least(site, model, laying)
        alike = [other for number in refused for other in _no_better(site, model, number)]
    else:
        laid = site.laid(_columns(model, laying))
        if laid is not None and room_kept(site, laid):
            return False
        refused = alike = laying
    model.row(dict.fromkeys(alike, 1), -inf, len(refused) - 1)
    return True


def _least(site: Site, model: Model, laying: list[int]) -> list[int]:
    left = laying
    for number in laying:
        fewer = [other for other in left if other != number]
        if not _thin_fits(site, _columns(model, fewer)):
            left = fewer
    return left


def _no_better(site: Site, model: Model, number: int) -> list[int]:
    """Give the columns of the same circuit or switches that at their thinnest fit nowhere where this does not."""
    what, held, _ = model.meanings[number]
    return [
        other
        for other, (same, those, _) in enumerate(model.meanings)
        if (same, those) == (what, held) and _asks_more(site, model.held[other], model.held[number])
    ]


def _asks_more(site: Site, one: Column | None, other: Column | None) -> bool:
    if one is None or other is None or not one.laid.run >= other.laid.run:
        return False
    if one.drive is None or other.drive is None:
        return True
    return (
        one.drive.trip_ma >= other.drive.trip_ma
        and one.drive.loaded >= other.drive.loaded
        and set(one.drive.sizes) <= set(other.drive.sizes)
        and all(
            site.looms.heat(one.drive, load, wire) >= site.looms.heat(other.drive, load, wire)
            for load in one.drive.held.members
            for wire in one.drive.sizes
        )
    )


def _columns(model: Model, numbers: list[int]) -> list[Column]:
    return [column for column in (model.held[number] for number in numbers) if column is not None]


def _thin_fits(site: Site, columns: Sequence[Column]) -> bool:
    laid = site.thinnest(columns)
    return laid is not None and room_kept(site, laid)

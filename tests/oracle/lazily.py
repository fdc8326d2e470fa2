"""Which of the chosen columns cannot all be in one plan, once every wire has its size in the looms."""

from collections.abc import Sequence

from .drive import Column
from .judge import room_kept
from .programme import Model
from .site import Site


def refused_among(site: Site, model: Model, chosen: list[int]) -> list[int]:
    """Take chosen columns by number; give some that no plan has together, none if all can be.

    Wires at their thinnest only grow with more columns. So what is refused even so is refused
    in any company, and is cut down to what is needed; else all that bears on sizes is given.
    """
    laying = [number for number in chosen if model.held[number] is not None]
    if not _thin_fits(site, _columns(model, laying)):
        return _least(site, model, laying)
    laid = site.laid(_columns(model, laying))
    if laid is None:
        return [number for number in laying if model.meanings[number][0] == "circuit"]
    return [] if room_kept(site, laid) else laying


def _least(site: Site, model: Model, laying: list[int]) -> list[int]:
    left = laying
    for number in laying:
        fewer = [other for other in left if other != number]
        if not _thin_fits(site, _columns(model, fewer)):
            left = fewer
    return left


def _columns(model: Model, numbers: list[int]) -> list[Column]:
    return [column for column in (model.held[number] for number in numbers) if column is not None]


def _thin_fits(site: Site, columns: Sequence[Column]) -> bool:
    laid = site.thinnest(columns)
    return laid is not None and room_kept(site, laid)

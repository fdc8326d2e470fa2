"""Which of the chosen columns cannot all be in one plan, once every wire has its size in the looms."""

from collections import Counter
from collections.abc import Sequence
from math import inf

from .drive import Column
from .judge import leg_holds, room_kept
from .programme import Model
from .sizing import Counts, imposed
from .things import Leg
from .wired import Wired


def forbid(site: Wired, model: Model, chosen: list[int]) -> bool:
    """Take chosen columns by number; if no plan has all of them, add a row that says so. Tell whether one was added.

    Wires at their thinnest only grow with more columns. So what is refused even so is refused
    in any company, is cut down to what is needed, and stands for all that is no better; else
    all that bears on sizes is forbidden together.
    """
    laying = [number for number in chosen if model.held[number] is not None]
    thin = site.thinnest(_columns(model, laying))
    full = [leg for leg in site.bike.legs if thin is not None and not leg_holds(leg, thin)]
    if thin is None or full:
        _forbid_alike(site, model, laying, full[0] if full else None)
        return True
    laid = site.laid(_columns(model, laying))
    if laid is not None and room_kept(site, laid):
        return False
    model.row(dict.fromkeys(laying, 1), -inf, len(laying) - 1)
    return True


def _forbid_alike(site: Wired, model: Model, laying: list[int], full: Leg | None) -> None:
    """Forbid the least of these columns that lack a size or overfill the leg, and all that is no better."""
    left = laying
    for number in laying:
        fewer = [other for other in left if other != number]
        if _breaks(site, _columns(model, fewer), full):
            left = fewer
    counts = site.looms.with_circuits([column.drive for column in _columns(model, left) if column.drive])
    alike = [
        other
        for number in left
        for other, meaning in enumerate(model.meanings)
        if meaning[:2] == model.meanings[number][:2]
        and _no_better(site, (model.held[other], model.held[number]), full, counts)
    ]
    model.row(dict.fromkeys(alike, 1), -inf, len(left) - 1)


def _breaks(site: Wired, columns: Sequence[Column], full: Leg | None) -> bool:
    laid = site.thinnest(columns)
    return laid is None or (full is not None and not leg_holds(full, laid))


def _no_better(site: Wired, pair: tuple[Column | None, Column | None], full: Leg | None, counts: Counts) -> bool:
    """Tell whether the first of two columns of one circuit leaves other wires no thinner sizes than the second.

    `counts` are the loaded wires beside the second; more of them never leave thinner sizes.
    """
    one, other = pair
    if one is None or other is None:
        return False
    if full is not None and _wires_in(full, other) > _wires_in(full, one):
        return False
    if one.drive is None or other.drive is None:
        return True
    if not Counter(one.drive.loaded) >= Counter(other.drive.loaded):
        return False
    left = zip(imposed(site.looms, counts, one.drive), imposed(site.looms, counts, other.drive), strict=False)
    return all(mine <= its for mine, its in left)


def _wires_in(leg: Leg, column: Column) -> int:
    return sum(leg.number in wire.run for wire in column.wires)


def _columns(model: Model, numbers: list[int]) -> list[Column]:
    return [column for column in (model.held[number] for number in numbers) if column is not None]

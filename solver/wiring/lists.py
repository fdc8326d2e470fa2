"""All that the lists of a plan tell, worked out once."""

from collections.abc import Mapping
from dataclasses import dataclass, replace
from types import MappingProxyType

from solver.job.laid import Laid
from solver.wiring.all_wires import wiring_of
from solver.wiring.connector_views import View, connector_views
from solver.wiring.cut_list import Reel, cut_list
from solver.wiring.not_listed import not_listed
from solver.wiring.part import Part
from solver.wiring.parts_list import Removed, parts_list, removed
from solver.wiring.settings import Settings, settings_of
from solver.wiring.wire import Wire, Wiring
from solver.words.bike import Colour

NO_COLOURS: Mapping[str, Colour] = MappingProxyType({})


@dataclass(frozen=True)
class Lists:
    """The lists of one plan."""

    bike: str
    unit: str
    wiring: Wiring
    reels: tuple[Reel, ...]
    parts: tuple[Part, ...]
    removed: tuple[Removed, ...]
    settings: Settings
    views: tuple[View, ...]
    not_listed: tuple[str, ...]
    """Wires that no plan lays."""
    set_aside: tuple[tuple[str, str], ...]
    """Rules that the bike's file sets aside, with the reason: they stand first on every sheet."""
    colour_notes: tuple[str, ...] = ()
    """How far the colours are proved best, and what looks alike all the same; nothing where none were chosen."""


def lists_of(laid: Laid, colours: Mapping[str, Colour] = NO_COLOURS, colour_notes: tuple[str, ...] = ()) -> Lists:
    """Return the lists of a plan that passed its check; ``colours`` by what look_of calls them.

    ``colour_notes`` is what is told of them.
    """
    wiring = with_colours(wiring_of(laid), colours)
    job, reels = laid.site.job, cut_list(wiring)
    return Lists(
        bike=job.bike.bike,
        unit=job.unit.unit,
        wiring=wiring,
        reels=reels,
        parts=parts_list(laid, wiring, reels),
        removed=removed(laid),
        settings=settings_of(laid),
        views=connector_views(laid, wiring),
        not_listed=not_listed(laid),
        set_aside=tuple(job.bike.set_aside.items()),
        colour_notes=colour_notes,
    )


def look_of(wire: Wire) -> str:
    """Say what has one colour: the pieces of a circuit that are of one size."""
    return f"{wire.circuit}, {wire.size.label}" if wire.size is not None else wire.circuit


def with_colours(wiring: Wiring, colours: Mapping[str, Colour]) -> Wiring:
    """Return the same wires with their colours; what lies alongside has none."""
    wires = tuple(
        wire if wire.kind == "alongside" else replace(wire, colour=colours.get(look_of(wire), wire.colour))
        for wire in wiring.wires
    )
    return replace(wiring, wires=wires)

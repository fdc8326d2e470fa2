"""All that the lists of a plan tell, worked out once."""

from collections.abc import Iterator, Mapping
from dataclasses import replace
from types import MappingProxyType

from portloom.base.bike import Colour
from portloom.base.figures import listed
from portloom.base.values import dataclass
from portloom.documents.fail_safe import stands_first
from portloom.documents.notes import Notes, notes_of
from portloom.documents.wiring.cut_list import ReelCuts, cut_list
from portloom.documents.wiring.leads import BatteryLead, battery_leads
from portloom.documents.wiring.lines import coils_of
from portloom.documents.wiring.parts import PartsLine
from portloom.documents.wiring.parts_list import Removed, parts_list, removed
from portloom.documents.wiring.pieces import wiring_of
from portloom.documents.wiring.settings import Settings, settings_of
from portloom.documents.wiring.views import ConnectorView, connector_views
from portloom.documents.wiring.wire import Wire, WireEnd, Wiring
from portloom.job.laid import Laid


def not_listed(laid: Laid) -> tuple[str, ...]:
    """Say which wires are not in the lists."""
    return tuple(_told(laid))


def _told(laid: Laid) -> Iterator[str]:
    job = laid.site.job
    if not battery_leads(job):
        yield (
            "the battery's own leads, the starter motor's cable and the earth straps: as thick as the bike's maker has "
            "them, since the file does not say what the starter draws"
        )
    if job.bike.supply.charging is not None:
        yield "the regulator's leads, and the fuse in them"
    sensors = [switch.name for switch in job.inputs if switch.signal in ("pulse", "coded")]
    if sensors:
        yield f"what {listed(sensors)} may need besides the signal: an earth or a supply, as the maker says"
    returning = [load.name for load in job.bike.loads if load.return_ == "frame"]
    if returning:
        yield f"a return of {listed(returning)}: the frame is the return"
    yield from (f"{load.name}'s {load.other_end}: a coil is never earthed itself" for load in coils_of(job))


NO_COLOURS: Mapping[str, Colour] = MappingProxyType({})


@dataclass(frozen=True)
class Lists:
    """The lists of one plan."""

    bike: str
    unit: str
    wiring: Wiring
    leads: tuple[BatteryLead, ...]
    """The battery's own, where they have sizes; never among the wires."""
    reels: tuple[ReelCuts, ...]
    parts: tuple[PartsLine, ...]
    spares: str
    """The share that is bought beyond what is needed, as people write it."""
    removed: tuple[Removed, ...]
    settings: Settings
    views: tuple[ConnectorView, ...]
    not_listed: tuple[str, ...]
    """Wires that no plan lays."""
    first: tuple[str, ...]
    """The warnings that stand first on every sheet."""
    notes: Notes
    """What the builder notes of loads and switches."""
    set_aside: tuple[tuple[str, str], ...]
    """Rules that the bike's file sets aside, with the reason: they stand first on every sheet."""
    colour_notes: tuple[str, ...] = ()
    """How far the colours are proved best, and what looks alike all the same; nothing where none were chosen."""


def lists_of(laid: Laid, colours: Mapping[str, Colour] = NO_COLOURS, colour_notes: tuple[str, ...] = ()) -> Lists:
    """Return the lists of a plan that passed its check; ``colours`` by what look_of calls them.

    ``colour_notes`` is what is told of them.
    """
    wiring = with_colours(wiring_of(laid), colours)
    job, reels, views = laid.site.job, cut_list(wiring), connector_views(laid, wiring)
    return Lists(
        bike=job.bike.bike,
        unit=job.unit.unit,
        wiring=wiring,
        leads=battery_leads(job),
        reels=reels,
        parts=parts_list(laid, wiring, reels, views),
        spares=job.assume.text("spares"),
        removed=removed(laid),
        settings=settings_of(laid),
        views=views,
        not_listed=not_listed(laid),
        first=stands_first(job.bike),
        notes=notes_of(job.bike),
        set_aside=tuple(job.bike.set_aside.items()),
        colour_notes=colour_notes,
    )


def notes_at(end: WireEnd, notes: Notes) -> list[str]:
    """Return what is noted of the loads, or of the switch, that a wire is connected to at one end."""
    known = dict(notes.loads if end.kind == "load" else notes.switches if end.kind == "switch" else ())
    return [known[name] for name in end.names if name in known]


def colour_label(wire: Wire) -> str:
    """Say what has one colour: the pieces of a circuit that are of one size."""
    return f"{wire.circuit}, {wire.size.label}" if wire.size is not None else wire.circuit


def with_colours(wiring: Wiring, colours: Mapping[str, Colour]) -> Wiring:
    """Return the same wires with their colours; what lies alongside has none."""
    wires = tuple(
        wire if wire.kind == "alongside" else replace(wire, colour=wire.colour or colours.get(colour_label(wire)))
        for wire in wiring.wires
    )
    return replace(wiring, wires=wires)

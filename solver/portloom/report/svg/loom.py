"""The loom over the frame: legs nearly to scale and as thick as they are, the unit, and what stands at each point."""

from collections.abc import Iterator, Sequence

from portloom.base.figures import amperes, counted, listed
from portloom.documents.document import Plan
from portloom.documents.notes import in_brackets, notes_of_loads, notes_of_switches
from portloom.documents.wiring.leads import battery_leads
from portloom.documents.wiring.wire import Wiring
from portloom.job.laid import Laid
from portloom.report.svg.leg_drawing import LEGEND_HIGH, legend
from portloom.report.svg.lettering import HEAD, line, whole
from portloom.report.svg.loom_layout import ROOM, LoomLayout, loom_layout
from portloom.report.svg.loom_parts import (
    drawn_figures,
    drawn_labels,
    drawn_leaders,
    drawn_legs,
    drawn_points,
    drawn_wires,
)
from portloom.report.svg.marks import Mark
from portloom.report.svg.notes import FlowedNotes, Note, Notes, drawn_notes, flow_notes, notes_of
from portloom.report.svg.paging import HIGHEST, picture
from portloom.report.svg.svg import Element, group
from portloom.report.svg.unit_box import drawn_unit

AFTER = 14.0
FRONT = "The front is at the top. "


def loom_pictures(laid: Laid, plan: Plan, wiring: Wiring, prefix: str) -> tuple[Element, ...]:
    """Return the pictures of a plan's loom: the frame, and where it has no room for all notes, more pages of them.

    Each is 720 units wide and at most 1040 high, for an A4 page held upright; ids begin with ``prefix``.
    """
    points = laid.site.job.network.points
    notes = [notes_of(point, notes_at(laid, wiring, point)) for point in points]
    layout = loom_layout(laid, plan, notes)
    letters = _letters(layout)
    below = [_lettered(note, letter) for note, letter in zip(notes, letters, strict=True)]
    told = zip(below, letters, layout.shown, strict=True)
    below = [note for note, letter, shown in told if letter or (shown.name_only and note.notes)]
    below += [*_lost_unit(laid, layout), *_lost_legs(plan, layout)]
    first, *more = flow_notes(below, ROOM.bottom + AFTER, HIGHEST - LEGEND_HIGH)
    pages = [_first_page(laid, plan, wiring, layout, letters, first, f"{prefix}-1")]
    for number, page in enumerate(more, 2):
        pages.append(_next_page(plan, page, f"{prefix}-{number}"))
    return tuple(pages)


def _letters(layout: LoomLayout) -> list[str]:
    """Return a letter to each point whose name found no room beside it."""
    lost = [number for number, spot in enumerate(layout.spots) if spot is None]
    return [str(lost.index(number) + 1) if number in lost else "" for number in range(len(layout.spots))]


def _lettered(notes: Notes, letter: str) -> Notes:
    return notes_of(f"{letter}: {notes.heading}", notes.notes) if letter else notes


def _lost_unit(laid: Laid, layout: LoomLayout) -> list[Notes]:
    """Tell which unit it is and where it sits, where its box has no room for that."""
    site = laid.site
    if layout.unit is not None and layout.unit.told:
        return []
    faces = [Note("none", f"{face}: {site.face(face)}") for face in ("front", "rear")]
    return [notes_of("unit", [Note("unit", f"{site.job.unit.unit}, {site.label}"), *faces])]


def _lost_legs(plan: Plan, layout: LoomLayout) -> list[Notes]:
    """Return the figures of legs for which there was no room at the leg."""
    lost = [
        Note("none", f"{leg.name}: {', '.join(map(whole, words))}")
        for leg, words, spot in zip(plan.legs, layout.words, layout.legs, strict=True)
        if spot is None
    ]
    return [notes_of("Legs", lost)] if lost else []


def _first_page(
    laid: Laid, plan: Plan, wiring: Wiring, layout: LoomLayout, letters: Sequence[str], page: FlowedNotes, prefix: str
) -> Element:
    place = laid.site.label
    title = f"The loom of {plan.bike}, {plan.only.unit} {place}"
    parts = [
        line(16, 28, "The loom", HEAD),
        line(
            16,
            48,
            f"{FRONT * layout.front_up}Legs are nearly to scale; the shortest are drawn longer.",
        ),
        *drawn_legs(plan, layout),
        *drawn_leaders(layout),
        *(() if layout.unit is None else drawn_unit(layout.unit)),
        *drawn_wires(wiring, layout),
        *drawn_points(layout, laid.site.job.bike.frame.connectors, letters),
        *drawn_figures(plan, layout),
        *drawn_labels(layout),
        *_boxes(page),
        *legend(page.bottom),
    ]
    return picture(prefix, title, _described(plan), page.bottom + LEGEND_HIGH, parts)


def _described(plan: Plan) -> str:
    thick = max(plan.legs, key=lambda leg: leg.diameter)
    return (
        f"{len(plan.legs)} legs between the points of the frame, each as thick as its loom; "
        f"the thickest is {thick.name} with {thick.wires} wires. "
        "Each point lists its loads with their outputs and its switches with their inputs."
    )


def _next_page(plan: Plan, page: FlowedNotes, prefix: str) -> Element:
    title = f"The loom of {plan.bike}: what is at its points"
    parts = [line(16, 28, "The loom: what is at its points", HEAD), *_boxes(page)]
    return picture(prefix, title, "More of what is at the points of the frame.", page.bottom + AFTER, parts)


def _boxes(page: FlowedNotes) -> Iterator[Element]:
    for notes, box in page.placed:
        yield group(drawn_notes(notes, box), class_="notes", data_point=notes.heading)


def notes_at(laid: Laid, wiring: Wiring, point: str) -> tuple[Note, ...]:
    """Return the notes of a point: battery, earth, connector, multiplexers, loads, switches, own switches, splices."""
    things = (
        note
        for notes in (_fittings, _leads, _multiplexers_at, _outputs, _fed, _inputs, _ways, _sensors, _own_switches)
        for note in notes(laid, point)
    )
    return (*_connectors(wiring, point), *things, *_splices(wiring, point))


def _connectors(wiring: Wiring, point: str) -> Iterator[Note]:
    for connector in wiring.connectors:
        if connector.at == point:
            yield Note("connector", f"connector, {whole(counted(len(connector.wires), 'way'))}")


def _splices(wiring: Wiring, point: str) -> Iterator[Note]:
    for splice in wiring.splices:
        if splice.point == point:
            name = f"{splice.name}, {splice.made_as}" if splice.block else splice.name
            text = f"{name}: {whole(counted(len(splice.wires), 'wire'))} of {whole(splice.circuit)}"
            yield Note("splice", text, (("splice", splice.name),))


def _fittings(laid: Laid, point: str) -> Iterator[Note]:
    bike = laid.site.job.bike
    if point == bike.supply.battery.at:
        fuse = laid.site.main_fuse
        yield Note("battery", "battery" if fuse is None else f"battery, main fuse {whole(amperes(fuse))}")
    if point in bike.frame.earth:
        yield Note("earth", "earth point")


def _leads(laid: Laid, point: str) -> Iterator[Note]:
    """The battery's own leads and the earth straps that end here: they lie beside the looms."""
    for lead in battery_leads(laid.site.job):
        if point in [end.point for end in lead.ends]:
            mark: Mark = "battery" if lead.name == "battery lead" else "earth"
            which = f"{whole(lead.number)} {lead.name}, {whole(lead.size_told)}, outside the loom"
            yield Note(mark, f"{which}: {lead.start.told} to {lead.end.told}")


def _multiplexers_at(laid: Laid, point: str) -> Iterator[Note]:
    for box in laid.multiplexers:
        if box.stand.at == point:
            yield Note("multiplexer", f"{box.stand.multiplexer.name}, {whole(box.port.name)}")


def _outputs(laid: Laid, point: str) -> Iterator[Note]:
    """A load that several outputs feed through diodes is told once."""
    ports: dict[str, list[str]] = {}
    for wired in laid.outputs:
        for load in wired.circuit.loads:
            if load.at == point:
                ports.setdefault(load.name, []).append(wired.output.name)
    loads = {load.name for load in laid.site.job.bike.loads}
    for name, outputs in ports.items():
        known_by = "load" if name in loads else "relay"
        yield Note(
            "load",
            f"{name}, {listed([whole(output) for output in outputs])}{_of_load(laid, name)}",
            ((known_by, name),),
        )


def _fed(laid: Laid, point: str) -> Iterator[Note]:
    for fed in laid.site.job.loads.fed:
        if fed.consumer.at == point:
            by = "via a relay" if fed.by == "relay" else "via a fuse of its own"
            yield Note(
                "load", f"{fed.consumer.name}, {by}{_of_load(laid, fed.consumer.name)}", (("load", fed.consumer.name),)
            )


def _inputs(laid: Laid, point: str) -> Iterator[Note]:
    for wired in laid.inputs:
        for switch in wired.circuit.switches:
            if point in switch.at:
                known_by = (("switch", switch.name),)
                yield Note(
                    "switch", f"{switch.name}, {whole(wired.port.name)}{_of_switch(laid, switch.name)}", known_by
                )


def _ways(laid: Laid, point: str) -> Iterator[Note]:
    for wired in laid.switches:
        if point in wired.switch.at:
            known_by = (("switch", wired.switch.name),)
            yield Note(
                "switch",
                f"{wired.switch.name}, {wired.stand.multiplexer.name}{_of_switch(laid, wired.switch.name)}",
                known_by,
            )


def _sensors(laid: Laid, point: str) -> Iterator[Note]:
    """What only dashes read."""
    for switch in laid.site.job.dash_inputs:
        if point in switch.at:
            dashes = listed([shown.dash for shown in switch.shown_by])
            yield Note(
                "switch", f"{switch.name}, to {dashes}{_of_switch(laid, switch.name)}", (("switch", switch.name),)
            )


def _own_switches(laid: Laid, point: str) -> Iterator[Note]:
    """What switches a load and never touches the unit."""
    for load in laid.site.job.bike.loads:
        if load.own_switch == point:
            yield Note("switch", f"own switch of {load.name}")


def _of_load(laid: Laid, name: str) -> str:
    """Return what the builder notes of a load, in brackets."""
    return in_brackets(name, notes_of_loads(laid.site.job.bike, [name]))


def _of_switch(laid: Laid, name: str) -> str:
    """Return what the builder notes of a switch, in brackets."""
    return in_brackets(name, notes_of_switches(laid.site.job.bike, [name]))

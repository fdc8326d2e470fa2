"""The loom over the frame: legs nearly to scale and as thick as they are, what stands at each point, the unit."""

from collections.abc import Iterator, Sequence

from solver.job.laid import Laid
from solver.pictures.flow import Flowed, flowed
from solver.pictures.legend import LEGEND_HIGH, legend
from solver.pictures.lettering import HEAD, line, whole
from solver.pictures.loom_layout import ROOM, LoomLayout, loom_layout
from solver.pictures.loom_notes import notes_at
from solver.pictures.loom_parts import (
    drawn_figures,
    drawn_knobs,
    drawn_labels,
    drawn_leaders,
    drawn_legs,
    drawn_wires,
)
from solver.pictures.notes import Note, Notes, drawn_notes, notes_of
from solver.pictures.sheet import HIGHEST, picture
from solver.pictures.svg import Element, group
from solver.pictures.unit_box import drawn_unit
from solver.plans.document import Plan
from solver.wiring.wire import Wiring

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
    first, *more = flowed(below, ROOM.bottom + AFTER, HIGHEST - LEGEND_HIGH)
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
    laid: Laid, plan: Plan, wiring: Wiring, layout: LoomLayout, letters: Sequence[str], page: Flowed, prefix: str
) -> Element:
    place = laid.site.label
    title = f"The loom of {plan.bike}, {plan.unit} {place}"
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
        *drawn_knobs(layout, laid.site.job.bike.frame.connectors, letters),
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
        "At each point stand its loads with their outputs and its switches with their inputs."
    )


def _next_page(plan: Plan, page: Flowed, prefix: str) -> Element:
    title = f"The loom of {plan.bike}: what is at its points"
    parts = [line(16, 28, "The loom: what is at its points", HEAD), *_boxes(page)]
    return picture(prefix, title, "More of what stands at the points of the frame.", page.bottom + AFTER, parts)


def _boxes(page: Flowed) -> Iterator[Element]:
    for notes, box in page.placed:
        yield group(drawn_notes(notes, box), class_="notes", data_point=notes.heading)

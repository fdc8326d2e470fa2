"""The elements of the loom's picture, drawn where its layout has put them; wires as paths over the frame."""

from collections.abc import Iterator, Sequence

from portloom.documents.document import Plan
from portloom.documents.wiring.wire import Wire, Wiring
from portloom.report.svg.leg_drawing import drawn_leg
from portloom.report.svg.lettering import line, line_height
from portloom.report.svg.loom_layout import LoomLayout
from portloom.report.svg.marks import ring
from portloom.report.svg.notes import drawn_notes
from portloom.report.svg.placing import Spot
from portloom.report.svg.shapes import Box, Segment, distance
from portloom.report.svg.svg import Element, element, group


def way_of(layout: LoomLayout, wire: Wire) -> str:
    """Return the path along a wire's legs; empty for a wire that ends where it starts."""
    moves = []
    for number in wire.leg_numbers:
        path = [layout.points[knot] for knot in layout.graph.strands[number]]
        moves.append("M" + "L".join(f"{x:.2f} {y:.2f}" for x, y in path))
    return "".join(moves)


def drawn_legs(plan: Plan, layout: LoomLayout) -> Iterator[Element]:
    """Draw every leg, its opening where its figures do not stand."""
    for strand, leg, spot in zip(layout.graph.strands, plan.legs, layout.legs, strict=True):
        path = [layout.points[knot] for knot in strand]
        yield group(drawn_leg(leg, path, _opening_at(path, spot)), class_="leg", data_leg=leg.name)


def _opening_at(path: Sequence[tuple[float, float]], spot: Spot | None) -> float:
    if spot is None:
        return 0.5
    middle = spot.box.middle
    return 0.22 if distance(path[0], middle) > distance(path[-1], middle) else 0.78


def drawn_leaders(layout: LoomLayout) -> Iterator[Element]:
    """Draw the lines that tie labels to what they name."""
    for spot in (*layout.legs, *layout.spots):
        if spot is not None and spot.leader.length > 1:
            yield element("path", d=way_along(spot.leader), stroke="#555", stroke_width=1.2, class_="line")


def way_along(segment: Segment) -> str:
    """Return the path of a straight line."""
    (x1, y1), (x2, y2) = segment.start, segment.end
    return f"M{x1:.2f} {y1:.2f}L{x2:.2f} {y2:.2f}"


def drawn_points(layout: LoomLayout, connectors: Sequence[str], letters: Sequence[str]) -> Iterator[Element]:
    """Draw the frame points: a ring, a parted square where there is a connector, a letter where no name stands."""
    for name, letter, (x, y) in zip(layout.graph.names, letters, layout.points, strict=False):
        shape = "M-7 -7h14v14h-14zM0 -7v14" if name in connectors else "M-5 0a5 5 0 1 0 10 0a5 5 0 1 0 -10 0z"
        knob = element("path", d=shape, fill="#fff", stroke="#000", stroke_width=2, class_="paper line")
        yield group([knob], transform=f"translate({x:.2f} {y:.2f})", class_="point", data_point=name)
        if letter:
            yield from _lettered(x, y, letter)


def _lettered(x: float, y: float, letter: str) -> Iterator[Element]:
    yield ring(x, y, 7 + 4 * len(letter))
    yield line(x, y + 5, letter, anchor="middle")


def drawn_figures(plan: Plan, layout: LoomLayout) -> Iterator[Element]:
    """Write what stands at each leg."""
    for leg, words, spot in zip(plan.legs, layout.words, layout.legs, strict=True):
        if spot is not None:
            yield group(_figures(words, spot.box), class_="figures", data_leg=leg.name)


def _figures(words: Sequence[str], box: Box) -> Iterator[Element]:
    yield plate(box)
    for number, text in enumerate(words, 1):
        yield line(box.middle[0], box.top + 1 + (number - 0.25) * line_height(), text, anchor="middle")


def plate(box: Box) -> Element:
    """Draw a plain white plate under words."""
    wide, high = box.right - box.left, box.bottom - box.top
    return element("rect", x=box.left, y=box.top, width=wide, height=high, rx=5, fill="#fff", class_="paper")


def drawn_labels(layout: LoomLayout) -> Iterator[Element]:
    """Write names and notes at their points."""
    for name, notes, spot in zip(layout.graph.names, layout.shown, layout.spots, strict=True):
        if spot is not None:
            yield group(drawn_notes(notes, spot.box), class_="notes", data_point=name)


def drawn_wires(wiring: Wiring, layout: LoomLayout) -> Iterator[Element]:
    """Draw each wire's way over its legs, unseen until a page lights it."""
    for wire in wiring.wires:
        way = way_of(layout, wire)
        if way:
            path = element("path", d=way, fill="none", stroke="#000", stroke_width=5, stroke_opacity=0)
            yield group([path], class_="wire", data_wire=wire.key, data_circuit=wire.circuit)

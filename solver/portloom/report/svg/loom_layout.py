"""Where everything in the loom's picture lies: the frame, the unit, figures on legs, names and notes at points."""

from collections.abc import Callable, Iterable, Sequence
from itertools import pairwise

from portloom.base.parts.loads import LOAD_PARTS, SIDES
from portloom.base.values import dataclass
from portloom.documents.document import Plan
from portloom.job.laid import Laid
from portloom.report.svg.frame_graph import FrameGraph, frame_graph
from portloom.report.svg.frame_layout import Bearings, layouts
from portloom.report.svg.leg_drawing import leg_width, leg_words
from portloom.report.svg.lettering import line_height, width
from portloom.report.svg.notes import Notes
from portloom.report.svg.paging import WIDE
from portloom.report.svg.placing import Obstacle, PlacedLabel, Sheet, Spot, obstacle
from portloom.report.svg.shapes import Box, Point, Segment
from portloom.report.svg.unit_box import FEW_WORDS, UnitBox, all_words, unit_box

FRONT = tuple(part.name for part in LOAD_PARTS if part.sits == "front")
REAR = tuple(part.name for part in LOAD_PARTS if part.sits == "rear")
TOP = 58.0
ROOM = Box(6, TOP, WIDE - 6, TOP + 660)
FRAME = Box(112, TOP + 70, WIDE - 112, TOP + 600)
KNOB = 8.0
TRIES = 3
NAME_ONLY = 80.0
"""What it costs that a point's notes stand below the frame, in units of the lengths of leaders."""
SHARES = (0.5, 0.42, 0.58, 0.34, 0.66)
NEAR, FAR = 150.0, 260.0
"""How far from their point notes may lie, and names or a leg's figures."""


@dataclass(frozen=True)
class LoomLayout:
    """The frame in its room, and all that is written there; None where a label found no room."""

    graph: FrameGraph
    front_up: bool
    """Whether the loads tell where the front is."""
    points: tuple[Point, ...]
    unit: UnitBox | None
    words: tuple[tuple[str, ...], ...]
    """What stands at each leg."""
    legs: tuple[Spot | None, ...]
    shown: tuple[Notes, ...]
    """What stands at each point: all its notes, or its name alone."""
    spots: tuple[Spot | None, ...]


def loom_layout(laid: Laid, plan: Plan, notes: Sequence[Notes]) -> LoomLayout:
    """Lay out the loom's picture; ``notes`` are those of each point, in the order of the frame's points.

    Of a few ways to lay the frame it takes the one in which most finds a place, and the nearest.
    """
    graph, bearings = frame_graph(laid.site.job.network), _bearings(laid)
    found = layouts(graph, bearings, FRAME)[:TRIES]
    tried = (_laid_out(laid, plan, notes, graph, points, front_up=bearings.told) for points in found)
    return min(tried, key=_cost)


def _cost(layout: LoomLayout) -> tuple[int, float]:
    missing, length = _price((*layout.legs, *layout.spots))
    return missing, length + sum(NAME_ONLY for one in layout.shown if one.name_only)


def _laid_out(
    laid: Laid, plan: Plan, notes: Sequence[Notes], graph: FrameGraph, points: Sequence[Point], *, front_up: bool
) -> LoomLayout:
    sheet = Sheet(ROOM, _lines(graph, plan, points), [_knob(point) for point in points[: len(notes)]])
    unit = _unit(laid, graph, points, sheet)
    words = tuple(leg_words(one, leg.length) for one, leg in zip(plan.legs, laid.site.job.network.legs, strict=True))
    figures = [_leg_label(*one, points, n) for n, one in enumerate(zip(graph.strands, words, strict=True))]
    legs = _placed(sheet.on_its_line, sheet, figures)
    names = [note.name_alone for note in notes]
    spots = _placed(sheet.best, sheet, [_label(note, points[n], FAR) for n, note in enumerate(names)])
    legs = _beside(sheet, figures, legs)
    shown = _grown(sheet, points, notes, names, spots)
    return LoomLayout(graph, front_up, tuple(points), unit, words, tuple(legs), tuple(shown), tuple(spots))


def _placed(
    found: Callable[[PlacedLabel], Spot | None], sheet: Sheet, labels: Iterable[PlacedLabel]
) -> list[Spot | None]:
    """Place labels one after the other, each where ``found`` puts it."""
    spots = []
    for label in labels:
        spot = found(label)
        spots.append(spot)
        if spot is not None:
            sheet.spots.append(spot)
    return spots


def _beside(sheet: Sheet, labels: Sequence[PlacedLabel], spots: Sequence[Spot | None]) -> list[Spot | None]:
    """Put figures that have no room on their legs beside them, in the better of two orders."""
    taken, left = list(sheet.spots), [number for number, spot in enumerate(spots) if spot is None]
    tries = []
    for order in (left, left[::-1]):
        sheet.lay(taken)
        found = _placed(sheet.best, sheet, [labels[number] for number in order])
        tries.append((dict(zip(order, found, strict=True)), sheet.spots))
    best, laid = min(tries, key=lambda one: _price(one[0].values()))
    sheet.lay(laid)
    return [best.get(number, spot) for number, spot in enumerate(spots)]


def _price(spots: Iterable[Spot | None]) -> tuple[int, float]:
    """Return how many labels found no room, and what the others cost."""
    found = list(spots)
    return sum(spot is None for spot in found), sum(spot.cost for spot in found if spot is not None)


def _grown(
    sheet: Sheet, points: Sequence[Point], notes: Sequence[Notes], names: Sequence[Notes], spots: list[Spot | None]
) -> list[Notes]:
    """Put all notes in the place of a name alone, where there is room for them; the shortest notes first."""
    shown = list(names)
    for number in sorted(range(len(notes)), key=lambda n: notes[n].high):
        before = spots[number]
        if before is not None:
            sheet.spots.remove(before)
        grown = sheet.best(_label(notes[number], points[number], NEAR))
        if grown is not None and grown.cost <= NEAR:
            spots[number], shown[number] = grown, notes[number]
        kept = spots[number]
        if kept is not None:
            sheet.spots.append(kept)
    return shown


def _label(note: Notes, point: Point, farthest: float) -> PlacedLabel:
    return PlacedLabel(note.wide, note.high, (point,), KNOB + 6, farthest)


def _leg_label(strand: Sequence[int], words: Sequence[str], points: Sequence[Point], number: int) -> PlacedLabel:
    stretches = [Segment(points[one], points[other]) for one, other in pairwise(strand)]
    anchors = tuple(stretch.at(share) for share in SHARES for stretch in stretches)
    return PlacedLabel(max(map(width, words)) + 6, len(words) * line_height() + 2, anchors, 10, FAR, number)


def _lines(graph: FrameGraph, plan: Plan, points: Sequence[Point]) -> list[Obstacle]:
    return [
        obstacle(Segment(points[one], points[other]), leg_width(leg.diameter) / 2, number)
        for number, (strand, leg) in enumerate(zip(graph.strands, plan.legs, strict=True))
        for one, other in pairwise(strand)
    ]


def _knob(point: Point) -> Box:
    return Box(point[0] - KNOB, point[1] - KNOB, point[0] + KNOB, point[1] + KNOB)


def _unit(laid: Laid, graph: FrameGraph, points: Sequence[Point], sheet: Sheet) -> UnitBox | None:
    """Place the unit, and keep its box and its ties free."""
    site = laid.site
    front, rear = (points[graph.names.index(site.face(face))] for face in ("front", "rear"))
    full = all_words(site.job.unit.unit, site.label)
    unit = unit_box(sheet, full, front, rear) or unit_box(sheet, FEW_WORDS, front, rear)
    if unit is not None:
        sheet.keep_free((obstacle(tie, 3.0, -1) for tie in unit.ties), unit.box)
    return unit


def _bearings(laid: Laid) -> Bearings:
    """Return what is in front, at the rear, left and right: by the parts of loads, else by the words of points.

    A picture may read names, as a rule may not: at worst it lies the other way round.
    """
    job = laid.site.job

    def where(parts: Sequence[str], words: Sequence[str]) -> tuple[int, ...]:
        loads = {load.at for load in job.bike.loads if load.part in parts}
        named = {point for point in job.network.points if set(point.lower().split()).intersection(words)}
        return tuple(number for number, point in enumerate(job.network.points) if point in (loads or named))

    left, right = where((), ("left",)), where((), ("right",))
    if not (left or right):
        left, right = where(SIDES[:1], ()), where(SIDES[1:], ())
    return Bearings(where(FRONT, ("headlamp", "front")), where(REAR, ("tail", "rear")), left, right)

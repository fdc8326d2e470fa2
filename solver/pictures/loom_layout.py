"""Where everything in the loom's picture lies: the frame, the unit, figures on legs, names and notes at points."""

from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from itertools import pairwise

from solver.job.laid import Laid
from solver.pictures.frame_graph import FrameGraph, frame_graph
from solver.pictures.frame_layout import Bearings, laid_out
from solver.pictures.leg_drawing import leg_width, leg_words
from solver.pictures.lettering import pitch, width
from solver.pictures.notes import Notes
from solver.pictures.placing import Hindrance, Label, Sheet, Spot, hindrance
from solver.pictures.shapes import Box, Point, Segment
from solver.pictures.sheet import WIDE
from solver.pictures.unit_box import FEW_WORDS, UnitBox, all_words, unit_box
from solver.plans.document import Plan

FRONT = ("dipped beam", "main beam", "daytime lamp")
REAR = ("tail lamp", "brake lamp", "plate lamp")
TOP = 58.0
ROOM = Box(6, TOP, WIDE - 6, TOP + 660)
FRAME = Box(112, TOP + 70, WIDE - 112, TOP + 600)
KNOB = 8.0
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
    """Lay out the loom's picture; ``notes`` are those of each point, in the order of the frame's points."""
    network = laid.site.job.network
    graph = frame_graph(network)
    bearings = _bearings(laid)
    points = laid_out(graph, bearings, FRAME)
    sheet = Sheet(ROOM, _lines(graph, plan, points), [_knob(point) for point in points[: len(notes)]])
    unit = _unit(laid, graph, points, sheet)
    words = tuple(leg_words(one, leg.length) for one, leg in zip(plan.legs, network.legs, strict=True))
    names = [note.name_alone for note in notes]
    spots = _settled(sheet, [_label(note, points[n], FAR) for n, note in enumerate(names)])
    figures = [_leg_label(*one, points, n) for n, one in enumerate(zip(graph.strands, words, strict=True))]
    legs = _on_legs_first(sheet, figures)
    shown = _grown(sheet, points, notes, names, spots)
    return LoomLayout(graph, bearings.told, tuple(points), unit, words, tuple(legs), tuple(shown), tuple(spots))


def _settled(sheet: Sheet, labels: Iterable[Label]) -> list[Spot | None]:
    """Place labels one after the other."""
    spots = []
    for label in labels:
        spot = sheet.best(label)
        spots.append(spot)
        if spot is not None:
            sheet.spots.append(spot)
    return spots


def _on_legs_first(sheet: Sheet, labels: Sequence[Label]) -> list[Spot | None]:
    """Put figures on their legs, then beside them those that are left."""
    spots: list[Spot | None] = []
    for label in labels:
        spot = sheet.on_its_line(label)
        spots.append(spot)
        if spot is not None:
            sheet.spots.append(spot)
    for number, label in enumerate(labels):
        if spots[number] is None:
            spots[number] = _settled(sheet, [label])[0]
    return spots


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


def _label(note: Notes, point: Point, farthest: float) -> Label:
    return Label(note.wide, note.high, (point,), KNOB + 6, farthest)


def _leg_label(strand: Sequence[int], words: Sequence[str], points: Sequence[Point], number: int) -> Label:
    stretches = [Segment(points[one], points[other]) for one, other in pairwise(strand)]
    anchors = tuple(stretch.at(share) for share in SHARES for stretch in stretches)
    return Label(max(map(width, words)) + 6, len(words) * pitch() + 2, anchors, 10, FAR, number)


def _lines(graph: FrameGraph, plan: Plan, points: Sequence[Point]) -> list[Hindrance]:
    return [
        hindrance(Segment(points[one], points[other]), leg_width(leg.diameter) / 2, number)
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
        sheet.lines = [*sheet.lines, *(hindrance(tie, 3.0, -1) for tie in unit.ties)]
        sheet.marks = [*sheet.marks, unit.box]
    return unit


def _bearings(laid: Laid) -> Bearings:
    number = {point: at for at, point in enumerate(laid.site.job.network.points)}

    def where(*parts: str) -> tuple[int, ...]:
        loads = [load for load in laid.site.job.bike.loads if load.part in parts]
        return tuple(dict.fromkeys(number[load.at] for load in loads))

    return Bearings(where(*FRONT), where(*REAR), where("left indicator"), where("right indicator"))

"""How pictures are laid: distances against another program, lines and boxes against points on them, folded text.

Sources: networkx's layout after Kamada and Kawai (1989), doi:10.1016/0020-0190(89)90102-6, which minimises the
same sum; the definition of a line that passes through a box: one of its points lies inside. Made-up bikes.
"""

from itertools import pairwise

import networkx as nx
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from hostile_words import HOSTILE
from outcomes import EXAMPLES
from portloom.base.bike import Leg
from portloom.job.network import Network
from portloom.report.svg.frame_graph import FrameGraph, frame_graph, majorized, stress
from portloom.report.svg.frame_layout import Bearings, layouts
from portloom.report.svg.lettering import NORMAL, SMALL, Style, folded, width
from portloom.report.svg.paging import WIDE
from portloom.report.svg.shapes import Box, Point, Segment, distance
from portloom.report.svg.svg import shown
from unasked import bike_from_text

SOME = settings(max_examples=200, deadline=None, derandomize=True, database=None)
AT = st.integers(-20, 20)
SPOTS = st.tuples(AT, AT)
SQUARE = Box(0, 0, 600, 600)
NOWHERE = Bearings((), (), (), ())


def graph_of(bike: str) -> FrameGraph:
    """Return the frame of an example."""
    return frame_graph(Network(bike_from_text((EXAMPLES / f"{bike}.yaml").read_text("utf-8"), bike).frame.legs))


def ring(count: int) -> list[Point]:
    """Return points on a ring of an odd shape, so that none lie on each other."""
    return [(number % 3 + number / 7, number * number % 5 + number / 11) for number in range(count)]


@pytest.mark.parametrize("bike", ["harbour-trail", "bare-single", "dressed-tourer", "sidecar-hauler"])
def test_distances_are_as_near_to_scale_as_another_program_makes_them(bike: str) -> None:
    """Our mean square error is at most a hundredth more than that of networkx on the same distances."""
    graph = graph_of(bike)
    mine = stress(graph.wanted, majorized(graph.wanted, ring(graph.knots)))
    wanted = {one: dict(enumerate(row)) for one, row in enumerate(graph.wanted)}
    theirs = nx.kamada_kawai_layout(nx.complete_graph(graph.knots), dist=wanted)
    other = stress(graph.wanted, [(float(x), float(y)) for x, y in (theirs[knot] for knot in range(graph.knots))])
    assert mine <= other + 0.01


def test_a_straight_frame_is_to_scale() -> None:
    """Four points in a row can lie exactly to scale, so they do: by geometry."""
    lengths = ["400 mm", "600 mm", "500 mm"]
    legs = [
        Leg.model_validate({"between": [f"p{number}", f"p{number + 1}"], "length": length})
        for number, length in enumerate(lengths)
    ]
    points = layouts(frame_graph(Network(legs)), NOWHERE, SQUARE)[0]
    drawn = [distance(*pair) for pair in pairwise(points)]
    assert [length / sum(drawn) for length in drawn] == pytest.approx([4 / 15, 6 / 15, 5 / 15], rel=0.01)


@given(SPOTS, SPOTS, SPOTS, SPOTS)
@SOME
def test_a_line_passes_a_box_where_one_of_its_points_lies_inside(a: Point, b: Point, c: Point, d: Point) -> None:
    box = Box(min(c[0], d[0]), min(c[1], d[1]), max(c[0], d[0]), max(c[1], d[1]))
    line = Segment(a, b)
    spots = [line.at(step / 2520) for step in range(1, 2520)]
    inside = any(box.left < x < box.right and box.top < y < box.bottom for x, y in spots)
    if inside:
        assert line.passes(box)
    elif line.passes(box):
        corners = [(x, y) for x in (box.left, box.right) for y in (box.top, box.bottom)]
        assert min(map(line.gap, corners)) < distance(a, b) / 2520  # it cuts off less of a corner than a step


@pytest.mark.parametrize("word", HOSTILE, ids=ascii)
def test_folded_text_fits_and_nothing_is_lost(word: str) -> None:
    lines = folded(word, 120)
    assert all(width(line) <= 120 for line in lines)
    assert "".join(lines).replace(" ", "") == shown(word).replace(" ", "")


def test_letters_can_be_read_on_paper_and_on_a_telephone() -> None:
    """10 points on an A4 page with margins of 10 mm; 7.5 points across 390 (a point is 25.4 mm / 72; from memory)."""
    assert min(NORMAL, SMALL) * (190 / WIDE) / (25.4 / 72) >= 10
    assert min(NORMAL, SMALL) * 390 / WIDE >= 7.5
    assert width("mm", Style(SMALL)) < width("mm", Style(NORMAL)) < width("mm", Style(NORMAL, bold=True))

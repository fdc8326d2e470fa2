"""Labels: one for each end of every wire and for each connector, in letters that can be read, nothing left out."""

from collections import Counter
from typing import TypeGuard

from hypothesis import given, settings
from hypothesis import strategies as st

from hostile_words import HOSTILE
from pictured import EXAMPLE_PLANS, solved_example
from portloom.documents.wiring.lists import lists_of
from portloom.report.svg.labels import (
    DOWN,
    EDGE,
    HIGH,
    SIZES,
    WIDE,
    Label,
    connector_labels,
    fitted,
    label_sheets,
    wire_labels,
)
from portloom.report.svg.lettering import Style, line_height, width
from portloom.report.svg.svg import Element, shown
from slices import first_of, of_trials


def is_group(part: object) -> TypeGuard[Element]:
    """Tell whether it is a label."""
    return isinstance(part, Element) and part.tag == "g"


def drawn(sheets: tuple[Element, ...]) -> Counter[str]:
    """Return how often each thing is labelled on sheets."""
    groups = [part for sheet in sheets for part in sheet.inside if isinstance(part, Element) and part.tag == "g"]
    return Counter(str(dict(one.attributes)["data-label"]) for one in groups)


@first_of(("bike", "unit"), EXAMPLE_PLANS, 2)
def test_both_ends_of_every_wire_and_every_connector_have_one(bike: str, unit: str) -> None:
    """Two for each piece that is cut, at connectors too; one for each connector, on sheets that hold them."""
    lists = lists_of(solved_example(bike, unit).laid)
    wires, connectors = tuple(wire_labels(lists.wiring.ours)), tuple(connector_labels(lists.views))
    found = drawn(label_sheets((*wires, *connectors), "labels"))
    assert {key: found[key] for key in (wire.key for wire in lists.wiring.ours)} == {
        wire.key: 2 * (1 + len(wire.connectors)) for wire in lists.wiring.ours
    }
    assert sum(found.values()) == sum(2 * len(wire.cuts) for wire in lists.wiring.ours) + len(lists.views)


@first_of(("bike", "unit"), EXAMPLE_PLANS, 2)
def test_each_sheet_is_a4_and_holds_all_its_labels(bike: str, unit: str) -> None:
    """210 x 297 mm (ISO 216), and every label at least 10 mm from its edges, which no printer reaches."""
    lists = lists_of(solved_example(bike, unit).laid)
    sheets = label_sheets((*wire_labels(lists.wiring.ours), *connector_labels(lists.views)), "labels")
    assert sheets
    for sheet in sheets:
        told = dict(sheet.attributes)
        assert (told["width"], told["height"], told["viewBox"]) == ("210mm", "297mm", "0 0 2100 2970")
        inside = [part.inside[0] for part in sheet.inside if is_group(part)]
        frames = [dict(frame.attributes) for frame in inside if isinstance(frame, Element)]
        assert len(frames) == len(inside) > 0
        assert min(float(frame["x"]) for frame in frames) >= 100
        assert max(float(frame["x"]) + float(frame["width"]) for frame in frames) <= 2100 - 100
        assert max(float(frame["y"]) + float(frame["height"]) for frame in frames) <= 2970 - 100


@of_trials(25, 100)
def test_a_label_holds_its_text_in_letters_that_can_be_read(count: int) -> None:
    """All of it is there, no line is wider than the label, all lines fit its rows, no letter is below 1.6 mm."""
    words = st.one_of(st.sampled_from(HOSTILE), st.text(max_size=300)), st.text(max_size=300)
    settings(max_examples=count, deadline=None)(given(*words)(fit_a_label))()


def test_what_is_left_after_a_slash_is_no_wider_than_the_label() -> None:
    """A line that is cut early leaves a piece that may be too wide with one letter more."""
    fit_a_label("/00" + 4 * "\x1f" + "0", "")


def fit_a_label(head: str, text: str) -> None:
    """Fit a text into a label."""
    found = fitted(Label(head, text, "x"))
    assert found.size in SIZES
    for lines, words, bold in ((found.head, head, True), (found.lines, text, False)):
        assert "".join(lines).replace(" ", "") == shown(words).replace(" ", "")
        assert all(width(line, Style(found.size, bold=bold)) <= WIDE - 2 * EDGE or len(line) == 1 for line in lines)
    needed = (len(found.head) + len(found.lines)) * line_height(Style(found.size))
    assert needed <= found.rows * HIGH - EDGE


def test_a_name_of_200_letters_gets_a_higher_label() -> None:
    """It takes more rows, and the sheet is filled all the same."""
    long = Label("1  out 1.1", "W" * 200, "long")
    assert fitted(long).rows > 1
    short = Label("2  out 1.2", "0.5 mm2 BK: horn", "short")
    assert fitted(short).rows == 1
    (sheet,) = label_sheets([long, *[short] * (DOWN - 1)], "labels")
    assert drawn((sheet,)) == {"long": 1, "short": DOWN - 1}

"""Labels for both ends of every piece of wire and for every connector, on sheets of A4 to print and cut out.

Printed at 100 % a label is 60 mm wide and 12 mm high. Its letters are as large as fit; where the smallest that can
still be read do not, the label is twice as high, or more: nothing is left out. Here a unit of the picture is a tenth
of a millimetre.
"""

from collections.abc import Iterable, Iterator, Sequence

from portloom.base.values import dataclass
from portloom.documents.wiring.csv_files import colour_code
from portloom.documents.wiring.leads import BatteryLead
from portloom.documents.wiring.views import ConnectorView
from portloom.documents.wiring.wire import ConnectorWay, PieceEnd, Wire
from portloom.report.svg.lettering import ASCENT, FONTS, Style, folded, line, line_height
from portloom.report.svg.svg import NAMESPACE, Element, element, group

WIDE, HIGH = 600, 120
"""A label, in tenths of a millimetre."""
ACROSS, DOWN = 3, 22
LEFT, TOP = 150, 180
SHEET = (2100, 2970)
"""A4. Source: ISO 216. Below the last row are 15 mm, as on either side: more than a printer leaves white."""
SIZES = range(30, 15, -2)
"""Heights of letters that are tried: 3 mm down to 1.6 mm, 4.5 points."""
EDGE = 20
SAID = "Labels of 60 x 12 mm. Print at 100 %, on A4; cut along the lines."


@dataclass(frozen=True)
class Label:
    """What stands on a label, a bold line first, and what it is known by."""

    head: str
    text: str
    known_by: str


@dataclass(frozen=True)
class Fitted:
    """A label with its letters' size, its lines, and how many rows of the sheet it takes."""

    label: Label
    size: int
    head: tuple[str, ...]
    lines: tuple[str, ...]
    rows: int


def wire_labels(wires: Iterable[Wire]) -> Iterator[Label]:
    """Return a label for each end of every piece that is cut: number and key, what it is, and where both ends go."""
    for wire in wires:
        size = wire.size.label if wire.size is not None else ""
        what = " ".join(filter(None, (size, colour_code(wire.colour))))
        for piece in wire.cut_pieces:
            for here, there in (piece.ends, piece.ends[::-1]):
                yield Label(f"{piece.number}  {wire.key}", f"{what}: {_end(here)}, from {_end(there)}", wire.key)


def lead_labels(leads: Iterable[BatteryLead]) -> Iterator[Label]:
    """Return a label for each end of the battery's own leads and the earth straps."""
    for lead in leads:
        for here, there in (lead.ends, lead.ends[::-1]):
            what = f"{lead.size_told} {lead.colour}"
            yield Label(f"{lead.number}  {lead.name}", f"{what}: {_end(here)}, from {_end(there)}", lead.name)


def _end(end: PieceEnd) -> str:
    return end.told if isinstance(end, ConnectorWay) else f"{end.told} ({end.point})"


def connector_labels(views: Iterable[ConnectorView]) -> Iterator[Label]:
    """Return a label for each connector: its name, and its ways in use."""
    for view in views:
        used = sum(way.wire is not None for way in view.ways)
        yield Label(view.name, f"at {view.at}: {used} of {len(view.ways)} ways in use", view.name)


def fitted(label: Label) -> Fitted:
    """Return a label with the largest letters that fit, on as few rows as it needs."""
    rows = 1
    while True:
        for size in SIZES:
            plain, bold = Style(size), Style(size, bold=True)
            head = folded(label.head, WIDE - 2 * EDGE, bold)
            lines = folded(label.text, WIDE - 2 * EDGE, plain)
            if (len(head) + len(lines)) * line_height(plain) <= rows * HIGH - EDGE:
                return Fitted(label, size, head, lines, rows)
        rows += 1


def label_sheets(labels: Iterable[Label], prefix: str) -> tuple[Element, ...]:
    """Return the sheets of labels; ids begin with ``prefix``."""
    sheets = list(_filled([fitted(label) for label in labels]))
    return tuple(_sheet(spots, f"{prefix}-{number}") for number, spots in enumerate(sheets, 1))


LabelSpot = tuple[Fitted, int, int]
"""A label, its column and the row that it begins in."""


def _filled(labels: Sequence[Fitted]) -> Iterator[list[LabelSpot]]:
    """Fill sheets column by column; one that is higher than what is left of a column goes on the next."""
    spots: list[LabelSpot] = []
    column = row = 0
    for label in labels:
        if row and row + label.rows > DOWN:
            column, row = column + 1, 0
        if column == ACROSS:
            yield spots
            spots, column = [], 0
        spots.append((label, column, row))
        row += label.rows
    if spots:
        yield spots


def _sheet(spots: Sequence[LabelSpot], prefix: str) -> Element:
    wide, high = SHEET
    return element(
        "svg",
        element("title", "Labels", id=f"{prefix}-title"),
        element("desc", SAID, id=f"{prefix}-desc"),
        element("rect", width=wide, height=high, fill="#fff", class_="paper"),
        line(LEFT, TOP - 60, SAID, Style(36)),
        *(_drawn(*spot) for spot in spots),
        xmlns=NAMESPACE,
        id=prefix,
        role="img",
        aria_labelledby=f"{prefix}-title {prefix}-desc",
        viewBox=f"0 0 {wide} {high}",
        width=f"{wide / 10:g}mm",
        height=f"{high / 10:g}mm",
        font_family=FONTS,
    )


def _drawn(label: Fitted, column: int, row: int) -> Element:
    left, top = LEFT + column * WIDE, TOP + row * HIGH
    frame = element(
        "rect", x=left, y=top, width=WIDE, height=label.rows * HIGH, fill="none", stroke="#777", stroke_width=2,
        stroke_dasharray="12 8",
    )  # fmt: skip
    return group([frame, *_lines(label, left + EDGE, top + EDGE / 2)], class_="label", data_label=label.label.known_by)


def _lines(label: Fitted, left: float, top: float) -> Iterator[Element]:
    plain, bold = Style(label.size), Style(label.size, bold=True)
    styled = [*((text, bold) for text in label.head), *((text, plain) for text in label.lines)]
    for number, (text, style) in enumerate(styled):
        yield line(left, top + ASCENT * label.size + number * line_height(plain), text, style)

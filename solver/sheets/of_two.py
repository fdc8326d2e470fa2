"""Two units in place of one among the units that are compared: which were tried, and what is not told of them."""

from collections.abc import Sequence

from solver.comparing.tables import OfBike, OfTwo
from solver.sheets.layout import Page
from solver.words.figures import listed


def write_of_two(of_two: OfTwo, bikes: Sequence[OfBike], page: Page) -> None:
    """Write which units were put together, which were not and how to ask for them."""
    page.line("")
    page.line(f"Two units in place of one: {_tried(of_two)}{_left_out(of_two)}")
    if any(one.row.headroom for table in bikes for one in table.rows):
        page.line("Headroom is told of single units only.")


def _tried(of_two: OfTwo) -> str:
    if not of_two.units:
        return "none was tried."
    if len(of_two.units) == 1:
        return f"two {of_two.units[0]} were tried."
    return f"each pair of {listed(of_two.units)}, twice the same too."


def _left_out(of_two: OfTwo) -> str:
    if not of_two.do_alone:
        return ""
    does = "does" if len(of_two.do_alone) == 1 else "do"
    return f" {listed(of_two.do_alone)} {does} alone; name units with --unit to pair these as well."

"""Every picture of a plan, as text by the prefix of its ids."""

from functools import cache

from laid_bikes import FITTING, solved
from outcomes import EXAMPLES, PROFILES
from portloom.documents.draw_up import draw_up
from portloom.documents.wiring.pieces import wiring_of
from portloom.explaining.solved import Solved
from portloom.report.svg.cases import case_pictures
from portloom.report.svg.circuit import circuit_pictures
from portloom.report.svg.loom import loom_pictures
from portloom.report.svg.paging import svg_text

EXAMPLE_PLANS = (*FITTING, ("harbour-trail", "sixteen-way"), ("sidecar-hauler", "twenty-four-way"))


def pictures(found: Solved) -> dict[str, tuple[str, ...]]:
    """Return the pages of each picture."""
    laid, plan = found.laid, draw_up(found.laid, found.assignment)
    wiring = wiring_of(laid)
    drawn = {
        "loom": loom_pictures(laid, plan, wiring, "loom"),
        "circuit": circuit_pictures(laid, plan, wiring, "circuit"),
        "cases": case_pictures(laid, plan, "cases"),
    }
    return {name: tuple(map(svg_text, pages)) for name, pages in drawn.items()}


@cache
def solved_example(bike: str, unit: str) -> Solved:
    """Return the best plan of an example, which must be there."""
    found = solved((EXAMPLES / f"{bike}.yaml").read_text("utf-8"), (PROFILES / f"{unit}.yaml").read_text("utf-8"))
    assert found is not None
    return found


@cache
def pictured_example(bike: str, unit: str) -> dict[str, tuple[str, ...]]:
    """Return the pictures of an example."""
    return pictures(solved_example(bike, unit))

"""Pictures of plans whose dashes show something: nothing on top of each other, all there; the bikes are made up."""

from collections.abc import Iterable
from itertools import chain
from xml.etree import ElementTree as ET

from laid_bikes import solved
from oracle.random_bikes import random_case
from pictured import pictures
from portloom.documents.wiring.pieces import wiring_of
from portloom.explaining.solved import Solved
from slices import each_seed
from test_dashes import NEUTRAL, OIL, UNIT, bike
from test_pictures import check_pages, roots


def pictured_bike(*shows_and_inputs: str) -> tuple[Solved, dict[str, tuple[str, ...]]]:
    """Return the plan of the bike by hand, and its pictures."""
    shows, *inputs = shows_and_inputs
    found = solved(bike(shows, *inputs), UNIT)
    assert found is not None
    return found, pictures(found)


@each_seed(range(1000, 1003), range(1003, 1030))
def test_random_bikes_with_dashes(seed: int) -> None:
    """No text lies on another or on a line, and every wire of a circuit is drawn."""
    found = solved(*random_case(seed, "shown"))
    if found is None:
        return
    drawn = pictures(found)
    check_pages(drawn)
    wires = {wire.key for wire in wiring_of(found.laid).wires if wire.kind.startswith("dash")}
    groups = chain.from_iterable(root.iter() for root in roots(drawn, "circuit"))
    assert wires <= {element.get("data-wire") for element in groups}


def test_diodes_point_the_way_that_current_flows() -> None:
    """To the dash from the main beam's circuit; to the neutral switch from dash and unit.

    The unit stands on the left: the diode at it points to the right, that at the dash to the left.
    """
    _, drawn = pictured_bike("[main beam, neutral switch]", NEUTRAL)
    found = [
        "scale(-1 1)" in element.get("transform", "")
        for root in roots(drawn, "circuit")
        for element in root.iter()
        if element.get("class") == "sign diode"
    ]
    legend = 1
    assert sorted(found[: len(found) - legend]) == [False, False, True]


def test_what_only_a_dash_reads_has_a_part_of_the_diagram() -> None:
    """The dash stands where other circuits have the unit's port, and the loom's picture names the sensor."""
    _, drawn = pictured_bike("oil pressure switch", OIL)
    assert "Read by dashes alone" in told(drawn["circuit"])
    assert "oil pressure switch, to dash" in told(drawn["loom"])


def told(pages: Iterable[str]) -> str:
    """Return all words of a picture, one blank between them."""
    return " ".join(" ".join(chain.from_iterable(ET.fromstring(page).itertext() for page in pages)).split())

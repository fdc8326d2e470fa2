"""The same of a bike with a load on an output that has a switch of its own, off the way to it: two wires in a leg."""

from pathlib import Path

import pytest

from .compared import wrong
from .decisions import carried, legs_as_told, none_too_thick, within_drops
from .entries import ROOT
from .figures import TABLES, Sheet
from .printed import Portloom, sheet_of

PLATE = "- {part: plate lamp, at: tail, lamp: W5W"
PUMP = "- {part: fuel pump, at: pump, current: 5.5 A"
TRAIL = (ROOT / "examples/harbour-trail.yaml").read_text(encoding="utf-8")


@pytest.fixture(
    scope="module",
    params=[(PLATE, "right bar"), pytest.param((PUMP, "tail"), marks=pytest.mark.long)],
    ids=lambda pair: pair[1],
)
def switched(request: pytest.FixtureRequest, portloom: Portloom, tmp_path_factory: pytest.TempPathFactory) -> Sheet:
    """Return the sheet of the Harbour Trail with a switch in the wire of a load."""
    load, point = request.param
    assert TRAIL.count(load) == 1
    path: Path = tmp_path_factory.mktemp("bike") / "switched.yaml"
    path.write_text(TRAIL.replace(load, f"{load}, own_switch: {point}"), encoding="utf-8")
    return sheet_of(portloom, path, "eleven-way")


def test_two_wires_of_a_circuit_lie_in_a_leg(switched: Sheet) -> None:
    """The wire to the switch and the one on from it have a leg in common."""
    (onward,) = switched.plan.onward
    (first,) = (wire for wire in switched.plan.outputs if wire.name == onward.name)
    assert set(onward.legs) & set(first.legs)


@pytest.mark.long
@pytest.mark.parametrize("table", TABLES)
def test_a_table(switched: Sheet, table: str) -> None:
    """Each printed figure is the one that the sheet works out."""
    assert [*wrong(switched, table)] == []


@pytest.mark.long
def test_decisions(switched: Sheet) -> None:
    """Every wire carries what it must, loses what it may, is no thicker than that and as long as it is told."""
    for check in (carried, none_too_thick, within_drops, legs_as_told):
        assert [*check(switched)] == [], check.__name__

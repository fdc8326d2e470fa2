"""The same of a bike with a load on an output that has a switch of its own, off the way to it: two wires in a leg."""

from pathlib import Path

import pytest

from .entries import ROOT
from .figures import Sheet
from .printed import Portloom, sheet_of
from .test_decisions import (
    test_drops_are_within_their_limits as drops_are_within,
)
from .test_decisions import (
    test_every_wire_carries_what_it_must as every_wire_carries,
)
from .test_decisions import (
    test_legs_are_as_long_as_they_are_told as legs_are_as_long,
)
from .test_decisions import (
    test_no_wire_is_thicker_than_it_must_be as no_wire_is_thicker,
)
from .test_figures import TABLES, at, worked

PLATE = "- {part: plate lamp, at: tail, lamp: W5W"
PUMP = "- {part: fuel pump, at: pump, current: 5.5 A"
TRAIL = (ROOT / "examples/harbour-trail.yaml").read_text(encoding="utf-8")


@pytest.fixture(scope="module", params=[(PLATE, "right bar"), (PUMP, "tail")], ids=lambda pair: pair[1])
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


@pytest.mark.parametrize("table", TABLES)
def test_a_table(switched: Sheet, table: str) -> None:
    """Each printed figure is the one that the sheet works out."""
    wrong = {where: (at(switched.printed, where), one) for where, one in worked(switched, table).items()}
    assert {where: pair for where, pair in wrong.items() if not pair[1].agrees(pair[0])} == {}


def test_decisions(switched: Sheet) -> None:
    """Every wire carries what it must, loses what it may, is no thicker than that and as long as it is told."""
    every_wire_carries(switched)
    no_wire_is_thicker(switched)
    drops_are_within(switched)
    legs_are_as_long(switched)

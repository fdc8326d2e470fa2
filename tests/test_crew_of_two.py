"""Why two units do not do, where no counting tells: a least set of loads, certified by edits of the bike's file.

The bike is made up. By hand: the opening of 4 mm leaves 3 mm in a sleeve of 1 mm; one wire of 0.75 mm2, 1.9 mm thick,
passes it, two of them do not side by side. So of what sits at the neck, earthed there, one load can be fed.
"""

import json
from pathlib import Path

import pytest
import yaml

from calls import Portloom
from portloom.inputs.files import unit_from_text
from portloom.planning.plan import NothingFits, Planned, plan
from unasked import bike_from_text

BIKE = """
bike: Trial single
supply: {running: 14 V, battery: {capacity: 10 Ah, at: tray}}
frame:
  legs:
    - {between: [tray, neck], length: 600 mm, opening: 4 mm}
    - {between: [tray, tail], length: 400 mm}
  earth: [tray, neck]
places: [{name: on the tray, front: tray}, {name: at the tail, front: tail}]
later: []
ignition: own
stand: none
reels: [0.75 mm2, 1 mm2, 1.5 mm2, 2.5 mm2]
loads:
  - {name: rear heater, part: heated seat, at: tail, power: 100 W}
  - {name: front heater, part: heated grips, at: neck, power: 100 W}
  - {name: left spot, part: spot lamp, at: neck, power: 70 W, kind: filament}
  - {name: right spot, part: spot lamp, at: neck, power: 70 W, kind: filament}
inputs:
  - {name: rear button, at: tail, signal: earth, action: latch, operates: rear heater}
  - {name: front button, at: tray, signal: earth, action: latch, operates: front heater}
  - {name: spot button, at: tray, signal: earth, action: latch, operates: [left spot, right spot]}
"""
UNIT = """
unit: three-way
feed: {limit: 60 A, wire_max: 10 mm2, fuse_max: 40 A}
outputs:
  - {names: [out 1, out 2, out 3], limit: 20 A, peak: 200 A, peak_for: 600 ms, trip: [5 A, 10 A, 15 A], wire_max: 4 mm2}
inputs: [{names: [in 1, in 2, in 3], accepts: earth}]
"""
TOLD = (
    "front heater and left spot alone, every other load left off, have no plan on both; "
    "without either of them the other has one"
)


def fits_with(*names: str) -> bool:
    """Tell whether the file's bike fits on both with these loads alone, and the switches that work them."""
    tree = yaml.safe_load(BIKE)
    tree["loads"] = [load for load in tree["loads"] if load["name"] in names]
    for switch in tree["inputs"]:
        worked = switch["operates"] if isinstance(switch["operates"], list) else [switch["operates"]]
        switch["operates"] = [name for name in worked if name in names]
    tree["inputs"] = [switch for switch in tree["inputs"] if switch["operates"]]
    unit = unit_from_text(UNIT, "unit")
    found = plan(bike_from_text(yaml.safe_dump(tree), "bike"), unit, unit)
    assert isinstance(found, Planned | NothingFits)
    return isinstance(found, Planned)


@pytest.fixture
def folder(tmp_path: Path) -> Path:
    (tmp_path / "bike.yaml").write_text(BIKE, "utf-8")
    (tmp_path / "unit.yaml").write_text(UNIT, "utf-8")
    return tmp_path


CALL = ("plan", "bike.yaml", "--unit", "unit.yaml", "--unit", "unit.yaml")


def test_a_least_set_of_loads_is_told(portloom: Portloom, folder: Path) -> None:
    """In text and JSON; of the loads that might be named, those that come first in the file."""
    text = portloom(*CALL, folder=folder)
    assert text.returncode == 1
    assert f"Why: {TOLD}." in " ".join(text.stdout.split())
    assert json.loads(portloom(*CALL, "--json", folder=folder).stdout)["why_not"] == {"sentence": TOLD, "rules": []}


def test_the_set_is_one_by_the_file() -> None:
    """These loads alone have no plan on both; each of them alone has one."""
    assert not fits_with("front heater", "left spot")
    assert fits_with("front heater")
    assert fits_with("left spot")


def test_with_a_time_limit_it_is_not_looked_for(portloom: Portloom, folder: Path) -> None:
    """Each step is planned anew; so only counting tells then, and here it tells nothing."""
    said = " ".join(portloom(*CALL, "--time-limit", "60", folder=folder).stdout.split())
    assert "Why: no single cause: neither ports nor currents." in said


def test_what_is_not_covered_is_said(portloom: Portloom, folder: Path) -> None:
    """Of two units one line is told; why, of two, is refused with where each is told."""
    said = " ".join(portloom(*CALL, folder=folder).stdout.split())
    assert "Of two units no more reasons are looked for, and no changes are tried." in said
    refused = portloom("why", *CALL[1:], folder=folder)
    assert refused.returncode == 2
    assert "'portloom why' explains one unit, and changes are tried for one alone" in refused.stderr

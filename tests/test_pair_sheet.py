"""Two units instead of one as people and programs read it: the Harbour Trail on two eight-ways."""

import json
from functools import cache
from io import StringIO

import pytest
from rich.console import Console

from outcomes import EXAMPLES, PROFILES
from portloom.documents.document import Plan
from portloom.documents.json import plan_json
from portloom.inputs.files import read_unit
from portloom.planning.plan import Planned, plan
from portloom.report.text.layout import TextPage
from portloom.report.text.plan import write_plan
from unasked import read_bike


@cache
def harbour_trail() -> Plan:
    """Return the plan."""
    unit = read_unit(PROFILES / "eight-way.yaml")
    answer = plan(read_bike(EXAMPLES / "harbour-trail.yaml"), unit, unit)
    assert isinstance(answer, Planned)
    return answer.plan


def sheet(width: int) -> str:
    """Write the sheet so many letters wide."""
    text = StringIO()
    write_plan(harbour_trail(), TextPage(Console(width=width, file=text)))
    return text.getvalue()


def test_the_verdict_tells_both_places() -> None:
    """Before anything else what may keep the engine running; what fits, proved; where; what two units leave unused."""
    first, *lines = sheet(100).splitlines()
    assert first.startswith("WARNING, before anything else")
    del lines[: lines.index("Harbour Trail 650 on two units: FITS, proven best.")]
    assert lines[1] == "Two units instead of one: the eight-way under seat and the eight-way behind the headstock."
    assert lines[2] == "Not used with two units: neck gatherer."


def test_each_unit_has_its_own_part() -> None:
    """Main fuse, worst case, outputs, inputs, free ports and cases of each; returns and looms once."""
    text = sheet(100)
    first, second = text.index("First unit:"), text.index("Second unit:")
    for part in (text[first:second], text[second:]):
        for told in ("Main fuse", "Worst case:", "  output  loads", "  input  switches", "Cases against the limits"):
            assert told in part
    assert text.count("Looms against openings") == text.count("Returns, whichever unit") == 1


@pytest.mark.parametrize("width", [40, 60, 100])
def test_no_line_is_wider_than_the_page(width: int) -> None:
    """Tables and lines fold."""
    assert max(len(line) for line in sheet(width).splitlines()) <= width


def test_the_cautions_come_last() -> None:
    """As on every sheet."""
    assert sheet(100).rstrip().endswith("before the bike is ridden.")


def test_json_has_every_figure() -> None:
    """The parts of the cost add up, each load and switch is there, and no unit draws more than its fuse carries."""
    document = json.loads(json.dumps(plan_json(harbour_trail())))
    assert document["cost_mm"] == pytest.approx(document["wire_run_mm"] + document["spare_port_loss_mm"])
    bike = read_bike(EXAMPLES / "harbour-trail.yaml")
    told = {name for unit in document["units"] for line in unit["inputs"] for name in line["inputs"]}
    assert told == {switch.name for switch in bike.inputs}
    driven = {name for unit in document["units"] for line in unit["outputs"] for name in line["loads"]}
    assert driven >= {load.name for load in bike.loads if load.fed == "unit"}
    for unit in document["units"]:
        assert 1.25 * unit["feed"]["worst_a"] <= unit["feed"]["main_fuse_a"]
        assert unit["feed"]["worst_a"] == max(case["current_a"] for case in unit["cases"])
        assert all(line["trip_a"] < unit["feed"]["main_fuse_a"] for line in unit["outputs"])


def test_lengths_add_up_by_hand() -> None:
    """Wire run: feeds, outputs, inputs, returns, fed loads and the lead to the fan's own switch, each once.

    That lead: battery - tray 220 mm, tray - engine 400 mm, engine - radiator 420 mm.
    """
    plan = harbour_trail()
    wires = [unit.feed.wire for unit in plan.units]
    wires += [line.wire for unit in plan.units for line in unit.outputs]
    wires += [line.wire for unit in plan.units for line in unit.inputs]
    wires += [line.wire for line in (*plan.returns, *plan.fed)]
    leads = [line.wire for line in plan.other_wires if line.kind == "coil lead"]
    assert [wire.run for wire in leads] == [(220 + 400 + 420) * 1000]
    wires += leads
    assert plan.wire_run == sum(wire.run for wire in wires)

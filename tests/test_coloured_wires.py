"""The wires of a plan, as they are given their colours: each once, where the plan has it, sizes and all.

The bikes are made up.
"""

from itertools import pairwise

import networkx as nx
import pytest

from outcomes import EXAMPLES, PROFILES, planned
from solver.checking.colour_count import measured
from solver.colours.question import Question
from solver.plans.coloured_wires import colour_question
from solver.plans.document import Plan
from solver.reading.bike import bike_from_text
from solver.search.colouring import coloured
from solver.words.bike import Bike, Colour

PLANS = [
    ("harbour-trail", "eleven-way"),
    ("bare-single", "six-way"),
    ("town-twin", "fourteen-way"),
    ("dressed-tourer", "eleven-way"),
]
SETTLED = {"brake lamp": "{base: BU, stripe: WH}", "horn": "{base: GNYE}", "key": "{base: PK}"}


def asked(bike: str, unit: str, settled: dict[str, str]) -> tuple[Bike, Plan, Question]:
    """Give a bike, its plan and the question of its colours, some of them settled in the bike's file."""
    text = (EXAMPLES / f"{bike}.yaml").read_text("utf-8")
    for name, colour in settled.items():
        assert f"name: {name}," in text
        text = text.replace(f"name: {name},", f"name: {name}, colour: {colour},")
    read, plan = bike_from_text(text, "bike"), planned(text, (PROFILES / f"{unit}.yaml").read_text("utf-8"))
    return read, plan, colour_question(read, plan)


@pytest.mark.parametrize(("bike", "unit"), PLANS)
def test_each_leg_holds_the_wires_that_the_plan_counts(bike: str, unit: str) -> None:
    """A leg has as many wires to colour as lie in it, less what only lies alongside; no key stands twice."""
    read, plan, question = asked(bike, unit, {})
    beside = sum(thing.count for thing in read.alongside)
    for number, leg in enumerate(plan.legs):
        here = sum(number in wire.legs for wire in question.wires)
        assert here <= leg.wires <= here + beside
    assert len({wire.key for wire in question.wires}) == len(question.wires) > 10


@pytest.mark.parametrize(("bike", "unit"), PLANS)
def test_a_wire_goes_through_the_connectors_on_its_way(bike: str, unit: str) -> None:
    """A wire between two points passes the connectors that networkx finds strictly inside its path."""
    read, plan, question = asked(bike, unit, {})
    found = {wire.key: wire for wire in question.wires}
    through = 0
    for line in (*plan.fed, *plan.returns, *plan.other_wires):
        if len(line.ends) == 1 and line.wire.legs:
            legs = [leg for leg in read.frame.legs if leg.label in line.wire.legs]
            way = nx.shortest_path(nx.Graph([leg.between for leg in legs]), line.start, line.ends[0])
            assert len(list(pairwise(way))) == len(legs)
            inside = [point for point in read.frame.connectors if point in way[1:-1]]
            assert list(found[f"{line.kind} {line.name}"].connectors) == inside
            through += len(inside)
    assert through or not read.frame.connectors


@pytest.mark.parametrize(("bike", "unit"), PLANS)
def test_every_example_is_proved(bike: str, unit: str) -> None:
    """The colours of every example are proved best; no other wire looks like earth."""
    _, _, question = asked(bike, unit, {})
    found = coloured(question)
    assert found.proven
    assert found.measure == measured(question, dict(found.colours))
    assert (found.measure.stray_earths, found.measure.like_earths) == (0, 0)


def test_settled_colours_are_kept() -> None:
    """A colour on a load or an input is that of its circuit's wire, or of its own feed; its return stays earth."""
    _, plan, question = asked("harbour-trail", "eleven-way", SETTLED)
    found = dict(coloured(question).colours)
    output = next(line.port for line in plan.outputs if "brake lamp" in line.loads)
    read = next(line.port for line in plan.inputs if "key" in line.switches)
    assert found[f"output {output}"] == Colour(base="BU", stripe="WH")
    assert found["fed load horn"] == Colour(base="GNYE")
    assert found[f"input {read}"] == Colour(base="PK")
    assert sum(wire.fixed is not None for wire in question.wires) == 3
    assert {found[wire.key].base for wire in question.wires if wire.kind == "earth"} == {"BK"}

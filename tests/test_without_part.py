"""A load of which nothing says what it is: allowed, and told which rules can't judge it. Common practice, no source."""

from pathlib import Path

import pytest

from calls import Portloom
from outcomes import outcome, planned
from portloom.planning.plan import NothingFits
from rule_bikes import LAMP, OUT, bike, unit

BY_PART = ("brake-lamp", "engine-stop", "indicator-pair", "run", "start")
HORN = "part: horn, at: neck, current: 4 A, own_switch: neck"


def not_judged(*loads: str) -> str:
    """Return what a plan of these loads says that it does not judge."""
    outputs = [OUT.replace("out 1", f"out {number}") + ", switch_modes: [steady, hold]" for number in (1, 2)]
    plan = planned(bike(*loads, more="ignition: own"), unit(*outputs))
    return " ".join(plan.not_yet_judged)


@pytest.mark.parametrize("rule", BY_PART)
def test_what_a_part_would_bring_is_told_by_name_as_not_judged(rule: str) -> None:
    """A lamp that may be a brake lamp is not called judged by the brake lamp's rule."""
    told = not_judged(f"{LAMP}, current: 1 A", HORN)
    assert "lamp has no 'part'" in told
    assert rule in told


def test_nothing_is_told_where_every_load_says_what_it_is() -> None:
    """A horn is a horn."""
    assert "no 'part'" not in not_judged(HORN)


@pytest.mark.parametrize("part", ["", "part: left indicator, "])
def test_an_indicator_that_is_not_said_to_be_one_is_named_as_the_reason(part: str) -> None:
    """The other end of a side is on the bike, without its part or with the other side's: the hint names it."""
    front, rear = (
        f"name: {end} right indicator, at: neck, current: 1 A, own_switch: neck" for end in ("front", "rear")
    )
    outputs = [OUT.replace("out 1", f"out {n}") + ", switch_modes: [steady, flash]" for n in (1, 2)]
    found = outcome(
        bike(f"{front}, part: right indicator", f"{rear}, {part}".rstrip(", "), more="ignition: own"), unit(*outputs)
    )
    assert isinstance(found, NothingFits)
    hints = {hint for conflict in found.conflicts for hint in conflict.hints}
    assert "'rear right indicator' is called a right indicator: write 'part: right indicator' there" in hints


def test_no_last_word_where_something_untried_may_help(portloom: Portloom, tmp_path: Path) -> None:
    """It is not said that nothing makes it fit, where a part that is missing is the reason."""
    front = "name: front right indicator, part: right indicator, at: neck, current: 1 A, own_switch: neck"
    (tmp_path / "bike.yaml").write_text(
        bike(front, "name: rear right indicator, at: neck, current: 1 A", more="ignition: own")
    )
    (tmp_path / "unit.yaml").write_text(unit(OUT + ", switch_modes: [steady, flash]", OUT.replace("1,", "2,", 1)))
    said = portloom("why", "bike.yaml", "--unit", "unit.yaml", folder=tmp_path).stdout
    assert "no change that this program knows" not in said
    assert "what may help, and was not tried, stands above" in " ".join(said.split())

"""A bike in its builder's own words is planned in the second run at the latest, by doing what the first run told.

What is held is a property: an obedient builder, who reads no more than the printed lines, is told nothing a second
time. It needs no expected text. Words of the trade: common practice, no source.
"""

from pathlib import Path

import pytest

from calls import Portloom
from obedient import Builder
from own_words import BIKES, broken
from portloom.inputs.files import bike_from_text
from portloom.inputs.problems import BadFile
from slices import on_seeds, third_of
from small_bikes import OWN_SPARK, small_bike


def told(text: str) -> str:
    """Return what is printed of a file that is refused, nothing where it is taken."""
    try:
        bike_from_text(text, "bike.yaml")
    except BadFile as bad:
        return str(bad)
    return ""


@third_of("name", [*BIKES], 0)
def test_own_words_are_planned_in_two_runs(name: str, portloom: Portloom, tmp_path: Path) -> None:
    """The first run refuses the file and tells everything; the second plans it, or proves that nothing fits."""
    (tmp_path / "bike.yaml").write_text(BIKES[name], "utf-8")
    first = portloom("plan", "bike.yaml", "--unit", "fourteen-way", folder=tmp_path)
    assert first.returncode == 2
    builder = Builder(BIKES[name])
    (tmp_path / "mended.yaml").write_text(builder.obey(first.stderr.partition("\nMore: ")[0]), "utf-8")
    second = portloom("plan", "mended.yaml", "--unit", "fourteen-way", folder=tmp_path)
    assert builder.not_understood == []
    assert (second.stderr, second.returncode in (0, 1)) == ("", True)


@on_seeds(range(20), range(20, 300), range(300, 600))
def test_a_spoilt_bike_is_told_all_at_once(seeds: range) -> None:
    """Random bikes with one to five slips, gaps and wrong words are read once their first lines are obeyed."""
    again = {}
    for seed in seeds:
        text = broken(seed)
        builder = Builder(text)
        left = told(builder.obey(told(text)))
        if left or builder.not_understood:
            again[seed] = (left, builder.not_understood)
    assert again == {}


@pytest.mark.long
def test_the_spoilt_bikes_are_spoilt() -> None:
    """Most of them are refused at first, and for all sorts of reasons."""
    first = [told(broken(seed)) for seed in range(80)]
    assert sum(bool(text) for text in first) > 56
    for reason in ("is no part", "may be several", "unknown key", "has no unit", "there is no mode", "once it is "):
        assert any(reason in text for text in first), reason


def test_a_misspelt_part_is_asked_what_it_will_be_asked() -> None:
    """The question stands with the part that the hint names, in the same run."""
    text = small_bike(["{part: radiator fna, at: radiator, current: 5 A}"], (), OWN_SPARK)
    lines = [line.partition(": ")[2] for line in told(text).splitlines()]
    assert lines[0].startswith("once it is a fan: what works 'fan'? nothing on the bike does; add to 'inputs' ")
    assert lines[1].startswith("'radiator fna' is no part; write 'part: fan'")


def test_what_an_unclear_part_may_supply_is_asked_with_its_choice() -> None:
    """A stop switch that may be the engine's: no question of another stop but where it is a brake's."""
    text = small_bike(["{part: CDI, at: engine, current: 2 A}"], ["{part: stop switch, at: pedal}"], "stand: none")
    stops = [line for line in told(text).splitlines() if "what stops the engine?" in line]
    assert len(stops) == 1
    assert "once the entry in line 21 is a front brake switch or a rear brake switch: what stops" in stops[0]


def test_what_is_needed_whichever_is_chosen_is_asked_plainly() -> None:
    """A headlight that may be either beam settles nothing of the engine's stop."""
    loads = ["{part: headlight, at: headlamp shell, lamp: H7}", "{part: CDI, at: engine, current: 2 A}"]
    stops = [line for line in told(small_bike(loads)).splitlines() if "what stops the engine?" in line]
    assert [line.split(": ")[1].startswith("what stops the engine?") for line in stops] == [True]


def test_of_two_that_may_be_the_same_one_is_each() -> None:
    """Two brake switches without an end are offered as the front one and the rear one, not twice the front one."""
    lamp = "{part: brake lamp, at: tail, lamp: P21W}"
    text = small_bike([lamp], ["{part: brake switch, at: headstock}", "{part: brake switch, at: pedal}"], OWN_SPARK)
    front, rear = "'part: front brake switch'", "'part: rear brake switch'"
    assert [line.partition("; ")[2] for line in told(text).splitlines()] == [
        f"write {front} or {rear}", f"write {rear} or {front}",
    ]  # fmt: skip

"""What a plan says of its values: where each comes from, what must be bought for it, and what nobody could look up.

Sources: 33 CFR 183.425 Table 5 (its least size is 18 AWG) and its Note 2; UN R37. From memory: the classes of ISO 6722
(A 85 C, B 100 C, C 125 C, F 200 C), the watts of most lamps. Common practice, no source: conductors at 85 C, what wire
thinner than 18 AWG carries, that a wire below 1 A heats no other.
"""

import pytest

from outcomes import planned
from portloom.base.copper import class_for
from rule_bikes import LAMP, OUT, bike, unit


def assumed(more: str = "", load: str = f"{LAMP}, current: 1 A") -> str:
    """Return what a plan of a small bike says that it assumed."""
    return "\n".join(planned(bike(load, more=more), unit(OUT)).assumed)


@pytest.mark.parametrize(("column", "first"), [(60, "A"), (80, "A"), (90, "B"), (105, "C"), (200, "F")])
def test_the_class_that_earns_a_column(column: int, first: str) -> None:
    """A cable has the columns up to its own temperature: class B of 100 C that of 90 C, not that of 105 C."""
    assert class_for(column) == first


def test_the_insulation_is_said_as_what_to_buy() -> None:
    """At 105 C the usual class B is not enough, and the plan says so; at 90 C it is."""
    hot = assumed()
    assert "insulation 105 C, by that column of 33 CFR 183.425 Table 5: buy wire rated for it" in hot
    assert "class C (125 C) earns it; the usual class B (100 C) earns only the 90 C column" in hot
    usual = assumed("assume: {insulation: 90 C}")
    assert "class B (100 C) earns it (classes of ISO 6722 from memory)" in usual


def test_what_the_table_does_not_say() -> None:
    """Its least size is 18 AWG, 0.823 mm2 (ASTM B258); of reels from 1 mm2 on all have a row."""
    assert "the table starts at 18 AWG: what wire of 0.5 mm2, 0.75 mm2 carries is from memory" in assumed()
    thick = assumed("reels: [1 mm2, 2.5 mm2]")
    assert "the table starts" not in thick
    assert "a wire below 1 A heats no other (common practice, no source)" in thick


def test_the_temperature_of_conductors_and_its_formula_have_each_their_source() -> None:
    """85 C is common practice; how resistance grows with it is the handbook's."""
    line = "conductors at 85 C, or at ambient in a hotter leg (common practice, no source); their resistance"
    assert line in assumed()


@pytest.mark.parametrize(
    ("lamp", "told"),
    [("HS1 dipped", "HS1 dipped 36.75 W"), ("W16W", "W16W 21.35 W"), ("H4 dipped", None), ("H1", None)],
)
def test_lamps_from_memory_are_marked(lamp: str, told: str | None) -> None:
    """Rows of UN R37 that were seen in print need no word; others have one, with their watts."""
    said = assumed(load=f"{LAMP}, lamp: {lamp}")
    line = "greatest watts of lamps, from memory (look them up in UN R37)"
    assert (f"{line}: {told}" in said, line in said) == (told is not None, told is not None)

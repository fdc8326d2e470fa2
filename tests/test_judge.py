"""Every figure of printed plans is the one that a sheet works out: a slice of ``python -m tests.judge``.

The sheet shares no code with the program: it reads both files as the oracle does. The bikes are random and invented.
"""

import re
from decimal import Decimal

import pytest

from judge.trials import BUILT, FAMILIES, TWO_UNITS, built_findings, findings
from referee.command import Command, command
from referee.record import HELD
from slices import FEW, ONE_MORE, each_seed, third_of


@third_of("family", FAMILIES, 2)
@each_seed(FEW[:1], (*FEW[1:], ONE_MORE))
def test_every_figure_is_the_one_that_is_worked_out(seed: int, family: str) -> None:
    """Of the plan's JSON and its lists; and each number of the JSON is worked out, or is a decision that is named."""
    more_keys = family != TWO_UNITS
    with command() as call:
        found = [*findings(call, family, seed, more_keys=more_keys)]
    assert [said for one in found if one.outcome != HELD for said in one.said] == []


LOOMS = [(1001, "wires"), (1002, "sharing"), (1000, "multiplexed")]
"""One that nothing is cut for, one with new wire that joins what lies, one with dead wire."""


@pytest.mark.parametrize(
    ("seed", "family"),
    [*LOOMS, *(pytest.param(seed, family, marks=pytest.mark.long) for seed in (*FEW, ONE_MORE) for family in BUILT)],
)
def test_every_figure_of_a_built_loom_is_the_one_that_is_worked_out(seed: int, family: str) -> None:
    """Of what is new the cost and copper, of what lies its lengths, of what is dead its place; and the change order."""
    with command() as call:
        found = [*built_findings(call, family, seed)]
    assert [said for one in found if one.outcome != HELD for said in one.said] == []
    assert found or (seed, family) not in LOOMS


@pytest.mark.parametrize(
    ("figure", "said"),
    [
        (r'"last_number": (\d+)', "figures: order: last_number: printed "),
        (r'"after": \{\s*"worst_a": ([0-9.]+)', "figures: order: change/after/worst_a: printed "),
        (r'"take_out": \[\s*\{\s*"number": (\d+)', "figures: order: change/take_out/0/number: printed "),
    ],
)
def test_a_wrong_figure_of_a_built_loom_is_told(monkeypatch: pytest.MonkeyPatch, figure: str, said: str) -> None:
    """A change order in which a number is one more than it is is refuted, by that figure."""
    printed = Command.printed

    def spoilt(call: Command, *texts: str, built: str | None = None) -> str:
        text = printed(call, *texts, built=built)
        if built is None:
            return text
        found = re.search(figure, text)
        assert found
        return f"{text[: found.start(1)]}{Decimal(found[1]) + 1}{text[found.end(1) :]}"

    monkeypatch.setattr(Command, "printed", spoilt)
    with command() as call:
        found = [one for one in built_findings(call, "multiplexed", 1000) if one.outcome != HELD]
    assert [text.startswith(said) for one in found for text in one.said] == [True]


def test_a_wrong_figure_is_told(monkeypatch: pytest.MonkeyPatch) -> None:
    """A plan whose cost is printed 1 mm too large is refuted, by the sheet and by the oracle."""
    printed, cost = Command.printed, re.compile(r'"cost_mm": ([0-9.]+)')
    monkeypatch.setattr(
        Command,
        "printed",
        lambda call, *texts: cost.sub(lambda found: f'"cost_mm": {Decimal(found[1]) + 1}', printed(call, *texts)),
    )
    with command() as call:
        found = [*findings(call, "sharing", FEW[0])]
    said = [said for one in found if one.outcome != HELD for said in one.said]
    assert len(said) == 2
    assert said[0].startswith("figures: whole: cost_mm: printed ")
    assert said[1].startswith("rules, cost and sizes: costs ")

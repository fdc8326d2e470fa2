"""Every figure of printed plans is the one that a sheet works out: a slice of ``python -m tests.judge``.

The sheet shares no code with the program: it reads both files as the oracle does. The bikes are random and invented.
"""

import re
from decimal import Decimal

import pytest

from judge.trials import FAMILIES, TWO_UNITS, findings
from referee.command import Command, command
from referee.record import HELD
from slices import FEW, each_seed


@pytest.mark.parametrize("family", FAMILIES)
@each_seed(FEW[:1], FEW[1:])
def test_every_figure_is_the_one_that_is_worked_out(seed: int, family: str) -> None:
    """Of the plan's JSON and its lists; and each number of the JSON is worked out, or is a decision that is named."""
    more_keys = family != TWO_UNITS
    with command() as call:
        found = [*findings(call, family, seed, more_keys=more_keys)]
    assert [said for one in found if one.outcome != HELD for said in one.said] == []


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

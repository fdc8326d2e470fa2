"""Every figure of three printed plans, worked out as in a spreadsheet from the two files and what the plan decided.

The sheet shares no code with the program: a module a table, values and their sources in `tables.py`. Decisions are
taken from the plan (place, way round, what is on which port, sizes, legs, the main fuse); what they must keep is
judged in `decisions.py`. The bikes and units are made up.
"""

import re
from decimal import Decimal
from pathlib import Path

import pytest

from slices import first_of

from .compared import at, is_decided, left_out, numbers, worked, wrong
from .entries import ROOT
from .figures import TABLES, Sheet
from .printed import PLANNED, Portloom, sheet_of
from .tables import F


@pytest.mark.parametrize("table", TABLES)
def test_a_wrong_figure_is_seen(sheet: Sheet, table: str) -> None:
    """A printed figure that is wrong by a hundredth and one unit of its last place agrees with none."""
    for where, figure in worked(sheet, table).items():
        printed = at(sheet.printed, where)
        if printed is not None and not figure.also:
            assert not figure.agrees(Decimal(printed) * Decimal("1.01") + Decimal(str(2 * figure.step + 0.001)))


@pytest.mark.parametrize("table", TABLES)
def test_a_table(sheet: Sheet, table: str) -> None:
    """Each printed figure is the one that the sheet works out."""
    assert [*wrong(sheet, table)] == []


def test_no_figure_is_left_out(sheet: Sheet) -> None:
    """Each number of the printed plan is worked out, or is a decision that is named with its reason."""
    done = {where for table in TABLES for where in worked(sheet, table)}
    assert left_out(sheet.printed, done) == []
    decided = [where for where, _ in numbers(sheet.printed) if where not in done and is_decided(where)]
    whole = [where for where in decided if not where.startswith("wires/")]  # of pieces the sums are worked out
    assert len(whole) < len(done) / 5


MULTIPLEXED = (PLANNED[0], PLANNED[2])


@first_of(("bike", "unit"), MULTIPLEXED, 1)
def test_what_a_multiplexer_saves(bike: str, unit: str, portloom: Portloom, tmp_path: Path) -> None:
    """Run, spare ports, inputs and looms beside those of the plan without it, which is worked out as well."""
    text = (ROOT / f"examples/{bike}.yaml").read_text(encoding="utf-8")
    without = tmp_path / "without.yaml"
    without.write_text(re.sub(r"(?m)^multiplexers:.*\n(?: +- .*\n)*", "", text), encoding="utf-8")
    here, there = sheet_of(portloom, ROOT / f"examples/{bike}.yaml", unit), sheet_of(portloom, without, unit)
    saves = here.printed["multiplexers"][0]["saves"]
    one, other = worked(here, "whole"), worked(there, "whole")
    for key in ("wire_run_mm", "spare_port_loss_mm"):
        assert F(saves[key]) == F(other[key].worked) - F(one[key].worked)  # type: ignore[arg-type]
    used = [len(plan["inputs"]) + len(plan["multiplexers"]) for plan in (there.printed, here.printed)]
    assert saves["inputs"] == used[0] - used[1]
    looms, looms_without = worked(here, "legs"), worked(there, "legs")
    order = [row["leg"] for row in here.printed["legs"]]
    changed = [n for n in range(len(order)) if looms[f"legs/{n}/diameter_mm"] != looms_without[f"legs/{n}/diameter_mm"]]
    assert [row["leg"] for row in saves["legs"]] == [order[number] for number in changed]
    for number, row in zip(changed, saves["legs"], strict=True):
        for key, figures in (("", looms), ("_without", looms_without)):
            assert figures[f"legs/{number}/wires"].agrees(row[f"wires{key}"])
            assert figures[f"legs/{number}/diameter_mm"].agrees(row[f"diameter{key}_mm"])

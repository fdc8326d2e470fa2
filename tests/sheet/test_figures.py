"""Every figure of three printed plans, worked out as in a spreadsheet from the two files and what the plan decided.

The sheet shares no code with the program: a module a table, values and their sources in `tables.py`. Decisions are
taken from the plan (place, way round, what is on which port, sizes, legs, the main fuse); what they must keep is
judged in `test_decisions.py`. The bikes and units are made up.
"""

import re
from collections.abc import Iterator
from decimal import Decimal
from pathlib import Path
from typing import Any

import pytest

from .entries import ROOT
from .figure import Figure
from .figures import Sheet
from .printed import PLANNED, Portloom, sheet_of
from .tables import F

TABLES = (
    "whole", "cases", "outputs", "inputs", "feed", "fed", "returns", "other_wires", "multiplexers", "legs",
    "protection", "lamps", "cranking", "leads", "energy",
)  # fmt: skip
DECIDED = {
    r"(outputs|fed|returns)/\d+/wire_mm2": "a size is chosen; what it must carry and may lose is judged below",
    r"feed/wire_mm2": "a size is chosen; what it must carry is judged below",
    r"feed/main_fuse_a": "chosen with the plan; what it must keep is judged below",
    r"wires/\d+/number": "the place of a wire in the list: 1 and up, below",
    r"wires/\d+/cut_mm/\d+": "the pieces of the lengths that are worked out: their sums, below",
    r"wires/\d+/connectors/\d+/way": "the order of the list: 1 and up at each connector, below",
    r"multiplexers/\d+/inputs/\d+/way": "the order of the list: 1 and up, below",
    r"multiplexers/\d+/saves/.*": "of another plan, without them: compared with that plan, printed, below",
}
"""Figures that the sheet does not work out, and why."""


def numbers(part: Any, at: str = "") -> Iterator[tuple[str, Decimal | int]]:
    """Return every number of a document by where it stands."""
    if isinstance(part, dict):
        for key, inner in part.items():
            yield from numbers(inner, f"{at}/{key}" if at else str(key))
    elif isinstance(part, list):
        for place, inner in enumerate(part):
            yield from numbers(inner, f"{at}/{place}")
    elif isinstance(part, Decimal | int) and not isinstance(part, bool):
        yield at, part


def at(part: Any, where: str) -> Any:
    """Return what stands somewhere in a document."""
    for word in where.split("/"):
        part = part[int(word)] if isinstance(part, list) else part[word]
    return part


def worked(sheet: Sheet, table: str) -> dict[str, Figure]:
    """Return the figures of a table."""
    return dict(getattr(sheet, table)())


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
    figures = worked(sheet, table)
    wrong = {where: (at(sheet.printed, where), one) for where, one in figures.items()}
    assert {where: pair for where, pair in wrong.items() if not pair[1].agrees(pair[0])} == {}


def test_no_figure_is_left_out(sheet: Sheet) -> None:
    """Each number of the printed plan is worked out, or is a decision that is named with its reason."""
    done = {where for table in TABLES for where in worked(sheet, table)}
    left = [where for where, _ in numbers(sheet.printed) if where not in done]
    assert [where for where in left if not any(re.fullmatch(known, where) for known in DECIDED)] == []
    whole = [where for where in left if not where.startswith("wires/")]  # of pieces the sums are worked out
    assert len(whole) < len(done) / 5


MULTIPLEXED = (PLANNED[0], PLANNED[2])


@pytest.mark.parametrize(("bike", "unit"), MULTIPLEXED)
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

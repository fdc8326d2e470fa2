"""The Harbour Trail's lists, word for word; ``--rewrite`` writes them anew, to be read before they are kept."""

import re
from itertools import pairwise
from pathlib import Path

from laid_bikes import EACH_FITTING, FITTING, laid_example
from portloom.documents.wiring.csv_files import csv_files
from portloom.documents.wiring.lists import lists_of
from portloom.report.text.cutting import SHEETS, sheet_texts
from portloom.report.text.layout import WIDTH

GOLDEN = Path(__file__).parent / "golden" / "lists"


def texts() -> dict[str, str]:
    """Return every text and CSV file of the Harbour Trail."""
    lists = lists_of(laid_example(*FITTING[0]))
    return sheet_texts(lists) | csv_files(lists)


def test_the_harbour_trail(*, rewrite: bool) -> None:
    """Each file is the golden one, none is missing and none left over."""
    found = texts()
    if rewrite:
        GOLDEN.mkdir(parents=True, exist_ok=True)
        for name, text in found.items():
            (GOLDEN / name).write_text(text, "utf-8", newline="")
    assert sorted(path.name for path in GOLDEN.iterdir()) == sorted(found)
    for name, text in found.items():
        assert text == (GOLDEN / name).read_bytes().decode("utf-8"), name


@EACH_FITTING
def test_every_sheet_stands_alone(bike: str, unit: str) -> None:
    """It says whose it is, what is set aside first and the cautions last; no line is too wide."""
    laid = laid_example(bike, unit)
    for name, text in sheet_texts(lists_of(laid)).items():
        lines = text.splitlines()
        title = f"{laid.site.job.bike.bike} on the {laid.site.job.unit.unit}: {SHEETS[name][0]}"
        assert title in lines
        assert ("SET ASIDE by the bike file:" in lines) == bool(laid.site.job.bike.set_aside)
        assert "CAUTION" in lines[-10:]
        assert all(len(line) <= WIDTH and line == line.rstrip() for line in lines)


@EACH_FITTING
def test_no_figure_is_parted_from_its_unit(bike: str, unit: str) -> None:
    """No cell of a table goes on in its next line with the unit of a figure; read by the cells' own columns."""
    for name, text in sheet_texts(lists_of(laid_example(bike, unit))).items():
        for above, below in pairwise(text.splitlines()):
            for unit_alone in re.finditer(r"(?:^|(?<=  ))(?:mm2|mm|[VA]|Hz)(?= |$)", below):
                cell = above[unit_alone.start() :].split("  ")[0]
                assert not re.search(r"[0-9]$", cell), f"{name}: {above}\n{below}"

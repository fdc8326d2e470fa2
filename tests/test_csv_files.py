"""The lists as CSV, read back by Python's csv and by pandas; the bikes are made up."""

import csv
from decimal import Decimal
from io import StringIO

import pandas as pd
import pytest

from laid_bikes import EACH_FITTING, FITTING, laid_example, laid_text
from outcomes import EXAMPLES, PROFILES
from portloom.base.cells import as_it_was
from portloom.documents.wiring.csv_files import csv_files
from portloom.documents.wiring.lists import Lists, lists_of

HOSTILE = (
    'the "loud" horn, loud; louder',
    "=SUM(A1:A9)",
    "<b>horn</b> & 'co'",
    "Hupe für Ölstand \N{SNOWMAN}\N{PARTY POPPER}",
    "../../horn",
    "NA",
    "h" * 200,
)


def read(text: str) -> pd.DataFrame:
    """Read a file as text, nothing taken for a missing value."""
    return pd.read_csv(StringIO(text), dtype=str, keep_default_na=False)


def lists_of_example(bike: str, unit: str) -> Lists:
    """Return the lists of an example."""
    return lists_of(laid_example(bike, unit))


@EACH_FITTING
def test_csv_and_pandas_read_the_same(bike: str, unit: str) -> None:
    """Every file has a header of different words, and rows of as many cells; both readers agree on each."""
    for name, text in csv_files(lists_of_example(bike, unit)).items():
        header, *rows = list(csv.reader(StringIO(text, newline=""), strict=True))
        assert len(set(header)) == len(header), name
        assert all(len(row) == len(header) for row in rows), name
        frame = read(text)
        assert list(frame.columns) == header
        assert frame.to_numpy().tolist() == rows, name
        assert text.endswith("\n")
        assert "\r" not in text


@EACH_FITTING
def test_sums_agree_between_files(bike: str, unit: str) -> None:
    """What is cut: the same in the wiring list, the cut list, the reels and the parts list, to the millimetre."""
    files = {name: read(text) for name, text in csv_files(lists_of_example(bike, unit)).items()}
    total = sum(map(Decimal, files["wiring-list.csv"]["cut_mm"]))
    assert (
        total == sum(map(Decimal, files["cut-list.csv"]["cut_mm"])) == sum(map(Decimal, files["reels.csv"]["cut_mm"]))
    )
    parts = files["parts-list.csv"]
    metres = [Decimal(part["quantity"]) for part in parts.to_dict("records") if part["group"] == "wire"]
    assert sum(metres) * 1000 == total
    reels = files["reels.csv"]
    for reel in reels.to_dict("records"):
        assert Decimal(reel["run_mm"]) + Decimal(reel["waste_mm"]) == Decimal(reel["cut_mm"])
    assert files["wiring-list.csv"]["number"].tolist() == [str(n + 1) for n in range(len(files["wiring-list.csv"]))]


def test_pandas_reads_figures_as_numbers() -> None:
    """Without being told anything pandas takes lengths and currents for numbers."""
    frame = pd.read_csv(StringIO(csv_files(lists_of_example(*FITTING[0]))["wiring-list.csv"]))
    assert all(pd.api.types.is_numeric_dtype(frame[name]) for name in ("number", "run_mm", "cut_mm", "current_a"))


@pytest.mark.parametrize("name", HOSTILE)
def test_any_name_comes_back_as_it_was(name: str) -> None:
    """A name with quotes, commas, brackets or letters of any script stands in the files as it was given."""
    text = (EXAMPLES / "bare-single.yaml").read_text("utf-8")
    assert text.count("{part: plate lamp,") == 1
    quoted = "'" + name.replace("'", "''") + "'"
    hostile = text.replace("{part: plate lamp,", f"{{name: {quoted}, part: plate lamp,")
    laid = laid_text(hostile, (PROFILES / "six-way.yaml").read_text("utf-8"))
    files = {at: read(text) for at, text in csv_files(lists_of(laid)).items()}
    assert name in [*map(as_it_was, files["wiring-list.csv"]["to"])]
    assert name in [*map(as_it_was, files["setting-outputs.csv"]["load"])]

"""Nothing that is printed or written holds a letter that can't be seen, wherever it comes from.

What can't be seen is judged by Unicode's own table here (general categories Cc, Cf, Cs, Co, Zl, Zp), not by the
program's. The bikes are made up.
"""

import csv
import json
import os
import re
from codecs import BOM_UTF8
from dataclasses import replace
from io import StringIO
from pathlib import Path
from typing import Final
from unicodedata import category

import pytest
from hypothesis import given
from hypothesis import strategies as st

from calls import Portloom, changed, small_job
from laid_bikes import laid_text
from portloom.base.cells import as_it_was, defused
from portloom.base.letters import first_hidden, in_json, shown
from portloom.documents.wiring.csv_files import csv_files
from portloom.documents.wiring.lists import lists_of
from portloom.inputs.files import bike_from_text, unit_from_text
from portloom.inputs.problems import BadFile, Problem
from portloom.planning.plan import Planned, coloured_lists, plan
from portloom.report.html.pages import bundle
from slices import slices
from small_bikes import FOUR_WAY, THREE_LAMPS

KINDS: Final = ("Cc", "Cf", "Cs", "Co", "Zl", "Zp")
VISIBLE = frozenset("\u0600\u0601\u0602\u0603\u0604\u0605\u06dd\u070f\u0890\u0891\u08e2\U000110bd\U000110cd") | {
    chr(code) for code in range(0x13430, 0x13439)
}
"""Format characters that are seen: signs over numbers in Arabic, Syriac and Kaithi, joiners of hieroglyphs."""
ESCAPES = ("\x1b[31m", "\x9b2J", "\u202e", "\u2066", "\u200b", "\u200f", "\x07", "\r", "\ue000", "\U000e0041")


def hidden(text: str) -> set[str]:
    """Return what of a text can't be seen; ends of lines and tabs are no letters."""
    return {x for x in text.replace("\r\n", "\n") if category(x) in KINDS and x not in "\n\t" and x not in VISIBLE}


@given(st.text(alphabet=st.characters(categories=KINDS, exclude_characters="\u200c\u200d")))
def test_every_letter_that_no_table_says_is_seen_is_shown(text: str) -> None:
    """By its number, in a text; as an escape that reads back the same in JSON."""
    assert hidden(shown(text)) == set()
    whole = text.encode("utf-16-be", "surrogatepass").decode("utf-16-be", "replace")
    written = in_json(json.dumps(whole, ensure_ascii=False))
    assert hidden(written) == set()
    assert json.loads(written) == whole


@pytest.mark.parametrize("name", ["👨‍🔧 lamp", "❤️ horn", "چراغ‌های جلو", "क्‍ष", "é", "Hupe 2.5 mm²", "\xa0"])
def test_what_scripts_and_pictures_need_stays(name: str) -> None:
    """Joiners between letters of scripts that need them, and in pictures of several signs. Source: UAX 31, 2.3."""
    assert first_hidden(name) is None
    assert shown(name) == name


@pytest.mark.parametrize("letter", ESCAPES, ids=ascii)
def test_no_file_says_a_hidden_letter(letter: str) -> None:
    """Refused with its line, its column and what it is; written as an escape with where its word begins."""
    as_it_is = THREE_LAMPS.replace("name: tail lamp", f"name: tail{letter} lamp", 1)
    escaped = THREE_LAMPS.replace(
        "name: tail lamp", 'name: "tail' + "".join(f"\\U{ord(x):08x}" for x in letter) + ' lamp"', 1
    )
    line = THREE_LAMPS[: THREE_LAMPS.index("name: tail lamp")].count("\n") + 1
    column = THREE_LAMPS.splitlines()[line - 1].index("name: tail lamp") + len("name: ") + 1
    for text, at in ((as_it_is, column + 4), (escaped, column)):
        if "\r" in letter:  # the end of a line
            continue
        with pytest.raises(BadFile) as refused:
            bike_from_text(text, "bike.yaml")
        (problem,) = refused.value.problems
        assert (problem.line, problem.column) == (line, at)
        assert f"U+{ord(letter[0]):04X}" in problem.what
        assert hidden(str(problem)) == set()


def test_what_the_letter_is_is_told() -> None:
    """By its name in Unicode."""
    with pytest.raises(BadFile, match=r"U\+202E \(right-to-left override\) can't be seen; take it out"):
        unit_from_text(FOUR_WAY.replace("four-way", "four\u202e-way"), "unit.yaml")


def test_a_name_is_one_line() -> None:
    """A line that ends within a name is a blank, so that no name looks like a line of a plan."""
    bike = bike_from_text(THREE_LAMPS.replace("bike: My bike", 'bike: "My bike\\n\\n  FITS\\tproven"'), "bike.yaml")
    assert bike.bike == "My bike FITS proven"


def test_nothing_hidden_leaves_by_the_screen(portloom: Portloom, tmp_path: Path) -> None:
    """Words of the call, names of files and words of a post are quoted with what they hide."""
    words = "".join(ESCAPES).replace("\r", "")
    call = small_job(tmp_path)
    odd = tmp_path / f"odd{words}.yaml"
    odd.write_text("bike: [", "utf-8")
    (tmp_path / "post").write_text('outputs: {"out \\e[31m\\u202e9": "lamp \\x9b2J"}\nplace: "\\e[0m"\n', "utf-8")
    calls = (
        (*call, "--place", words), ("plan", odd.name, *call[2:]), (*call[:2], "--unit", words), ("plan", f"--{words}"),
        ("why", *call[1:], "--for", words), ("rules", words), ("parts", words), (words,),
        ("check", "post", *call[2:]), ("check", "post", *call[1:]), ("check", "post", *call[1:], "--reply"),
        ("check", "post", *call[1:], "--json"), ("compare", "bike.yaml", *call[2:], "--by", words),
    )  # fmt: skip
    for words_of_call in calls:
        ran = portloom(*words_of_call, folder=tmp_path)
        assert ran.returncode in {0, 1, 2}
        assert hidden(ran.stdout + ran.stderr) == set(), words_of_call


def test_nothing_hidden_leaves_by_a_folder_of_sheets() -> None:
    """Whatever a bike holds that no file said, such as one made by a program: CSV, pages, pictures, labels, JSON."""
    words = "".join(ESCAPES)
    bike, unit = bike_from_text(THREE_LAMPS, "bike.yaml"), unit_from_text(FOUR_WAY, "unit.yaml")
    odd = bike.model_copy(
        update={
            "bike": f"My{words} bike",
            "loads": tuple(load.model_copy(update={"note": f"a{words} note"}) for load in bike.loads),
            "places": tuple(place.model_copy(update={"name": f"under{words} seat"}) for place in bike.places),
        }
    )
    answer = plan(odd, unit.model_copy(update={"unit": f"four{words}-way"}))
    assert isinstance(answer, Planned)
    files = bundle(answer.plan, answer.laid, coloured_lists(answer.laid))
    assert len(files) > 20
    for name, content in files.items():
        mark = BOM_UTF8 if name.endswith(".csv") else b""  # by which spreadsheets know it
        assert content.startswith(mark), name
        assert hidden(content.removeprefix(mark).decode()) == set(), name


# --- formulas

FORMULAS = ("=1+1", "+1+1", "-1+1", "@SUM(A1)", '=HYPERLINK("http://bad.example")', "x; =1+1", "'=1+1", "''@x")
BEGIN = ("=", "+", "-", "@", "\t", "\r", "\uff1d", "\uff0b", "\uff0d", "\uff20")
"""Source: OWASP, CSV Injection."""


@pytest.mark.parametrize("name", FORMULAS)
def test_no_cell_of_a_list_is_a_formula(name: str) -> None:
    """None begins like one, nor does what a spreadsheet makes of it that parts cells by ';'; the name comes back."""
    quoted = "'" + name.replace("'", "''") + "'"
    text = THREE_LAMPS.replace("name: tail lamp", f"name: {quoted}").replace("bike: My bike", f"bike: {quoted}")
    files = csv_files(lists_of(laid_text(text, FOUR_WAY)))
    rows = [row for file in files.values() for row in csv.reader(StringIO(file, newline=""), strict=True)]
    for part in (part.strip() for row in rows for cell in row for part in cell.split(";")):
        assert not (part.startswith(BEGIN) and len(part) > 1) or re.fullmatch(r"[+-][0-9.]+", part), part
    assert name in {as_it_was(cell) for row in rows for cell in row}


@given(st.text(alphabet="=+-@;' a1.\t\n\uff1d"))
def test_a_cell_reads_back_as_it_was(cell: str) -> None:
    """Whatever apostrophes and signs it begins with."""
    assert as_it_was(defused(cell)) == cell


@pytest.mark.parametrize("figure", ["-0.3", "+12", "0", "12.60"])
def test_figures_stay_figures(figure: str) -> None:
    assert defused(figure) == figure


def test_rows_of_a_comparison_are_no_formulas(portloom: Portloom, tmp_path: Path) -> None:
    """Nor hold they anything hidden; and the rows are read back as they were, without planning again."""
    call = small_job(tmp_path)
    changed(tmp_path / "bike.yaml", ("bike: My bike", "bike: '=1+1'"))
    changed(tmp_path / "unit.yaml", ("unit: four-way", "unit: '@four'"))
    first = portloom("compare", "bike.yaml", *call[2:], "--csv", "rows.csv", folder=tmp_path)
    with (tmp_path / "rows.csv").open(newline="") as file:
        _, row = csv.reader(file)
    assert row[0] == "'=1+1"
    assert row[2] == "'@four"
    again = portloom("compare", "./bike.yaml", *call[2:], "--csv", "rows.csv", folder=tmp_path)
    assert (again.returncode, again.stdout.replace("./", "")) == (first.returncode, first.stdout)


# --- absurd lengths


@slices("numbers", range(0, 8, 3), range(8))
def test_no_message_echoes_megabytes(numbers: range, portloom: Portloom, tmp_path: Path) -> None:
    """A word of a million letters, ten thousand mistakes: what is told fits a few screens, a line each."""
    call = small_job(tmp_path)
    text = (tmp_path / "bike.yaml").read_text("utf-8")
    long, wrong = "x" * 1_000_000, "".join(f"  - {{name: n{n}, at: nowhere{n}}}\n" for n in range(10_000))
    texts = (
        text.replace("tail lamp", long), f"{text}{long}: 3\n", f"{long}\n", text.replace("14.0 V", f"{long} V"),
        text.replace("inputs:", f"{wrong}inputs:"), f"bike: &{long} x\n", f"bike: !{long} x\n", f"bike: *{long}\n",
    )  # fmt: skip
    for made in (texts[number] for number in numbers):
        (tmp_path / "bike.yaml").write_text(made, "utf-8")
        ran = portloom(*call, folder=Path(os.path.realpath(tmp_path)) / ".")
        assert ran.returncode == 2
        assert len(ran.stderr) < 100_000
        portloom.cache_clear()  # type: ignore[attr-defined]  # the file is another now


def test_a_mistake_is_told_on_one_line() -> None:
    """Cut in its middle where it is absurd, so that what is right is still there."""
    told = str(Problem("bike.yaml", 3, 1, f"'{'x' * 10**6}' is\n no unit", "write A"))
    assert told.endswith("xx' is no unit; write A")
    assert len(told) < 2_000
    assert "\n" not in told
    assert replace(Problem("a\nb", 1, 1, "c", "d")).__str__() == "a b:1:1: c; d"

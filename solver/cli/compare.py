"""``portloom compare``: which unit suits a bike, or several; rows are kept in a file as they are done."""

from collections.abc import Sequence
from pathlib import Path

from solver.cli.calls import bad_call
from solver.cli.exits import Exit
from solver.cli.rows import CompareOptions, found_rows, kept_rows, unit_file
from solver.cli.screen import on_stdout, page, write_json
from solver.cli.shelf import read_shelf
from solver.comparing.json import comparison_json
from solver.comparing.measures import BY, column_named
from solver.comparing.tables import Comparison
from solver.sheets.compare import write_comparison
from solver.words.nearest import suggest


def run(bikes: Sequence[Path], units: Sequence[str], asked: CompareOptions, csv: Path | None, *, as_json: bool) -> Exit:
    """Compare and write the answer; raise BadFile for files or names that are wrong."""
    by = _column(asked)
    shelf = read_shelf(bikes, units, two_units=asked.two_units)
    found = found_rows(shelf, asked, None) if csv is None else kept_rows(shelf, asked, csv, by)
    comparison = found.compared(shelf, by)
    files = [read.file for read in shelf.bikes]
    with on_stdout():
        if as_json:
            write_json(comparison_json(comparison, files, [unit_file(shelf, choice) for choice in found.choices]))
        else:
            write_comparison(comparison, files, page())
    return _exit(comparison)


def _column(asked: CompareOptions) -> str:
    column = column_named(asked.by)
    if column is None:
        right = suggest(asked.by, BY)
        raise bad_call("compare", f"there is no column '{asked.by}' to rank by", right)
    if column == "headroom" and not asked.headroom:
        what = "--by headroom ranks by what is not asked for"
        raise bad_call("compare", what, "give --headroom, too")
    return column


def _exit(comparison: Comparison) -> Exit:
    if comparison.fit_every_bike:
        return Exit.DONE
    return Exit.LIMIT if comparison.may_fit_every_bike else Exit.NO_PLAN

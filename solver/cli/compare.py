"""``portloom compare``: which unit suits a bike, or several; rows are kept in a file as they are done."""

import os
from collections.abc import Generator, Iterator, Sequence
from contextlib import closing, contextmanager
from dataclasses import dataclass
from pathlib import Path

from solver.cli.exits import Exit
from solver.cli.screen import CannotWrite, counting, note, on_stdout, page, write_json
from solver.cli.shelf import Shelf, read_shelf
from solver.comparing.compare import Comparison, Pair, compared, each_row
from solver.comparing.json import comparison_json
from solver.comparing.measures import BY, column_named
from solver.comparing.row import Row
from solver.comparing.rows.entry import Entry
from solver.comparing.rows.kept import KeptRows
from solver.comparing.rows.made_from import made_from
from solver.reading.nearest import suggest
from solver.reading.problems import BadFile, Problem
from solver.sheets.compare import write_comparison


@dataclass(frozen=True)
class Asked:
    """What a call asks."""

    by: str
    headroom: bool
    time_limit: float | None


def run(bikes: Sequence[Path], units: Sequence[str], asked: Asked, csv: Path | None, *, as_json: bool) -> Exit:
    """Compare and write the answer; raise BadFile for files or names that are wrong."""
    by = _column(asked)
    shelf = read_shelf(bikes, units)
    rows = _rows(shelf, asked) if csv is None else _kept(shelf, asked, csv, by)
    comparison = _compared(shelf, rows, by)
    with on_stdout():
        if as_json:
            files = ([read.file for read in shelf.bikes], [read.file for read in shelf.units])
            write_json(comparison_json(comparison, *files))
        else:
            write_comparison(comparison, [read.file for read in shelf.bikes], page())
    return _exit(comparison)


def _column(asked: Asked) -> str:
    column = column_named(asked.by)
    if column is None:
        right = suggest(asked.by, BY)
        raise BadFile([Problem("portloom compare", 1, 1, f"there is no column '{asked.by}' to rank by", right)])
    if column == "headroom" and not asked.headroom:
        what = "--by headroom ranks by what is not asked for"
        raise BadFile([Problem("portloom compare", 1, 1, what, "give --headroom, too")])
    return column


def _compared(shelf: Shelf, rows: dict[Pair, Row], by: str) -> Comparison:
    return compared([read.model for read in shelf.bikes], [read.model for read in shelf.units], rows, by)


def _exit(comparison: Comparison) -> Exit:
    if comparison.fit_every_bike:
        return Exit.DONE
    return Exit.LIMIT if comparison.may_fit_every_bike else Exit.NO_PLAN


# --- rows


def _pairs(shelf: Shelf) -> list[Pair]:
    return [(bike, unit) for bike in range(len(shelf.bikes)) for unit in range(len(shelf.units))]


def _rows(shelf: Shelf, asked: Asked) -> dict[Pair, Row]:
    return dict(_worked(shelf, asked, _pairs(shelf), 0))


def _worked(shelf: Shelf, asked: Asked, pairs: Sequence[Pair], known: int) -> Generator[tuple[Pair, Row]]:
    """Give each row as it is done, and show how many there are."""
    work = each_row(
        [read.model for read in shelf.bikes],
        [read.model for read in shelf.units],
        pairs,
        headroom=asked.headroom,
        time_limit=asked.time_limit,
        processes=os.cpu_count() or 1,
    )
    yield from counting(work, "comparing", known, known + len(pairs))


def _kept(shelf: Shelf, asked: Asked, csv: Path, by: str) -> dict[Pair, Row]:
    """Give every row, those that the file has as they are; the others are added as they are done."""
    with _writing(csv):
        file = KeptRows(csv)
        blank = {pair: _entry(shelf, pair, asked) for pair in _pairs(shelf)}
        rows = {pair: known.row for pair, one in blank.items() if (known := file.known(one[2]))}
        if rows:
            note(f"{len(rows)} of {len(blank)} rows are in {csv} already")
        with closing(_worked(shelf, asked, [pair for pair in blank if pair not in rows], len(rows))) as work:
            for pair, row in work:
                rows[pair] = row
                file.add(Entry(*blank[pair], row))
        tables = _compared(shelf, rows, by).bikes
        beaten = {(number, one.row.unit): one.beaten_by for number, table in enumerate(tables) for one in table.rows}
        file.tidy(Entry(*blank[pair], rows[pair], beaten[pair[0], rows[pair].unit]) for pair in blank)
    return rows


def _entry(shelf: Shelf, pair: Pair, asked: Asked) -> tuple[str, str, str]:
    """Give the files that a row is about, and the sum that stands for what it is made from."""
    bike, unit = shelf.bikes[pair[0]], shelf.units[pair[1]]
    return bike.file, unit.file, made_from(bike.text, unit.text, headroom=asked.headroom)


@contextmanager
def _writing(csv: Path) -> Iterator[None]:
    try:
        yield
    except OSError as error:
        raise CannotWrite(f"can't write {csv}: {error.strerror}") from error

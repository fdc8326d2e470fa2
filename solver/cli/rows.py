"""The rows that a comparison asks for: single units first, then two in place of one; kept in a file if there is one."""

import os
from collections.abc import Generator, Iterator, Sequence
from contextlib import closing, contextmanager
from dataclasses import dataclass
from pathlib import Path

from solver.cli.screen import CannotWrite, counting, note
from solver.cli.shelf import Shelf
from solver.comparing.choices import Choice, joined, singles, twos
from solver.comparing.compare import each_row
from solver.comparing.row import Row
from solver.comparing.rows.entry import Entry
from solver.comparing.rows.kept import KeptRows
from solver.comparing.rows.made_from import made_from
from solver.comparing.tables import Comparison, OfTwo, Pair, compared, pairs_of


@dataclass(frozen=True)
class CompareOptions:
    """What a call asks."""

    by: str
    headroom: bool
    two_units: bool
    time_limit: float | None


@dataclass(frozen=True)
class Found:
    """All that the bikes were tried on, and every row."""

    choices: tuple[Choice, ...]
    rows: dict[Pair, Row]
    of_two: OfTwo | None = None

    def compared(self, shelf: Shelf, by: str) -> Comparison:
        """Rank the rows of each bike."""
        bikes, units = [read.model for read in shelf.bikes], [read.model for read in shelf.units]
        return compared(bikes, units, self.choices, self.rows, by, self.of_two)


def found_rows(shelf: Shelf, asked: CompareOptions, file: KeptRows | None) -> Found:
    """Return every row; those that the file has as they are, the others are added to it as they are done."""
    alone = singles(len(shelf.units))
    rows = _done(shelf, asked, alone, file, "")
    if not asked.two_units:
        return Found(alone, rows)
    apart = [number for number in range(len(shelf.units)) if shelf.named or not _does_alone(shelf, rows, number)]
    together = twos(apart)
    rows |= _done(shelf, asked, together, file, " of two units")
    names = [read.model.unit for read in shelf.units]
    paired = tuple(names[number] for number in apart)
    return Found((*alone, *together), rows, OfTwo(paired, tuple(name for name in names if name not in paired)))


def _does_alone(shelf: Shelf, rows: dict[Pair, Row], number: int) -> bool:
    return all(rows[bike, (number,)].fit is not None for bike in range(len(shelf.bikes)))


def _done(
    shelf: Shelf, asked: CompareOptions, choices: Sequence[Choice], file: KeptRows | None, of: str
) -> dict[Pair, Row]:
    """Return the row of each bike on each choice; ``of`` says of what they are."""
    pairs = pairs_of([read.model for read in shelf.bikes], choices)
    sums = {pair: _made_from(shelf, pair, asked) for pair in pairs} if file else {}
    rows = {pair: known.row for pair in pairs if file and (known := file.known(sums[pair]))}
    if file and rows:
        note(f"{len(rows)} of {len(pairs)} rows{of} are in {file.path} already")
    with closing(_worked(shelf, asked, [pair for pair in pairs if pair not in rows], len(rows), of)) as work:
        for pair, row in work:
            rows[pair] = row
            if file:
                with _writing(file.path):
                    file.add(Entry(*_files(shelf, pair), sums[pair], row))
    return rows


def _worked(
    shelf: Shelf, asked: CompareOptions, pairs: Sequence[Pair], known: int, of: str
) -> Generator[tuple[Pair, Row]]:
    """Return each row as it is done, and show how many there are."""
    work = each_row(
        [read.model for read in shelf.bikes],
        [read.model for read in shelf.units],
        pairs,
        headroom=asked.headroom,
        time_limit=asked.time_limit,
        processes=os.cpu_count() or 1,
    )
    yield from counting(work, f"comparing{of.removeprefix(' of')}", known, known + len(pairs))


# --- in a file


def kept_rows(shelf: Shelf, asked: CompareOptions, csv: Path, by: str) -> Found:
    """Return every row, each kept in a file as it is done; last the file is put in order."""
    with _writing(csv):
        file = KeptRows(csv)
    found = found_rows(shelf, asked, file)
    beaten = {
        (number, one.row.unit): one.beaten_by
        for number, table in enumerate(found.compared(shelf, by).bikes)
        for one in table.rows
    }
    with _writing(csv):
        file.tidy(
            Entry(*_files(shelf, pair), _made_from(shelf, pair, asked), row, beaten[pair[0], row.unit])
            for pair in pairs_of([read.model for read in shelf.bikes], found.choices)
            for row in [found.rows[pair]]
        )
    return found


def unit_file(shelf: Shelf, choice: Choice) -> str:
    """Return a unit's file as it is told, or both of two."""
    return joined(shelf.units[number].file for number in choice)


def _files(shelf: Shelf, pair: Pair) -> tuple[str, str]:
    return shelf.bikes[pair[0]].file, unit_file(shelf, pair[1])


def _made_from(shelf: Shelf, pair: Pair, asked: CompareOptions) -> str:
    """Return the sum that stands for what a row is made from: headroom is told of single units only."""
    bike, choice = pair
    headroom = asked.headroom and len(choice) == 1
    return made_from(shelf.bikes[bike].text, [shelf.units[number].text for number in choice], headroom=headroom)


@contextmanager
def _writing(csv: Path) -> Iterator[None]:
    try:
        yield
    except OSError as error:
        raise CannotWrite(f"can't write {csv}: {error.strerror}") from error

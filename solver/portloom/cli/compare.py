"""``portloom compare``: which unit suits a bike, or several.

Single units come first, then two in place of one. Rows are kept in a file as they are done, if there is one.
"""

import os
from collections.abc import Generator, Sequence
from contextlib import closing
from pathlib import Path

from portloom.base.nearest import suggest
from portloom.base.values import dataclass
from portloom.cli.progress import counting
from portloom.cli.screen import Exit, note, on_stdout, page, usage_error, write_json
from portloom.cli.unit_files import FilesToCompare, read_files_to_compare
from portloom.cli.written import clear_beside, writing
from portloom.comparing.compare import each_row
from portloom.comparing.json import comparison_json
from portloom.comparing.kept_rows import KeptRows, made_from
from portloom.comparing.ranking import BY, called, column_named
from portloom.comparing.row import KeptRow, Row
from portloom.comparing.tables import Choice, Comparison, PairsTried, Trial, compared, joined, pairs_of, singles, twos
from portloom.report.text.compare import write_comparison


@dataclass(frozen=True)
class CompareOptions:
    """What a call asks."""

    by: str | None
    """The column that ranks, None for the usual one."""
    headroom: bool
    two_units: bool
    time_limit: float | None


@dataclass(frozen=True)
class FoundRows:
    """All that the bikes were tried on, and every row."""

    choices: tuple[Choice, ...]
    rows: dict[Trial, Row]
    of_two: PairsTried | None = None

    def compared(self, shelf: FilesToCompare, by: str | None) -> Comparison:
        """Rank the rows of each bike."""
        bikes, units = [read.model for read in shelf.bikes], [read.model for read in shelf.units]
        return compared(bikes, units, self.choices, self.rows, by, self.of_two)


def found_rows(shelf: FilesToCompare, asked: CompareOptions, file: KeptRows | None) -> FoundRows:
    """Return every row; those that the file has as they are, the others are added to it as they are done."""
    alone = singles(len(shelf.units))
    rows = _done(shelf, asked, alone, file, "")
    if not asked.two_units:
        return FoundRows(alone, rows)
    apart = [number for number in range(len(shelf.units)) if shelf.named or not _does_alone(shelf, rows, number)]
    together = twos(apart)
    rows |= _done(shelf, asked, together, file, " of two units")
    names = [read.model.unit for read in shelf.units]
    paired = tuple(names[number] for number in apart)
    return FoundRows((*alone, *together), rows, PairsTried(paired, tuple(name for name in names if name not in paired)))


def _does_alone(shelf: FilesToCompare, rows: dict[Trial, Row], number: int) -> bool:
    return all(rows[bike, (number,)].fit is not None for bike in range(len(shelf.bikes)))


def _done(
    shelf: FilesToCompare, asked: CompareOptions, choices: Sequence[Choice], file: KeptRows | None, of: str
) -> dict[Trial, Row]:
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
                with writing(file.path):
                    file.add(KeptRow(*_files(shelf, pair), sums[pair], row))
    return rows


def _worked(
    shelf: FilesToCompare, asked: CompareOptions, pairs: Sequence[Trial], known: int, of: str
) -> Generator[tuple[Trial, Row]]:
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


def kept_rows(shelf: FilesToCompare, asked: CompareOptions, csv: Path, by: str | None) -> FoundRows:
    """Return every row, each kept in a file as it is done; last the file is put in order."""
    clear_beside(csv)
    with writing(csv):
        file = KeptRows(csv)
    if file.cut_short:
        note(f"the last line of {file.beside} was not complete: it is taken out, and its row made again")
    found = found_rows(shelf, asked, file)
    beaten = {
        (number, one.row.unit): one.beaten_by
        for number, table in enumerate(found.compared(shelf, by).bikes)
        for one in table.rows
    }
    with writing(csv):
        file.rewrite(
            KeptRow(*_files(shelf, pair), _made_from(shelf, pair, asked), row, beaten[pair[0], row.unit])
            for pair in pairs_of([read.model for read in shelf.bikes], found.choices)
            for row in [found.rows[pair]]
        )
    return found


def unit_file(shelf: FilesToCompare, choice: Choice) -> str:
    """Return a unit's file as it is told, or both of two."""
    return joined(shelf.units[number].file for number in choice)


def _files(shelf: FilesToCompare, pair: Trial) -> tuple[str, str]:
    return shelf.bikes[pair[0]].file, unit_file(shelf, pair[1])


def _made_from(shelf: FilesToCompare, pair: Trial, asked: CompareOptions) -> str:
    """Return the sum that stands for what a row is made from: headroom is told of single units only."""
    bike, choice = pair
    headroom = asked.headroom and len(choice) == 1
    return made_from(shelf.bikes[bike].text, [shelf.units[number].text for number in choice], headroom=headroom)


def run(bikes: Sequence[Path], units: Sequence[str], asked: CompareOptions, csv: Path | None, *, as_json: bool) -> Exit:
    """Compare and write the answer; raise BadFile for files or names that are wrong."""
    by = _column(asked)
    shelf = read_files_to_compare(bikes, units, two_units=asked.two_units)
    _check_legs(shelf, asked)
    found = found_rows(shelf, asked, None) if csv is None else kept_rows(shelf, asked, csv, by)
    comparison = found.compared(shelf, by)
    files = [read.file for read in shelf.bikes]
    with on_stdout():
        if as_json:
            write_json(comparison_json(comparison, files, [unit_file(shelf, choice) for choice in found.choices]))
        else:
            write_comparison(comparison, files, page())
    return _exit(comparison)


def _check_legs(shelf: FilesToCompare, asked: CompareOptions) -> None:
    """Raise BadFile where something is asked that is not told of a bike that chooses its legs."""
    options = {"--two-units": asked.two_units, "--headroom": asked.headroom}
    given = [option for option, wanted in options.items() if wanted]
    chooses = [read for read in shelf.bikes if read.model.weights.leg]
    if given and chooses:
        what = f"{given[0]} is not for a bike with weights.leg, as {chooses[0].file} has it"
        raise usage_error("compare", what, f"leave {given[0]} out, or weights.leg")


def _column(asked: CompareOptions) -> str | None:
    if asked.by is None:
        return None
    column = column_named(asked.by)
    if column is None:
        right = suggest(asked.by, [called(name) for name in BY])
        raise usage_error("compare", f"there is no column '{asked.by}' to rank by", right)
    if column == "headroom" and not asked.headroom:
        what = "--by headroom ranks by something that was not asked for"
        raise usage_error("compare", what, "give --headroom, too")
    return column


def _exit(comparison: Comparison) -> Exit:
    if comparison.fit_every_bike:
        return Exit.DONE
    return Exit.LIMIT if comparison.may_fit_every_bike else Exit.NO_PLAN

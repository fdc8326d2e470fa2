"""Two bikes planned on the same unit, or on the same two, and compared."""

from collections.abc import Sequence
from pathlib import Path

from portloom.base.values import dataclass
from portloom.cli.diff import GivenFile, answer
from portloom.cli.files import Files, read_files
from portloom.cli.plan import PlanOptions, answered, exit_of
from portloom.cli.screen import Exit, on_stdout, page, write_json
from portloom.documents.amounts import Json
from portloom.documents.assumed import CAUTIONS
from portloom.documents.difference.diff import diff
from portloom.documents.difference.printed import bad_files
from portloom.inputs.problems import BadFile
from portloom.planning.plan import NothingFits, Planned, Planning
from portloom.report.text.layout import write_cautions


@dataclass(frozen=True)
class _Side:
    """A bike's file and what came of planning it."""

    file: Path
    answer: Planning

    @property
    def sentence(self) -> str:
        """Say whether there is a plan."""
        match self.answer:
            case Planned():
                return f"{self.file}: there is a plan."
            case NothingFits():
                return f"{self.file}: NOTHING FITS, proved. 'portloom plan' and 'portloom why' say what is in the way."
            case _:
                return f"{self.file}: UNKNOWN, a limit was reached."


def compare_bikes(given: Sequence[GivenFile], units: Sequence[str], *, as_json: bool) -> Exit:
    """Plan both, and write how the plans differ, or that there are not two; raise BadFile for files that are wrong."""
    files = _files(given, units)
    old, new = (_Side(one.file, answered(read, PlanOptions()).answer) for one, read in zip(given, files, strict=True))
    if isinstance(old.answer, Planned) and isinstance(new.answer, Planned):
        return answer(diff(old.answer.plan, new.answer.plan), as_json=as_json)
    with on_stdout():
        if as_json:
            write_json(_document(old, new))
        else:
            _write(old, new)
    return max(exit_of(old.answer), exit_of(new.answer))


def _files(given: Sequence[GivenFile], units: Sequence[str]) -> list[Files]:
    """Return both bikes with their units; raise BadFile with all that is wrong with any file."""
    found, problems = [], []
    for one in given:
        try:
            found.append(read_files(one.file, *units, text=one.text))
        except BadFile as bad:
            problems.append(bad)
    if problems:
        raise bad_files(problems)
    return found


def _write(old: _Side, new: _Side) -> None:
    sheet = page()
    sheet.line("NO DIFFERENCE CAN BE TOLD: there are not two plans.", "bold red")
    sheet.items([old.sentence, new.sentence])
    write_cautions(CAUTIONS, sheet)


def _document(old: _Side, new: _Side) -> Json:
    unknown = Exit.LIMIT in {exit_of(old.answer), exit_of(new.answer)}
    told = {key: {"file": str(side.file), "status": _status(side.answer)} for key, side in (("old", old), ("new", new))}
    return {"status": "unknown" if unknown else "no plan", **told, "cautions": list(CAUTIONS)}


def _status(answer: Planning) -> str:
    match answer:
        case Planned():
            return "planned"
        case NothingFits():
            return "no plan"
        case _:
            return "unknown"

"""``portloom diff``: how a plan differs from an older one, or the plan of a bike from that of an older file."""

from collections.abc import Sequence
from pathlib import Path
from typing import Any

from portloom.base.values import dataclass
from portloom.cli.screen import Exit, on_stdout, page, patient, usage_error, write_json
from portloom.documents.difference.change import Difference
from portloom.documents.difference.diff import diff
from portloom.documents.difference.json import difference_json
from portloom.documents.difference.printed import PrintedPlan, bad_files, document_in, loaded
from portloom.inputs.parsing import file_text
from portloom.inputs.problems import BadFile
from portloom.report.text.difference import write_difference

OF_BIKE = ("frame", "supply")
"""Keys of a bike: its file may be written in JSON, which is YAML."""


@dataclass(frozen=True)
class GivenFile:
    """One of the two files: its text, and what stands in it where that is JSON and no bike."""

    file: Path
    text: str
    document: Any = None

    @property
    def is_bike(self) -> bool:
        """Whether it can only be a bike's file."""
        return self.document is None


def run(old: Path, new: Path, units: Sequence[str], *, as_json: bool) -> Exit:
    """Compare and write the answer; raise BadFile for a call or files that are wrong."""
    if len(units) > 2:
        raise usage_error("diff", f"--unit is given {len(units)} times", "name one unit, or two instead of one")
    given = _read(old, new)
    if _are_bikes(given, units):
        from portloom.cli.planned_bikes import compare_bikes  # noqa: PLC0415 - loads the search

        return compare_bikes(given, units, as_json=as_json)
    return answer(diff(*_plans(given)), as_json=as_json)


def answer(difference: Difference, *, as_json: bool) -> Exit:
    """Write a difference; return the exit code."""
    with on_stdout():
        if as_json:
            write_json(difference_json(difference))
        else:
            write_difference(difference, page())
    return Exit.DONE if difference.same else Exit.DIFFERENT


def _read(*files: Path) -> list[GivenFile]:
    """Read both files; raise BadFile with what is wrong with either."""
    given, problems = [], []
    with patient(*files):
        for file in files:
            try:
                text = file_text(file)
            except BadFile as bad:
                problems.append(bad)
            else:
                given.append(GivenFile(file, text, _document(text)))
    if problems:
        raise bad_files(problems)
    return given


def _document(text: str) -> Any:
    """Return what stands in a text of JSON, None where it is no JSON, or a bike."""
    try:
        found = loaded(text)
    except (ValueError, RecursionError):
        return None  # a bike, or broken; what is wrong with it is told where it is read
    if isinstance(found, dict) and "status" not in found and any(key in found for key in OF_BIKE):
        return None
    return found


def _are_bikes(given: Sequence[GivenFile], units: Sequence[str]) -> bool:
    """Tell whether two bikes are to be planned; raise BadFile where that can't be or lacks a unit."""
    bikes = [one.file for one in given if one.is_bike]
    broken = [bad for one in given if one.is_bike and (bad := _broken(one)) is not None]
    if broken and (len(bikes) == 1 or not units):
        raise bad_files(broken)
    if len(bikes) == 1:
        plan = next(one.file for one in given if not one.is_bike)
        what = f"{plan} is in JSON as a plan is, and {bikes[0]} is not"
        right = "give two plans in JSON, as 'portloom plan --json' prints them, or two bikes and --unit"
        raise usage_error("diff", what, right)
    if bikes and not units:
        what = "these files are no JSON, and bikes are planned on a unit"
        raise usage_error("diff", what, "add --unit UNIT to compare two bikes, or give two plans in JSON")
    if units and not bikes:
        raise usage_error("diff", "--unit is for two bikes, here are two plans in JSON", "leave it out")
    return bool(bikes)


def _broken(given: GivenFile) -> BadFile | None:
    """Return what is wrong with a text that begins as JSON does."""
    if given.text.lstrip()[:1] in {"{", "["}:
        try:
            document_in(given.text, str(given.file))
        except BadFile as bad:
            return bad
    return None


def _plans(given: Sequence[GivenFile]) -> list[PrintedPlan]:
    """Return both plans; raise BadFile with what is wrong with either."""
    plans, problems = [], []
    for one in given:
        try:
            plans.append(PrintedPlan.taken(one.document, str(one.file)))
        except BadFile as bad:
            problems.append(bad)
    if problems:
        raise bad_files(problems)
    return plans

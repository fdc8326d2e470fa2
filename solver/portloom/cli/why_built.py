"""``portloom why --built``: why nothing fits with a loom that is built, and what to take out of it."""

from pathlib import Path
from typing import Any

from portloom.base.built import BuiltLoom
from portloom.base.clock import Clock
from portloom.cli.files import read_files
from portloom.cli.limit import left_of
from portloom.cli.progress import waiting
from portloom.cli.screen import Exit, on_stdout, page, usage_error, write_json
from portloom.cli.why import WhyOptions
from portloom.documents.assumed import CAUTIONS
from portloom.explaining.conflict_of_built import told_of
from portloom.explaining.undoing import Looms, NotDecided, Undone, undone
from portloom.inputs.built_plan import read_built
from portloom.report.text.undoing import write_fits, write_undecided, write_undone


def run(bike: Path, unit: str, plan: Path, asked: WhyOptions, limit: float | None, *, as_json: bool) -> Exit:
    """Explain and write the answer; raise BadFile for a call or files that are wrong."""
    _check_call(asked)
    files = read_files(bike, unit, limit=limit)
    loom = read_built(plan, files.bike, files.unit)
    looms = Looms(files.bike, files.unit, loom, Clock(left_of(limit)))
    answer: Undone | None
    with waiting("looking for reasons"):
        try:
            fits = looms.fits_with(looms.circuits)
            answer = None if fits else undone(looms)
        except NotDecided:
            with on_stdout():
                _undecided(files.bike.bike, files.unit.unit, as_json=as_json)
            return Exit.LIMIT
    with on_stdout():
        if as_json:
            write_json(_document(answer, files.bike.bike, files.unit.unit, loom))
        elif answer is None:
            write_fits(files.bike.bike, files.unit.unit, page())
        else:
            write_undone(files.bike.bike, files.unit.unit, loom, answer, page())
    return Exit.DONE if answer is None else Exit.NO_PLAN


def _check_call(asked: WhyOptions) -> None:
    """Raise BadFile where something is asked that is told of a loom that is not built."""
    other = {
        "--not": asked.not_on is not None,
        "--not-place": asked.not_place is not None,
        "--for": asked.about is not None,
        "--pins": asked.pins,
        "--all": asked.every,
        "--proof": asked.proof,
        "--apply": asked.apply is not None,
    }
    for option, given in other.items():
        if given:
            what = f"{option} is for a loom that is not built yet, and --built is given"
            raise usage_error("why", what, "leave one of them out")


def _undecided(bike: str, unit: str, *, as_json: bool) -> None:
    if as_json:
        write_json({"status": "unknown", "bike": bike, "unit": unit, "cautions": list(CAUTIONS)})
    else:
        write_undecided(bike, unit, page())


def _document(answer: Undone | None, bike: str, unit: str, loom: BuiltLoom) -> dict[str, Any]:
    named = {"bike": bike, "unit": unit, "built": loom.file}
    if answer is None:
        return {"status": "planned", **named, "cautions": list(CAUTIONS)}
    return {"status": "no plan", **named, **told_of(answer, loom), "cautions": list(CAUTIONS)}

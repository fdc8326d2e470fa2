"""``portloom plan``: from two files to a plan on the screen or in JSON."""

from pathlib import Path
from typing import Any

from portloom.base.bike import Bike
from portloom.cli.files import read_files
from portloom.cli.screen import Exit, on_stdout, page, waiting, write_json
from portloom.documents.amounts import set_aside_json, thousandth
from portloom.documents.assumed import CAUTIONS
from portloom.documents.document import TradeOffs
from portloom.documents.json import plan_json, trade_offs_json
from portloom.explaining.json import conflict_json
from portloom.planning.plan import NothingFits, Planned, Planning, Unknown, plan_prepared, prepared, trade
from portloom.report.text.conflicts import write_conflicts
from portloom.report.text.layout import metres, write_cautions, write_set_aside
from portloom.report.text.plan import write_plan


def run(bike: Path, unit: str, place: str | None, limit: float | None, *, offs: bool, as_json: bool) -> Exit:
    """Plan and write the answer; raise BadFile for files or names that are wrong."""
    files = read_files(bike, unit)
    files.check_place(place)
    with waiting("planning"):
        ready = prepared(files.bike, files.unit, place=place, time_limit=limit)
        answer = plan_prepared(ready, files.where)
    traded = None
    if offs and isinstance(answer, Planned):
        with waiting("looking for trade-offs"):
            traded = trade(ready)
    with on_stdout():
        if as_json:
            write_json(_document(answer, traded, files.bike))
        else:
            write_answer(answer, traded, files.bike)
    return exit_of(answer)


def exit_of(answer: Planning) -> Exit:
    """Return the exit code of an answer."""
    match answer:
        case Planned():
            return Exit.DONE
        case NothingFits():
            return Exit.NO_PLAN
        case Unknown():
            return Exit.LIMIT


def _document(answer: Planning, traded: TradeOffs | None, bike: Bike) -> dict[str, Any]:
    match answer:
        case Planned(found):
            offs = {} if traded is None else {"trade_offs": trade_offs_json(traded)}
            return {**plan_json(found), **offs}
        case NothingFits(_, unit, conflicts):
            told = {"conflicts": [conflict_json(conflict) for conflict in conflicts]}
            return {"status": "no plan", "bike": bike.bike, "unit": unit, **told, **always(bike)}
        case Unknown(_, unit, bound):
            bounded = {"bound_mm": thousandth(bound)}
            return {"status": "unknown", "bike": bike.bike, "unit": unit, **bounded, **always(bike)}


def always(bike: Bike) -> dict[str, Any]:
    """Return what is told whatever the answer is."""
    return {"set_aside": set_aside_json(bike.set_aside.items()), "cautions": list(CAUTIONS)}


def write_answer(answer: Planning, traded: TradeOffs | None, bike: Bike) -> None:
    """Write an answer as people read it."""
    sheet = page()
    match answer:
        case Planned(found):
            write_plan(found, sheet, traded)
        case NothingFits(_, unit, conflicts):
            write_set_aside(bike.set_aside.items(), sheet)
            write_conflicts(bike.bike, unit, conflicts, sheet)
        case Unknown(_, unit, bound):
            write_set_aside(bike.set_aside.items(), sheet)
            sheet.line(f"{bike.bike} on the {unit}: UNKNOWN, the time limit was reached.", "bold yellow")
            sheet.line("No plan was found yet, and it is not proved that there is none. Allow more time.")
            sheet.line(f"No plan costs less than {metres(bound)}.")
            write_cautions(CAUTIONS, sheet)

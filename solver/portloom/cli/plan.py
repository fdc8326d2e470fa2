"""``portloom plan``: from two files to a plan on the screen or in JSON."""

from collections.abc import Sequence
from pathlib import Path
from typing import Any

from portloom.base.bike import Bike
from portloom.base.figures import listed
from portloom.cli.files import Files, read_files
from portloom.cli.screen import Exit, bad_call, on_stdout, page, waiting, write_json
from portloom.comparing.trial import reason_of_two
from portloom.documents.amounts import set_aside_json, thousandth
from portloom.documents.assumed import CAUTIONS
from portloom.documents.document import TradeOffs
from portloom.documents.json import plan_json, trade_offs_json
from portloom.explaining.json import conflict_json
from portloom.planning.plan import NothingFits, Planned, Planning, Unknown, plan, plan_prepared, prepared, trade
from portloom.report.text.conflicts import write_conflicts, write_no_two
from portloom.report.text.layout import metres, write_cautions, write_set_aside
from portloom.report.text.plan import write_plan
from portloom.rules.two_units import OnePlace


def run(bike: Path, units: Sequence[str], place: str | None, limit: float | None, *, offs: bool, as_json: bool) -> Exit:
    """Plan and write the answer; raise BadFile for a call, files or names that are wrong."""
    _check_call(units, place, offs=offs)
    files = read_files(bike, *units)
    files.check_place(place)
    answer, traded = _answer_of_two(files, limit) if len(units) > 1 else _answer(files, place, limit, offs=offs)
    with on_stdout():
        if as_json:
            write_json(_document(answer, traded, files))
        else:
            write_answer(answer, traded, files)
    return exit_of(answer)


def _check_call(units: Sequence[str], place: str | None, *, offs: bool) -> None:
    """Raise BadFile where more units are named than are planned, or what is worked out of one unit is asked of two."""
    if len(units) > 2:
        raise bad_call("plan", f"--unit is given {len(units)} times", "name one unit, or two instead of one")
    for option, given in (("--place", place is not None), ("--trade-offs", offs)):
        if given and len(units) == 2:
            raise bad_call("plan", f"{option} is for one unit, here are two", "leave it out, or name one unit")


def _answer(files: Files, place: str | None, limit: float | None, *, offs: bool) -> tuple[Planning, TradeOffs | None]:
    """Plan one unit, and look for trade-offs where they are asked for and there is a plan."""
    with waiting("planning"):
        ready = prepared(files.bike, files.unit, place=place, time_limit=limit)
        answer = plan_prepared(ready, files.where)
    if not offs or not isinstance(answer, Planned):
        return answer, None
    with waiting("looking for trade-offs"):
        return answer, trade(ready)


def _answer_of_two(files: Files, limit: float | None) -> tuple[Planning, None]:
    try:
        with waiting("planning"):
            return plan(files.bike, *files.units, time_limit=limit), None
    except OnePlace as error:
        raise files.unknown(error.what, ("places",), error.right) from error


def exit_of(answer: Planning) -> Exit:
    """Return the exit code of an answer."""
    match answer:
        case Planned():
            return Exit.DONE
        case NothingFits():
            return Exit.NO_PLAN
        case Unknown():
            return Exit.LIMIT


def _document(answer: Planning, traded: TradeOffs | None, files: Files) -> dict[str, Any]:
    match answer:
        case Planned(found):
            offs = {} if traded is None else {"trade_offs": trade_offs_json(traded)}
            return {**plan_json(found), **offs}
        case NothingFits(_, units, conflicts):
            told = {"conflicts": [conflict_json(conflict) for conflict in conflicts], **_why_not(files)}
            return {"status": "no plan", **_named(files.bike, units), **told, **always(files.bike)}
        case Unknown(_, units, bound):
            bounded = {"bound_mm": thousandth(bound)}
            return {"status": "unknown", **_named(files.bike, units), **bounded, **always(files.bike)}


def _named(bike: Bike, units: tuple[str, ...]) -> dict[str, Any]:
    """Return the bike's name and the unit's, or of two units each under 'units'."""
    if len(units) == 1:
        return {"bike": bike.bike, "unit": units[0]}
    return {"bike": bike.bike, "units": [{"unit": unit} for unit in units]}


def _why_not(files: Files) -> dict[str, Any]:
    """Return why two units do not do, so far as that is told; of one unit the conflicts say it."""
    if len(files.units) == 1:
        return {}
    reason = reason_of_two(files.bike, files.units)
    return {"why_not": {"sentence": reason.sentence, "rules": list(reason.rules)}}


def always(bike: Bike) -> dict[str, Any]:
    """Return what is told whatever the answer is."""
    return {"set_aside": set_aside_json(bike.set_aside.items()), "cautions": list(CAUTIONS)}


def write_answer(answer: Planning, traded: TradeOffs | None, files: Files) -> None:
    """Write an answer as people read it."""
    sheet, bike = page(), files.bike
    match answer:
        case Planned(found):
            write_plan(found, sheet, traded)
        case NothingFits(_, (unit,), conflicts):
            write_set_aside(bike.set_aside.items(), sheet)
            write_conflicts(bike.bike, unit, conflicts, sheet)
        case NothingFits(_, units, _):
            write_set_aside(bike.set_aside.items(), sheet)
            write_no_two(bike.bike, units, reason_of_two(bike, files.units).sentence, sheet)
        case Unknown(_, units, bound):
            on = f"the {units[0]}" if len(units) == 1 else f"two units, {listed([f'the {unit}' for unit in units])}"
            write_set_aside(bike.set_aside.items(), sheet)
            sheet.line(f"{bike.bike} on {on}: UNKNOWN, the time limit was reached.", "bold yellow")
            sheet.line("No plan was found yet, and it is not proved that there is none. Allow more time.")
            sheet.line(f"No plan costs less than {metres(bound)}.")
            write_cautions(CAUTIONS, sheet)

"""``portloom plan``: from two files to a plan on the screen or in JSON."""

from collections.abc import Callable
from pathlib import Path
from typing import Any

from solver.cli.exits import Exit
from solver.cli.screen import on_stdout, page, waiting, write_json
from solver.explaining.json import conflict_json
from solver.planning import NothingFits, Planned, Planning, Unknown, plan, trade
from solver.plans.cautions import CAUTIONS
from solver.plans.document import TradeOffs
from solver.plans.json import plan_json, thousandth, trade_offs_json
from solver.reading.bike import BikeAndSource, read_bike_with_positions
from solver.reading.nearest import suggest
from solver.reading.problems import BadFile, Problem
from solver.reading.profiles import find_unit
from solver.reading.unit import read_unit
from solver.sheets.conflicts import write_conflicts
from solver.sheets.plan import metres, write_cautions, write_plan, write_set_aside
from solver.words.bike import Bike
from solver.words.unit import Unit


def run(bike: Path, unit: str, place: str | None, limit: float | None, *, offs: bool, as_json: bool) -> Exit:
    """Plan and write the answer; raise BadFile for files or names that are wrong."""
    read, profile = _both(bike, unit)
    _check_place(read, place)
    with waiting("planning"):
        answer = plan(read.bike, profile, place=place, time_limit=limit, where=_where(read))
    traded = None
    if offs and isinstance(answer, Planned):
        with waiting("looking for trade-offs"):
            traded = trade(read.bike, profile, place=place, time_limit=limit)
    with on_stdout():
        if as_json:
            write_json(_document(answer, traded, read.bike))
        else:
            _write_text(answer, traded, read.bike)
    return _exit(answer)


def _both(bike: Path, unit: str) -> tuple[BikeAndSource, Unit]:
    """Read both files, so that what is wrong with either is told at once."""
    problems: list[Problem] = []
    read = profile = None
    try:
        read = read_bike_with_positions(bike)
    except BadFile as bad:
        problems += bad.problems
    try:
        profile = read_unit(find_unit(unit))
    except BadFile as bad:
        problems += bad.problems
    if read is None or profile is None:
        raise BadFile(problems)
    return read, profile


def _check_place(read: BikeAndSource, place: str | None) -> None:
    names = [known.name for known in read.bike.places]
    if place is not None and place not in names:
        line, column = read.source.at(("places",))
        what = f"the bike has no place '{place}'"
        raise BadFile([Problem(read.source.file, line, column, what, suggest(place, names))])


def _where(read: BikeAndSource) -> Callable[[str, str], str]:
    """Give what tells the file and line of a load ('loads') or a switch ('inputs'); a relay's coil is its load's."""
    names = {
        "loads": [load.name for load in read.bike.loads],
        "inputs": [switch.name for switch in read.bike.inputs],
    }

    def where(kind: str, name: str) -> str:
        number = next((n for n, known in enumerate(names[kind]) if name in (known, f"{known} relay")), None)
        return "default" if number is None else read.source.where((kind, number))

    return where


def _exit(answer: Planning) -> Exit:
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
            return {"status": "no plan", "bike": bike.bike, "unit": unit, **told, **_always(bike)}
        case Unknown(_, unit, bound):
            bounded = {"bound_mm": thousandth(bound)}
            return {"status": "unknown", "bike": bike.bike, "unit": unit, **bounded, **_always(bike)}


def _always(bike: Bike) -> dict[str, Any]:
    """Give what is told whatever the answer is."""
    set_aside = [{"rule": rule, "reason": reason} for rule, reason in bike.set_aside.items()]
    return {"set_aside": set_aside, "cautions": list(CAUTIONS)}


def _write_text(answer: Planning, traded: TradeOffs | None, bike: Bike) -> None:
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

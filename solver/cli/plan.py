"""``portloom plan``: from two files to a plan on the screen or in JSON."""

import json
import sys
from pathlib import Path
from typing import Any

from solver.cli.exits import Exit
from solver.cli.screen import page, waiting
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
from solver.sheets.plan import write_plan, write_trade_offs
from solver.words.bike import Bike
from solver.words.unit import Unit


def run(bike: Path, unit: str, place: str | None, limit: float | None, *, offs: bool, as_json: bool) -> Exit:
    """Plan and write the answer; raise BadFile for files or names that are wrong."""
    read, profile = _both(bike, unit)
    _check_place(bike, read.bike, place)
    with waiting("planning"):
        answer = plan(read.bike, profile, place=place, time_limit=limit, where=_where(read))
    traded = None
    if offs and isinstance(answer, Planned):
        with waiting("looking for trade-offs"):
            traded = trade(read.bike, profile, place=place, time_limit=limit)
    if as_json:
        _write_json(answer, traded)
    else:
        _write_text(answer, traded)
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


def _check_place(path: Path, bike: Bike, place: str | None) -> None:
    names = [known.name for known in bike.places]
    if place is not None and place not in names:
        raise BadFile([Problem(str(path), 1, 1, f"the bike has no place '{place}'", suggest(place, names))])


def _where(read: BikeAndSource):  # type: ignore[no-untyped-def]
    def where(kind: str, name: str) -> str:
        entries = read.bike.loads if kind == "loads" else read.bike.inputs
        numbers = (n for n, entry in enumerate(entries) if name in (entry.name, f"{entry.name} relay"))
        return read.source.where((kind, next(numbers, 0)))

    return where


def _exit(answer: Planning) -> Exit:
    match answer:
        case Planned():
            return Exit.DONE
        case NothingFits():
            return Exit.NO_PLAN
        case Unknown():
            return Exit.LIMIT


def _write_json(answer: Planning, traded: TradeOffs | None) -> None:
    document = _document(answer)
    if traded is not None:
        document["trade_offs"] = trade_offs_json(traded)
    sys.stdout.write(json.dumps(document, indent=2, ensure_ascii=False) + "\n")


def _document(answer: Planning) -> dict[str, Any]:
    match answer:
        case Planned(found):
            return plan_json(found)
        case NothingFits(bike, unit, conflicts):
            return {
                "status": "no plan",
                "bike": bike,
                "unit": unit,
                "conflicts": [conflict_json(conflict) for conflict in conflicts],
                "cautions": list(CAUTIONS),
            }
        case Unknown(bike, unit, bound):
            return {"status": "unknown", "bike": bike, "unit": unit, "bound_mm": thousandth(bound)}


def _write_text(answer: Planning, traded: TradeOffs | None) -> None:
    sheet = page()
    match answer:
        case Planned(found):
            write_plan(found, sheet)
        case NothingFits(bike, unit, conflicts):
            write_conflicts(bike, unit, conflicts, sheet)
        case Unknown(bike, unit, bound):
            sheet.line(f"{bike} on the {unit}: UNKNOWN. The time limit was reached before a plan was found,")
            sheet.line("and before it was proved that none exists. Allow more time.")
            sheet.line(f"No plan costs less than {thousandth(bound)} mm.")
    if traded is not None:
        write_trade_offs(traded, sheet)

"""``portloom plan``: from two files to a plan on the screen or in JSON."""

from collections.abc import Sequence
from pathlib import Path
from typing import TYPE_CHECKING, Any

from portloom.base.bike import Bike
from portloom.base.clock import TimeIsUp
from portloom.base.figures import listed
from portloom.base.values import dataclass
from portloom.cli.files import Files, read_files
from portloom.cli.limit import left_of
from portloom.cli.progress import waiting
from portloom.cli.screen import Exit, note, on_stdout, page, usage_error, write_json
from portloom.cli.written import check_new, write_new_file
from portloom.documents.amounts import set_aside_json, thousandth
from portloom.documents.assumed import CAUTIONS
from portloom.documents.document import TradeOffs
from portloom.documents.fail_safe import stands_first
from portloom.documents.json import plan_json, trade_offs_json
from portloom.documents.legs import EXPLAINED
from portloom.inputs.built_plan import read_built
from portloom.planning.plan import (
    NothingFits,
    Planned,
    Planning,
    Unknown,
    model_of,
    not_begun,
    plan,
    plan_prepared,
    prepared,
    trade_offs,
)
from portloom.report.text.layout import Page, metres, write_cautions, write_first
from portloom.report.text.plan import PARTS, write_in_short, write_plan, write_some
from portloom.rules.two_units import OnePlace

if TYPE_CHECKING:  # what tells why nothing fits is loaded where nothing does
    from portloom.comparing.row import Reason


@dataclass(frozen=True)
class PlanOptions:
    """What a call asks beside the plan; ``model`` is the file for the solver's model."""

    place: str | None = None
    trade_offs: bool = False
    model: Path | None = None
    time_limit: float | None = None
    watch: bool = False
    built: Path | None = None
    """The plan of a loom that is built."""
    full: bool = False
    only: tuple[str, ...] = ()
    """The parts of a plan that are wanted, by their names."""


@dataclass(frozen=True)
class Answered:
    """The answer, and what else was asked for and is there: trade-offs, the solver's model as text."""

    answer: Planning
    traded: TradeOffs | None = None
    model: str | None = None
    reason: "Reason | None" = None
    """Why two units do not do."""


def run(bike: Path, units: Sequence[str], asked: PlanOptions, *, as_json: bool) -> Exit:
    """Plan and write the answer; raise BadFile for a call, files or names that are wrong."""
    _check_call(units, asked)
    _check_parts(asked, as_json=as_json)
    if asked.watch:
        from portloom.cli.watching import watch  # noqa: PLC0415 - seldom asked for

        return watch(bike, units, asked, as_json=as_json)
    files = read_files(bike, *units, limit=asked.time_limit)
    files.check_place(asked.place)
    found = answered(files, asked)
    with on_stdout():
        if as_json:
            write_json(_document(found, files))
        else:
            write_answer(found.answer, found.traded, files, found.reason, asked)
    if asked.model is not None:
        _write_model(asked.model, found.model)
    return exit_of(found.answer)


def _check_call(units: Sequence[str], asked: PlanOptions) -> None:
    """Raise BadFile where too many units are named, what is of one unit is asked of two, or no file can be written."""
    if len(units) > 2:
        raise usage_error("plan", f"--unit is given {len(units)} times", "name one unit, or two instead of one")
    of_one = {
        "--place": asked.place is not None,
        "--trade-offs": asked.trade_offs,
        "--model": asked.model is not None,
        "--built": asked.built is not None,
    }
    for option, given in of_one.items():
        if given and len(units) == 2:
            raise usage_error("plan", f"{option} is for one unit, here are two", "leave it out, or name one unit")
    if asked.built is not None:
        _check_built(asked)
    if asked.model is not None:
        check_new("plan", "--model", asked.model)


def parts_named(said: str | None) -> tuple[str, ...]:
    """Return the parts of a plan that a list of names means; raise BadFile with all that there are for another name."""
    if said is None:
        return ()
    names = {word: word.strip().casefold().replace("_", "-").replace(" ", "-") for word in said.split(",")}
    wrong = [word.strip() for word, name in names.items() if name not in PARTS]
    if wrong:
        what = f"a plan has no {'heading' if len(wrong) == 1 else 'headings'} {listed([repr(word) for word in wrong])}"
        raise usage_error("plan", what, f"the headings are {listed(list(PARTS))}")
    return tuple(names.values())


def _check_parts(asked: PlanOptions, *, as_json: bool) -> None:
    """Raise BadFile where parts are asked for beside what has all of them."""
    for option, given in (("--full", asked.full), ("--json", as_json)):
        if asked.only and given:
            raise usage_error("plan", f"--only names parts, and {option} has all of them", "leave one of them out")


def _check_built(asked: PlanOptions) -> None:
    """Raise BadFile where what is asked is of a loom that is not built yet."""
    without = "leave it out: place and turn stay as built"
    if asked.place is not None:
        raise usage_error("plan", "--place is for a loom that is not built yet, and --built is given", without)
    for option, given in (("--trade-offs", asked.trade_offs), ("--model", asked.model is not None)):
        if given:
            raise usage_error(
                "plan", f"{option} is for a loom that is not built yet, and --built is given", "leave it out"
            )


def _answer(files: Files, asked: PlanOptions) -> Answered:
    """Plan one unit, and where there is a plan add what else is asked for."""
    built = None if asked.built is None else read_built(asked.built, files.bike, files.unit)
    with waiting("planning") as say:
        try:
            limit = left_of(asked.time_limit)
            ready = prepared(files.bike, files.unit, place=asked.place, time_limit=limit, built=built)
        except TimeIsUp:
            return Answered(not_begun(files.bike, files.unit))
        answer = plan_prepared(ready, files.where, say)
        if not isinstance(answer, Planned):
            return Answered(answer)
        model = model_of(ready, answer.found) if asked.model is not None and answer.found is not None else None
    if not asked.trade_offs:
        return Answered(answer, model=model)
    with waiting("looking for trade-offs"):
        return Answered(answer, trade_offs(ready), model)


def _answer_of_two(files: Files, limit: float | None) -> Answered:
    try:
        with waiting("planning"):
            answer = plan(files.bike, *files.units, time_limit=limit, where=files.where)
        if not isinstance(answer, NothingFits):
            return Answered(answer)
        from portloom.comparing.trial import reason_of_two  # noqa: PLC0415 - as above

        with waiting("looking for what is in the way"):
            return Answered(answer, reason=reason_of_two(files.bike, files.units, searched=limit is None))
    except OnePlace as error:
        raise files.unknown(error.what, ("places",), error.right) from error


def answered(files: Files, asked: PlanOptions) -> Answered:
    """Plan a bike on its unit, or on both; raise BadFile where it has no two places for two, or chooses its legs."""
    if len(files.units) > 1 and files.bike.weights.leg:
        what = "weights.leg is for one unit, here are two"
        raise files.unknown(what, ("weights", "leg"), "leave it out, or name one unit")
    return _answer_of_two(files, left_of(asked.time_limit)) if len(files.units) > 1 else _answer(files, asked)


def _write_model(file: Path, text: str | None) -> None:
    """Write the model into a new file, and say so; without a plan there is none to write."""
    if text is None:
        note(f"no model is written to {file}: there is no plan")
        return
    write_new_file(file, text)
    note(f"the solver's model of the plan's place is written to {file}")


def exit_of(answer: Planning) -> Exit:
    """Return the exit code of an answer."""
    match answer:
        case Planned():
            return Exit.DONE
        case NothingFits():
            return Exit.NO_PLAN
        case Unknown():
            return Exit.LIMIT


def _document(answered: Answered, files: Files) -> dict[str, Any]:
    match answered.answer:
        case Planned(found):
            offs = {} if answered.traded is None else {"trade_offs": trade_offs_json(answered.traded)}
            return {**plan_json(found), **offs}
        case NothingFits(_, units, conflicts, built):
            from portloom.explaining.json import conflict_json  # noqa: PLC0415 - as above

            told = {"conflicts": [conflict_json(conflict) for conflict in conflicts], **_why_not(answered.reason)}
            legs = {"not_covered": EXPLAINED} if files.bike.weights.leg else {}
            loom = {} if built is None else {"built": built.file}
            return {"status": "no plan", **_named(files.bike, units), **loom, **told, **legs, **always(files.bike)}
        case Unknown(_, units, bound, once, of_work):
            tried = {"not_all_sets_of_legs_tried": True} if of_work else {}
            bounded = {**({"not_proved_twice": True} if once else {}), **tried, "bound_mm": thousandth(bound)}
            return {"status": "unknown", **_named(files.bike, units), **bounded, **always(files.bike)}


def _named(bike: Bike, units: tuple[str, ...]) -> dict[str, Any]:
    """Return the bike's name and the unit's, or of two units each under 'units'."""
    if len(units) == 1:
        return {"bike": bike.bike, "unit": units[0]}
    return {"bike": bike.bike, "units": [{"unit": unit} for unit in units]}


def _why_not(reason: "Reason | None") -> dict[str, Any]:
    """Return why two units do not do, so far as that is told; of one unit the conflicts say it."""
    return {} if reason is None else {"why_not": {"sentence": reason.said, "rules": list(reason.rules)}}


def always(bike: Bike) -> dict[str, Any]:
    """Return what is told whatever the answer is."""
    first, aside = list(stands_first(bike)), set_aside_json(bike.set_aside.items())
    return {"set_aside": aside, "warnings": first, "cautions": list(CAUTIONS)}


AS_USUAL = PlanOptions()


def write_answer(
    answer: Planning,
    traded: TradeOffs | None,
    files: Files,
    reason: "Reason | None" = None,
    asked: PlanOptions = AS_USUAL,
) -> None:
    """Write an answer as people read it; ``reason`` says why two units do not do, ``asked`` which parts are wanted."""
    sheet, bike = page(), files.bike
    match answer:
        case Planned(found) if asked.full:
            write_plan(found, sheet, traded)
        case Planned(found) if asked.only:
            write_some(found, asked.only, sheet, traded)
        case Planned(found):
            write_in_short(found, sheet, traded)
        case NothingFits():
            write_first(stands_first(bike), bike.set_aside.items(), sheet)
            _write_nothing_fits(answer, reason, EXPLAINED if bike.weights.leg else "", sheet)
        case Unknown(_, units, bound, once, of_work):
            on = f"the {units[0]}" if len(units) == 1 else f"two units, {listed([f'the {unit}' for unit in units])}"
            write_first(stands_first(bike), bike.set_aside.items(), sheet)
            limit = "not all sets of legs were tried" if of_work else "the time limit was reached"
            sheet.line(f"{bike.bike} on {on}: UNKNOWN, {limit}.", "bold")
            twice, more = " twice" if once else "", "" if of_work else " Allow more time."
            sheet.line(f"No plan was found yet, and it is not proved{twice} that there is none.{more}")
            sheet.line(f"No plan takes less than {metres(bound)}, wire and spare ports together.")
            write_cautions(CAUTIONS, sheet)


def _write_nothing_fits(answer: NothingFits, reason: "Reason | None", not_covered: str, sheet: Page) -> None:
    from portloom.report.text.conflicts import write_conflicts, write_no_two  # noqa: PLC0415 - as above

    match answer.units:
        case (unit,):
            write_conflicts(answer.bike, unit, answer.conflicts, sheet, not_covered, answer.built)
        case units:
            write_no_two(answer.bike, units, reason.said if reason else "", sheet)

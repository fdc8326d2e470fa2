"""``portloom why``: why nothing fits, what would make it fit, why not, and how near a plan is to its limits."""

from dataclasses import dataclass
from pathlib import Path

from solver.cli.exits import Exit
from solver.cli.files import Files, read_files
from solver.cli.screen import note, on_stdout, page, waiting, write_json
from solver.explaining.explain import DoesNotFit, Explained, Fits, explain
from solver.explaining.json import explained_json
from solver.explaining.wishes import AtPlace, OnPort, Wish
from solver.reading.nearest import suggest
from solver.reading.problems import BadFile, Problem
from solver.reading.profiles import bundled_units
from solver.reading.unit import read_unit
from solver.sheets.why import write_explained
from solver.words.unit import Unit


@dataclass(frozen=True)
class Asked:
    """What a call asks beside why."""

    not_on: str | None
    not_place: str | None
    about: str | None
    every: bool
    proof: bool
    apply: int | None
    out: Path | None


def run(bike: Path, unit: str, asked: Asked, limit: float | None, *, as_json: bool) -> Exit:
    """Explain and write the answer; raise BadFile for files or names that are wrong."""
    files = read_files(bike, unit)
    wish = _wish(files, asked)
    _check_load(files, asked.about)
    _check_apply(bike, asked)
    with waiting("looking for reasons"):
        explained = explain(
            files.bike,
            files.unit,
            wish=wish,
            about=asked.about,
            every=asked.every,
            known=_bundled(),
            time_limit=limit,
            where=files.where,
        )
    with on_stdout():
        if as_json:
            write_json(explained_json(explained, proof=asked.proof))
        else:
            write_explained(explained, page(), proof=asked.proof)
    if asked.apply is not None and asked.out is not None:
        _apply(bike, files, explained, asked.apply, asked.out)
    return _exit(explained)


def _bundled() -> tuple[Unit, ...]:
    return tuple(read_unit(file) for _, file in bundled_units())


# --- what the call names


def _wish(files: Files, asked: Asked) -> Wish | None:
    if asked.not_place is not None:
        files.check_place(asked.not_place)
        return AtPlace(asked.not_place)
    if asked.not_on is None:
        return None
    load, equals, port = (word.strip() for word in asked.not_on.rpartition("="))
    if not equals:
        raise _bad_call(f"'{asked.not_on}' names no port", "write LOAD=PORT, such as 'horn=out 3'")
    _check_load(files, load)
    names = [output.name for output in files.unit.outputs]
    if port not in names:
        raise _bad_call(f"the {files.unit.unit} has no output '{port}'", suggest(port, names))
    return OnPort(load, port)


def _check_load(files: Files, name: str | None) -> None:
    """Raise BadFile unless an output of the unit may feed a load of this name."""
    if name is None:
        return
    loads = {load.name: load for load in files.bike.loads}
    own = [load.name for load in files.bike.loads if load.fed == "unit" and not load.from_]
    if name not in loads:
        raise files.unknown(f"the bike has no load '{name}'", ("loads",), suggest(name, own))
    if name not in own:
        by = f"fed from {', '.join(loads[name].from_)}" if loads[name].from_ else f"fed by a {loads[name].fed}"
        raise files.unknown(f"'{name}' is {by}, so it is on no output of its own", ("loads",), suggest(name, own))


def _bad_call(what: str, right: str) -> BadFile:
    return BadFile([Problem("portloom why", 1, 1, what, right)])


# --- applying a fix


def _check_apply(bike: Path, asked: Asked) -> None:
    if (asked.apply is None) != (asked.out is None):
        raise _bad_call("--apply and --out go together", "give both: --apply 1 --out FILE")
    if asked.out is not None and _same(bike, asked.out):
        raise _bad_call(
            f"--out names the bike's own file, {asked.out}", "give another file: the original stays as it is"
        )


def _same(one: Path, other: Path) -> bool:
    try:
        return one.resolve() == other.resolve() or (other.exists() and one.samefile(other))
    except OSError:
        return False


def _apply(bike: Path, files: Files, explained: Explained, number: int, out: Path) -> None:
    from solver.cli.applying import apply  # noqa: PLC0415 - seldom wanted

    fixes = explained.answer.fixes.found if isinstance(explained.answer, DoesNotFit) else ()
    if not 1 <= number <= len(fixes):
        raise _bad_call(f"there is no fix {number}", f"there are {len(fixes)}" if fixes else "nothing has to be fixed")
    apply(bike, files.bike, fixes[number - 1], out)
    note(f"fix {number} is written to {out}")
    if fixes[number - 1].unit != files.unit:
        note(f"it is for another unit: --unit {fixes[number - 1].unit.unit}")


def _exit(explained: Explained) -> Exit:
    wish = explained.why_not
    if wish is not None and wish.answer != "not known":
        return Exit.DONE if wish.answer == "possible" else Exit.NO_PLAN
    match explained.answer:
        case Fits():
            return Exit.LIMIT if wish is not None else Exit.DONE
        case DoesNotFit():
            return Exit.NO_PLAN
        case _:
            return Exit.LIMIT

"""``portloom why``: why nothing fits, what would make it fit, why not, and how near a plan is to its limits."""

from dataclasses import dataclass
from pathlib import Path

from solver.cli.applying import apply, check_apply
from solver.cli.calls import bad_call
from solver.cli.exits import Exit
from solver.cli.files import Files, read_files
from solver.cli.screen import on_stdout, page, waiting, write_json
from solver.explaining.conflicts.wish import AtPlace, OnPort, Wish
from solver.explaining.explain import DoesNotFit, Explained, Fits, NotKnown, explain
from solver.explaining.json import explained_json
from solver.job.job import Job
from solver.reading.problems import BadFile, Problem
from solver.reading.profiles import bundled_units
from solver.reading.unit import read_unit
from solver.sheets.why import write_explained
from solver.words.figures import listed
from solver.words.nearest import suggest
from solver.words.unit import Unit


@dataclass(frozen=True)
class WhyOptions:
    """What a call asks beside why."""

    not_on: str | None
    not_place: str | None
    about: str | None
    every: bool
    proof: bool
    apply: int | None
    out: Path | None


def run(bike: Path, unit: str, asked: WhyOptions, limit: float | None, *, as_json: bool) -> Exit:
    """Explain and write the answer; raise BadFile for files or names that are wrong."""
    files = read_files(bike, unit)
    wish = _wish(files, asked)
    _check_load(files, asked.about)
    check_apply(files, asked.apply, asked.out)
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
    if asked.apply is not None and asked.out is not None and not isinstance(explained.answer, NotKnown):
        apply(files, explained.answer, asked.apply, asked.out)
    return _exit(explained)


def _bundled() -> tuple[Unit, ...]:
    return tuple(read_unit(file) for _, file in bundled_units())


# --- what the call names


def _wish(files: Files, asked: WhyOptions) -> Wish | None:
    if asked.not_on is not None and asked.not_place is not None:
        raise bad_call("why", "--not and --not-place are two questions", "ask one of them, then the other")
    if asked.not_place is not None:
        files.check_place(asked.not_place)
        return AtPlace(asked.not_place)
    if asked.not_on is None:
        return None
    load, equals, port = (word.strip() for word in asked.not_on.rpartition("="))
    if not equals:
        raise bad_call("why", f"'{asked.not_on}' names no port", "write LOAD=PORT, such as 'horn=out 3'")
    _check_load(files, load)
    _check_output(files, port)
    return OnPort(load, port)


def _check_load(files: Files, name: str | None) -> None:
    """Raise BadFile unless an output of the unit may feed a load of this name; a relay's coil is one, too."""
    own = [load.name for load in Job(files.bike, files.unit).loads.on_unit]
    if name is None or name in own:
        return
    for number, load in enumerate(files.bike.loads):
        if load.name == name:
            by = f"fed from {listed(load.from_)}" if load.from_ else f"fed by a {load.fed}"
            what = f"'{name}' is {by}, so it is on no output of its own"
            raise files.unknown(what, ("loads", number), suggest(name, own))
    raise files.unknown(f"the bike has no load '{name}'", ("loads",), suggest(name, own))


def _check_output(files: Files, name: str) -> None:
    """Raise BadFile unless the unit has an output of this name."""
    names = [output.name for output in files.unit.outputs]
    if name not in names:
        source = files.read_unit.source
        file = source.file.removeprefix(files.bundled_in)
        what = f"the {files.unit.unit} has no output '{name}'"
        raise BadFile([Problem(file, *source.at(("outputs",)), what, suggest(name, names))])


# --- how it ends


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

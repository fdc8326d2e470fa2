"""The commands and their options, and the one place where what went wrong becomes an exit code."""

import gc
import os
import sys
from io import StringIO, TextIOWrapper
from pathlib import Path
from typing import Annotated, NoReturn

import typer
from typer.core import TyperGroup

from portloom.base.clock import TimeIsUp
from portloom.cli.given_once import GivenOnce
from portloom.cli.limit import begin
from portloom.cli.look import look
from portloom.cli.options import (
    All,
    AnswersFile,
    Apply,
    AsJson,
    Best,
    BikeFile,
    BikeFiles,
    BuiltPlan,
    BundledName,
    By,
    Csv,
    Folder,
    Force,
    ForLoad,
    Full,
    GlossaryWord,
    HeadroomToo,
    KeyName,
    LikeUnit,
    ModelFile,
    NewFile,
    NewPlan,
    NotOn,
    NotPlace,
    OldPlan,
    OneOrTwoUnits,
    Only,
    Out,
    PartName,
    Pins,
    PlaceName,
    PlaceOfPost,
    Plain,
    PostFile,
    PostsBike,
    ProofToo,
    Readings,
    RepairToo,
    Reply,
    RuleName,
    SchemaFile,
    Shell,
    TakeUsual,
    TimeLimit,
    TimeLimitEach,
    TopicName,
    TradeOffsToo,
    TwoUnits,
    TypedLine,
    UnitName,
    UnitNames,
    UnitsOfBikes,
    Watch,
    Which,
)
from portloom.cli.progress import waiting
from portloom.cli.screen import CannotWrite, Exit, let_go, note, on_stdout
from portloom.inputs.problems import BadFile

os.environ.setdefault("PYDANTIC_DISABLE_PLUGINS", "__all__")  # there are none, and to look for them takes time
app = typer.Typer(
    add_completion=False,
    no_args_is_help=True,
    pretty_exceptions_enable=False,
    rich_markup_mode=None,
    context_settings={"help_option_names": ["-h", "--help"]},
    help="Plan a motorcycle's electrics around one solid-state control unit.",
)


UsageError: type[typer.BadParameter] = typer.BadParameter.__mro__[1]
"""What the command line raises for a call that is wrong; where that class lives has changed from version to version."""


def _tell_versions(asked: bool) -> None:  # noqa: FBT001 - an option's callback
    if asked:
        from portloom.base.versions import versions  # noqa: PLC0415 - seldom asked for

        with on_stdout():
            typer.echo("\n".join(versions()))
        raise typer.Exit


Versions = Annotated[
    bool,
    typer.Option(
        "--version", callback=_tell_versions, is_eager=True, help="tell the versions that a report of a fault needs"
    ),
]


@app.callback()
def portloom(*, version: Versions = False) -> None:
    """Plan a motorcycle's electrics around one solid-state control unit."""


@app.command(cls=GivenOnce)
def plan(
    bike: BikeFile,
    unit: OneOrTwoUnits,
    place: PlaceName = None,
    *,
    trade_offs: TradeOffsToo = False,
    model: ModelFile = None,
    watch: Watch = False,
    full: Full = False,
    only: Only = None,
    built: BuiltPlan = None,
    time_limit: TimeLimit = None,
    plain: Plain = False,
    as_json: AsJson = False,
) -> None:
    """Find the proven best plan of a bike on a unit, or on two instead of one."""
    look.settle(plain=plain)
    with waiting("loading"):
        from portloom.cli import plan as command  # noqa: PLC0415 - loads the search

    asked = command.PlanOptions(place, trade_offs, model, time_limit, watch, built, full, command.parts_named(only))
    raise typer.Exit(command.run(bike, unit, asked, as_json=as_json))


@app.command(cls=GivenOnce)
def why(
    bike: BikeFile,
    unit: UnitName,
    not_on: NotOn = None,
    not_place: NotPlace = None,
    for_load: ForLoad = None,
    built: BuiltPlan = None,
    *,
    pins: Pins = False,
    every: All = False,
    proof: ProofToo = False,
    apply: Apply = None,
    out: Out = None,
    time_limit: TimeLimit = None,
    plain: Plain = False,
    as_json: AsJson = False,
) -> None:
    """Say why nothing fits and what would make it fit, why not, or how near a plan is to its limits."""
    look.settle(plain=plain)
    with waiting("loading"):
        from portloom.cli import why as command  # noqa: PLC0415 - loads the search

    asked = command.WhyOptions(not_on, not_place, for_load, pins, every, proof, apply, out, built)
    raise typer.Exit(command.run(bike, unit, asked, time_limit, as_json=as_json))


@app.command(cls=GivenOnce)
def check(
    post: PostFile,
    unit: UnitName,
    bike: PostsBike = None,
    place: PlaceOfPost = None,
    *,
    best: Best = False,
    repair: RepairToo = False,
    reply: Reply = False,
    time_limit: TimeLimit = None,
    plain: Plain = False,
    as_json: AsJson = False,
) -> None:
    """Tell whether a posted plan is sound: which rules it breaks, with the figures."""
    look.settle(plain=plain)
    with waiting("loading"):
        from portloom.cli import check as command  # noqa: PLC0415 - keeps --help quick

    asked = command.CheckOptions(place, best, repair, time_limit)
    raise typer.Exit(command.run(post, bike, unit, asked, as_reply=reply, as_json=as_json))


@app.command(cls=GivenOnce)
def diff(
    old: OldPlan, new: NewPlan, unit: UnitsOfBikes = None, *, plain: Plain = False, as_json: AsJson = False
) -> None:
    """Tell how a plan differs from an older one: what moves, what is cut anew, what is set otherwise."""
    look.settle(plain=plain)
    from portloom.cli.diff import run  # noqa: PLC0415 - keeps --help quick

    raise typer.Exit(run(old, new, unit or (), as_json=as_json))


@app.command(cls=GivenOnce)
def sheets(
    bike: BikeFile,
    unit: UnitName,
    out: Folder = None,
    place: PlaceName = None,
    readings: Readings = None,
    built: BuiltPlan = None,
    *,
    force: Force = False,
    plain: Plain = False,
    time_limit: TimeLimit = None,
) -> None:
    """Write everything that goes on the bench and with the bike into a folder."""
    look.settle(plain=plain)
    with waiting("loading"):
        from portloom.cli import sheets as command  # noqa: PLC0415 - loads the search

    raise typer.Exit(command.run(bike, unit, out, place, readings, time_limit, built, force=force))


@app.command(cls=GivenOnce)
def compare(
    bikes: BikeFiles,
    unit: UnitNames = None,
    by: By = None,
    csv: Csv = None,
    *,
    headroom: HeadroomToo = False,
    two_units: TwoUnits = False,
    time_limit: TimeLimitEach = None,
    plain: Plain = False,
    as_json: AsJson = False,
) -> None:
    """Compare units for one bike or several: all bundled ones, unless units or folders of units are named."""
    look.settle(plain=plain)
    with waiting("loading"):
        from portloom.cli import compare as command  # noqa: PLC0415 - loads the search
        from portloom.cli.compare import CompareOptions  # noqa: PLC0415 - loads it, too

    asked = CompareOptions(by, headroom, two_units, time_limit)
    raise typer.Exit(command.run(bikes, unit or (), asked, csv, as_json=as_json))


@app.command(cls=GivenOnce)
def units(name: BundledName = None, *, plain: Plain = False, as_json: AsJson = False) -> None:
    """List the bundled units with their prices, or print the file of one."""
    look.settle(plain=plain)
    from portloom.cli.listings import list_units, print_unit  # noqa: PLC0415 - keeps --help quick

    with on_stdout():
        list_units(as_json=as_json) if name is None else print_unit(name, as_json=as_json)


@app.command(cls=GivenOnce)
def rules(name: RuleName = None, *, plain: Plain = False) -> None:
    """List the rules: what each protects, and its source."""
    look.settle(plain=plain)
    from portloom.cli.listings import list_rules  # noqa: PLC0415 - keeps --help quick

    with on_stdout():
        list_rules(name)


@app.command(cls=GivenOnce)
def parts(name: PartName = None, *, plain: Plain = False, as_json: AsJson = False) -> None:
    """List the parts that loads and switches may be, or tell all about one."""
    look.settle(plain=plain)
    from portloom.cli.listings import list_parts  # noqa: PLC0415 - keeps --help quick

    with on_stdout():
        list_parts(" ".join(name or ()) or None, as_json=as_json)


@app.command(cls=GivenOnce)
def keys(what: Which, key: KeyName = None, *, plain: Plain = False) -> None:
    """List the keys of a file: what each says, its unit or words, its default."""
    look.settle(plain=plain)
    from portloom.cli.keys import list_keys  # noqa: PLC0415 - keeps --help quick

    with on_stdout():
        list_keys(what, key)


@app.command(name="help", cls=GivenOnce)
def help_(topic: TopicName = None) -> None:
    """Tell about a topic: parts, keys, modes, sharing and so on, or list the topics."""
    from portloom.cli.help import list_topics, named, tell_topic  # noqa: PLC0415 - as above

    said = " ".join(topic or ())
    if said in _commands() and named(said) is None:
        app([said, "-h"], standalone_mode=False)
        return
    with on_stdout():
        tell_topic(said) if said else list_topics()


@app.command(cls=GivenOnce)
def glossary(word: GlossaryWord = None) -> None:
    """Say what the words mean that files and answers use, or one of them."""
    from portloom.cli.help import tell_glossary  # noqa: PLC0415 - as above

    with on_stdout():
        tell_glossary(" ".join(word or ()) or None)


@app.command(cls=GivenOnce)
def completion(shell: Shell) -> None:
    """Print a script that makes the Tab key finish words: 'portloom help completion'."""
    from portloom.cli.completion import SHELLS  # noqa: PLC0415 - as above

    with on_stdout():
        typer.echo(SHELLS[shell], nl=False)


@app.command(hidden=True, cls=GivenOnce)
def complete(line: TypedLine) -> None:
    """Print what may come next on a line: what the scripts of 'portloom completion' ask."""
    from portloom.cli.completing import candidates  # noqa: PLC0415 - as above

    group = typer.main.get_command(app)
    if isinstance(group, TyperGroup):
        with on_stdout():
            for word, says in candidates(line, group):
                typer.echo(f"{word}\t{says}")


@app.command(cls=GivenOnce)
def new(
    what: Which, out: NewFile = None, answers: AnswersFile = None, like: LikeUnit = None, *, yes: TakeUsual = False
) -> None:
    """Ask what the new file needs and write it; where nobody can be asked, print one that plans at once."""
    from portloom.cli.new import NewCall, run  # noqa: PLC0415 - keeps --help quick

    raise typer.Exit(run(NewCall(what, out, answers, yes, like)))


@app.command(cls=GivenOnce)
def schema(what: Which, out: SchemaFile = None) -> None:
    """Print the JSON Schema of a file, for editors."""
    from portloom.cli.schema import run  # noqa: PLC0415 - slow to build, seldom wanted

    run(what, out)


def _commands() -> set[str]:
    """Return the names of all commands."""
    return {command.name or command.callback.__name__ for command in app.registered_commands if command.callback}


def main() -> None:
    """Run the command line; whatever goes wrong ends in one clear message and its exit code."""
    begin()
    _ready_streams()
    try:
        sys.exit(_called())
    except BadFile as bad:
        _stop(_with_topics(bad), Exit.BAD_INPUT)
    except TimeIsUp:
        _stop("UNKNOWN: the time limit was reached while the files were read and set up; allow more time", Exit.LIMIT)
    except UsageError as wrong:
        _stop(_usage(wrong), Exit.BAD_INPUT)
    except OSError as error:  # a full disk, no permission: nothing of it is the program's
        _stop(f"portloom: {_of_system(error)}", Exit.BAD_INPUT)
    except Exception as error:  # noqa: BLE001 - a traceback is never shown to a user
        what = str(error) or type(error).__name__
        _stop(f"portloom: an error in the program, not in your files: {what}", Exit.FAILED_CHECK)
    finally:
        gc.freeze()  # the end needs no last collections: a fifth of a short command's time


def _called() -> int:
    """Run the call; return its exit code."""
    try:
        return app(standalone_mode=False) or Exit.DONE
    except SystemExit as end:
        if end.code == 1:  # typer's answer where whoever reads its help has had enough
            return Exit.DONE
        raise


def _usage(wrong: typer.BadParameter) -> str:
    text = StringIO()
    wrong.show(text)
    return text.getvalue().rstrip("\n") + _units_to_name(wrong)


def _units_to_name(wrong: typer.BadParameter) -> str:
    """Name the units there are where none is named."""
    missing = "--unit" in getattr(getattr(wrong, "param", None), "opts", ()) and not wrong.message
    if not missing and getattr(wrong, "option_name", None) != "--unit":
        return ""
    from portloom.base.nearest import or_list  # noqa: PLC0415 - seldom needed
    from portloom.inputs.profiles import bundled_units  # noqa: PLC0415 - as above

    names = or_list(name for name, _ in bundled_units())
    return f"\nGive a profile's file, or a bundled unit's name: {names}.\nMore: portloom help units"


def _with_topics(bad: BadFile) -> str:
    """Return what is wrong, and which topics have more on it."""
    more = ", ".join(f"portloom help {topic}" for topic in bad.topics)
    return f"{bad}\nMore: {more}" if more else str(bad)


def _of_system(error: OSError) -> str:
    if isinstance(error, CannotWrite):
        return str(error)
    if error.filename is not None:
        return f"can't read or write {error.filename}: {error.strerror}"
    let_go(sys.stdout)  # whatever is printed before a command runs, such as its help
    return f"can't write to stdout: {error.strerror or error}"


def _ready_streams() -> None:
    """Write to nowhere where stdout or stderr is closed, and '?' for letters that they can't take."""
    for name in ("stdout", "stderr"):
        stream = getattr(sys, name)
        if stream is None:
            setattr(sys, name, Path(os.devnull).open("w", encoding="utf-8"))  # noqa: SIM115 - open to the end
        elif isinstance(stream, TextIOWrapper):
            stream.reconfigure(errors="replace")


def _stop(message: str, code: Exit) -> NoReturn:
    """End with a code, and say why where anything can be said."""
    note(message)
    sys.exit(code)

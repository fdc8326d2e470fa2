"""The commands, each with its options: what it is for, and which module does it."""

import os
from typing import Annotated

import typer
from typer.core import TyperGroup

from portloom.cli.given_once import GivenOnce
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
from portloom.cli.screen import on_stdout

os.environ.setdefault("PYDANTIC_DISABLE_PLUGINS", "__all__")  # there are none, and to look for them takes time
app = typer.Typer(
    add_completion=False,
    no_args_is_help=True,
    pretty_exceptions_enable=False,
    rich_markup_mode=None,
    context_settings={"help_option_names": ["-h", "--help"]},
    help="Plan a motorcycle's electrics around one solid-state control unit.",
)


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

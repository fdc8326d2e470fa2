"""The commands and their options, and the one place where what went wrong becomes an exit code."""

import json
import sys
from pathlib import Path
from typing import Annotated, Literal

import typer

from solver.cli.exits import Exit
from solver.reading.problems import BadFile

app = typer.Typer(
    add_completion=False,
    no_args_is_help=True,
    pretty_exceptions_enable=False,
    rich_markup_mode=None,
    help="Plan a motorcycle's electrics round one solid-state control unit.",
)
BikeFile = Annotated[Path, typer.Argument(metavar="BIKE", help="the bike's file")]
UnitName = Annotated[str, typer.Option("--unit", metavar="UNIT", help="a profile's file, or a bundled unit's name")]
AsJson = Annotated[bool, typer.Option("--json", help="print one JSON document")]


@app.callback()
def portloom() -> None:
    """Plan a motorcycle's electrics round one solid-state control unit."""


@app.command()
def plan(
    bike: BikeFile,
    unit: UnitName,
    place: Annotated[str | None, typer.Option(metavar="NAME", help="allow only this place of the bike")] = None,
    *,
    trade_offs: Annotated[
        bool, typer.Option("--trade-offs", help="show what less wire costs in spare ports, and the other way round")
    ] = False,
    time_limit: Annotated[
        float | None, typer.Option(metavar="SECONDS", min=0.0, help="stop after this time with the best so far")
    ] = None,
    as_json: AsJson = False,
) -> None:
    """Find the proven best plan of a bike on a unit."""
    from solver.cli import plan as command  # noqa: PLC0415 - loads ortools, which takes 0.4 s

    raise typer.Exit(command.run(bike, unit, place, time_limit, offs=trade_offs, as_json=as_json))


@app.command()
def schema(what: Annotated[Literal["bike", "unit"], typer.Argument(help="which file")]) -> None:
    """Print the JSON Schema of a file."""
    from solver.reading.schema import bike_schema, unit_schema  # noqa: PLC0415 - slow to build, seldom wanted

    document = bike_schema() if what == "bike" else unit_schema()
    typer.echo(json.dumps(document, indent=2, ensure_ascii=False))


@app.command()
def units(*, as_json: AsJson = False) -> None:
    """List the bundled unit profiles."""
    from solver.cli import units as command  # noqa: PLC0415 - keeps --help quick

    command.run(as_json=as_json)


@app.command()
def rules(name: Annotated[str | None, typer.Argument(metavar="NAME", help="one rule only")] = None) -> None:
    """List the rules that are judged: what each protects and where its figure comes from."""
    from solver.cli import rules as command  # noqa: PLC0415 - keeps --help quick

    command.run(name)


@app.command()
def new(what: Annotated[Literal["bike", "unit"], typer.Argument(help="which file")]) -> None:
    """Print a small file to start from."""
    from solver.cli.starters import starter  # noqa: PLC0415 - keeps --help quick

    typer.echo(starter(what), nl=False)


def main() -> None:
    """Run the command line; whatever goes wrong ends in one clear message and its exit code."""
    try:
        app()
    except BadFile as bad:
        _stop(str(bad), Exit.BAD_INPUT)
    except KeyboardInterrupt:
        _stop("interrupted", Exit.INTERRUPTED)
    except BrokenPipeError:
        sys.stderr.close()
        sys.exit(Exit.DONE)
    except Exception as error:  # noqa: BLE001 - a traceback is never shown to a user
        _stop(f"portloom: an error of the program, not of your files: {error or type(error).__name__}", Exit.FAILED_CHECK)


def _stop(message: str, code: Exit) -> None:
    typer.echo(message, err=True)
    sys.exit(code)

"""The words of a call: arguments and options of the commands, each with what its help says."""

from math import isfinite
from pathlib import Path
from typing import Annotated, Literal

import typer


def _seconds(limit: float | None) -> float | None:
    if limit is not None and not isfinite(limit):
        raise typer.BadParameter("give a number of seconds")
    return limit


def _one_unit(said: str) -> str:
    """Return a unit as it is called; note where a bundled one was meant by a name that is not quite its own."""
    from portloom.cli.screen import note  # noqa: PLC0415 - as below
    from portloom.inputs.profiles import bundled_name  # noqa: PLC0415 - keeps --help quick

    name = bundled_name(said)
    if name is None or name == said:
        return said
    note(f"'{said}' is read as the bundled unit {name}")
    return name


def _units(said: list[str] | None) -> list[str] | None:
    return None if said is None else [_one_unit(each) for each in said]


IN_CSV = "text that begins like a formula has an apostrophe before it"
BikeFile = Annotated[Path, typer.Argument(metavar="BIKE", readable=False, help="the bike's file")]
PostFile = Annotated[
    Path, typer.Argument(metavar="PLAN", readable=False, help="the posted plan's file, or - for stdin")
]
BikeFiles = Annotated[list[Path], typer.Argument(metavar="BIKE", readable=False, help="the bikes' files")]
UnitNames = Annotated[
    list[str] | None,
    typer.Option(
        "--unit",
        metavar="UNIT",
        callback=_units,
        help="a profile's file, a bundled unit's name, or a folder; may be repeated",
    ),
]
OneOrTwoUnits = Annotated[
    list[str],
    typer.Option(
        "--unit",
        metavar="UNIT",
        callback=_units,
        help="a profile's file, or a bundled unit's name; may be repeated for two",
    ),
]
OldPlan = Annotated[
    Path,
    typer.Argument(
        metavar="OLD", readable=False, help="a plan as 'portloom plan --json' printed it, or with --unit a bike's file"
    ),
]
NewPlan = Annotated[Path, typer.Argument(metavar="NEW", readable=False, help="the same, newer")]
UnitsOfBikes = Annotated[
    list[str] | None,
    typer.Option(
        "--unit",
        metavar="UNIT",
        callback=_units,
        help="plan two bikes on this one: a profile's file, or a bundled unit's name; may be repeated for two",
    ),
]
UnitName = Annotated[
    str,
    typer.Option("--unit", metavar="UNIT", callback=_one_unit, help="a profile's file, or a bundled unit's name"),
]
PlaceName = Annotated[str | None, typer.Option("--place", metavar="NAME", help="allow only this place of the bike")]
PostsBike = Annotated[
    Path | None, typer.Argument(metavar="BIKE", readable=False, help="the bike's file; without it the post alone")
]
PlaceOfPost = Annotated[
    str | None, typer.Option("--place", metavar="NAME", help="the unit's place, where the post names none")
]
Best = Annotated[bool, typer.Option("--best", help="also how far it is from the best plan")]
RepairToo = Annotated[bool, typer.Option("--repair", help="also the fewest loads to move to make it sound")]
Reply = Annotated[bool, typer.Option("--reply", help="print an answer in Markdown that can be pasted")]
ModelFile = Annotated[
    Path | None,
    typer.Option("--model", metavar="FILE", readable=False, help="write the solver's model of the place to a new file"),
]
TradeOffsToo = Annotated[
    bool, typer.Option("--trade-offs", help="list trade-offs between less wire and more spare ports")
]
Watch = Annotated[
    bool, typer.Option("--watch", help="plan again at each save of the files, and tell what differs, until Ctrl-C")
]
Full = Annotated[bool, typer.Option("--full", help="print every part of the plan, not the first screen alone")]
Only = Annotated[
    str | None,
    typer.Option("--only", metavar="PARTS", help="print these parts of the plan only, such as looms,returns"),
]
BuiltPlan = Annotated[
    Path | None,
    typer.Option(
        "--built",
        metavar="PLAN",
        readable=False,
        help="what 'plan --json' printed when the loom was made: what is built stays where it can",
    ),
]
TimeLimit = Annotated[
    float | None,
    typer.Option(
        "--time-limit",
        metavar="SECONDS",
        min=0.0,
        callback=_seconds,
        help="stop after this long, with the best found so far",
    ),
]
NotOn = Annotated[str | None, typer.Option("--not", metavar="LOAD=PORT", help="why is this load not on this output")]
NotPlace = Annotated[str | None, typer.Option("--not-place", metavar="NAME", help="why is the unit not at this place")]
ForLoad = Annotated[
    str | None, typer.Option("--for", metavar="LOAD", help="what the output of this load offers that others don't")
]
Pins = Annotated[bool, typer.Option("--pins", help="what each port that the file decides costs")]
All = Annotated[bool, typer.Option("--all", help="every smallest conflict, up to a limit")]
ProofToo = Annotated[bool, typer.Option("--proof", help="also how each conflict was proved")]
Apply = Annotated[int | None, typer.Option("--apply", metavar="NUMBER", help="write this fix into a copy of the file")]
Out = Annotated[
    Path | None,
    typer.Option("--out", metavar="FILE", readable=False, help="the file for --apply, never the bike's own"),
]
Folder = Annotated[
    Path | None,
    typer.Option(
        "--out", metavar="FOLDER", readable=False, help=f"the folder for the sheets; in its CSV files {IN_CSV}"
    ),
]
Readings = Annotated[
    Path | None,
    typer.Option("--readings", metavar="FILE", readable=False, help="check the filled-in readings of the bench test"),
]
Force = Annotated[bool, typer.Option("--force", help="overwrite files there that portloom did not write")]
By = Annotated[
    str | None,
    typer.Option(
        "--by",
        metavar="COLUMN",
        help="rank by this column, such as 'wire run'; without it by price, or where a unit has none by "
        "'wire and spare ports'",
    ),
]
HeadroomToo = Annotated[
    bool, typer.Option("--headroom", help="also how much more each bike could carry on each single unit, not on two")
]
TwoUnits = Annotated[
    bool,
    typer.Option(
        "--two-units",
        help="also two units instead of one, two of the same included: every pair of those named with --unit; "
        "without --unit, of the bundled ones that are not enough alone",
    ),
]
TimeLimitEach = Annotated[
    float | None,
    typer.Option(
        "--time-limit", metavar="SECONDS", min=0.0, callback=_seconds, help="limit for each bike on each unit or two"
    ),
]
Csv = Annotated[
    Path | None,
    typer.Option(
        "--csv",
        metavar="FILE",
        readable=False,
        help="keep each row here as soon as it is done, and continue from the rows already there; what that takes lies "
        f"beside it, in FILE.resume; {IN_CSV}",
    ),
]
Plain = Annotated[bool, typer.Option("--plain", help="for screen readers: no tables, one fact a line after its label")]
AsJson = Annotated[bool, typer.Option("--json", help="print one JSON document")]
BundledName = Annotated[str | None, typer.Argument(metavar="NAME", help="print the file of this bundled unit")]
RuleName = Annotated[str | None, typer.Argument(metavar="NAME", help="one rule only")]
PartName = Annotated[
    list[str] | None, typer.Argument(metavar="NAME", help="one part only, by any words for it, such as high beam")
]
KeyName = Annotated[str | None, typer.Argument(metavar="KEY", help="one key only, such as trip")]
TopicName = Annotated[
    list[str] | None, typer.Argument(metavar="TOPIC", help="one topic, such as sharing; without it the list of them")
]
GlossaryWord = Annotated[list[str] | None, typer.Argument(metavar="WORD", help="one word only, such as trip")]
SchemaFile = Annotated[
    Path | None, typer.Option("--out", metavar="FILE", readable=False, help="write it to this new file")
]
Shell = Annotated[
    Literal["bash", "zsh", "fish", "powershell"], typer.Argument(metavar="SHELL", help="bash, zsh, fish or powershell")
]
TypedLine = Annotated[str, typer.Argument(metavar="LINE", help="the line as far as it is typed")]
NewFile = Annotated[
    Path | None, typer.Option("--out", metavar="FILE", readable=False, help="write it to this new file")
]
AnswersFile = Annotated[
    Path | None,
    typer.Option(
        "--answers", metavar="FILE", readable=False, help="answers that are given already, as the asking keeps them"
    ),
]
LikeUnit = Annotated[
    str | None,
    typer.Option(
        "--like",
        metavar="UNIT",
        callback=lambda said: None if said is None else _one_unit(said),
        help="of a unit: what this one has is usual; a profile's file, or a bundled unit's name",
    ),
]
TakeUsual = Annotated[
    bool, typer.Option("--yes", help="ask nothing: take what is usual, but for what only the builder can know")
]
Which = Annotated[Literal["bike", "unit"], typer.Argument(metavar="bike|unit", help="which of the two files")]

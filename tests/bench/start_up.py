"""What a whole command takes beside what it can't do without, in turn in one run: time, processor time and memory.

Run on demand: ``python -m tests.bench.start_up``; ``--json`` prints the same as one document, ``--runs`` how often each
is run. Compiled files are kept as an install keeps them.
"""

import json
import statistics
import sys
from argparse import ArgumentParser
from collections.abc import Callable, Mapping, Sequence
from dataclasses import asdict, dataclass
from pathlib import Path

from .processes import Taken, as_installed, taken

EXAMPLES = Path(__file__).parents[2] / "examples"
HARBOUR = str(EXAMPLES / "harbour-trail.yaml")
WARM_RUNS = 5
WARM = f"""
import io, statistics, time
from pathlib import Path
from rich.console import Console
from portloom.inputs.files import find_unit, read_bike, read_unit
from portloom.planning.plan import plan
from portloom.report.text.layout import TextPage
from portloom.report.text.plan import write_plan

def planned():
    began = time.perf_counter(), time.process_time()
    answer = plan(read_bike(Path({HARBOUR!r})), read_unit(find_unit("eleven-way")))
    write_plan(answer.plan, TextPage(Console(width=100, file=io.StringIO())))
    return time.perf_counter() - began[0], time.process_time() - began[1]

planned()
print(*map(statistics.median, zip(*(planned() for _ in range({WARM_RUNS})))))
"""
CALLS: Mapping[str, Sequence[str]] = {
    "solver": ("-c", "from ortools.sat.python import cp_model"),
    "libraries": ("-c", "import pydantic, yaml, typer, rich.console, rich.table"),
    "plan": ("-m", "portloom.cli", "plan", HARBOUR, "--unit", "eleven-way"),
    "imports": ("-c", "import portloom.cli.main, portloom.cli.plan; from portloom.search.doors import door; door()"),
    "check": (
        "-m", "portloom.cli", "check", str(EXAMPLES / "harbour-trail-posted.md"), HARBOUR, "--unit", "eleven-way",
    ),
    "help": ("-m", "portloom.cli", "--help"),
    "warm": ("-c", WARM),
}  # fmt: skip


@dataclass(frozen=True)
class Row:
    """Two things side by side: the medians of their ratios."""

    what: str
    beside: str
    seconds: float | None
    processor: float | None
    memory: float | None
    wanted: float


def called(name: str, environment: Mapping[str, str]) -> Taken:
    """Return what a call took; of the warm one what it tells of itself, which is one planning."""
    whole = taken(CALLS[name], environment)
    if name != "warm":
        return whole
    seconds, processor = map(float, whole.said.split())
    return Taken(seconds, processor, whole.memory)


def rows(rounds: Sequence[Mapping[str, Taken]]) -> list[Row]:
    """Return each thing beside another, by the medians of what was taken in the same round."""

    def ratio(one: str, other: str, of: Callable[[Taken], float]) -> float:
        return round(statistics.median(of(each[one]) / of(each[other]) for each in rounds), 2)

    def row(what: str, one: str, other: str, wanted: float) -> Row:
        seconds, processor = (ratio(one, other, of) for of in (lambda t: t.seconds, lambda t: t.processor))
        return Row(what, other, seconds, processor, None, wanted)

    return [
        row("plan, the whole process", "plan", "solver", 1.0),
        row("importing all that a plan needs", "imports", "solver", 0.6),
        row("planning in a warm process", "warm", "solver", 0.25),
        row("check, the whole process", "check", "libraries", 1.3),
        row("--help, the whole process", "help", "libraries", 0.6),
        Row("plan, memory", "solver", None, None, ratio("plan", "solver", lambda t: t.memory), 1.0),
    ]


def main() -> None:
    """Print the table."""
    parser = ArgumentParser(prog="python -m tests.bench.start_up", description="Whole commands beside bare imports.")
    parser.add_argument("--runs", type=int, default=11, help="of each, in turn; 11")
    parser.add_argument("--json", action="store_true", help="print one document")
    asked = parser.parse_args()
    with as_installed() as environment:
        for name in CALLS:
            called(name, environment)  # the first run compiles
        rounds = [{name: called(name, environment) for name in CALLS} for _ in range(asked.runs)]
    table = rows(rounds)
    if asked.json:
        sys.stdout.write(json.dumps([asdict(row) for row in table], indent=2) + "\n")
        return
    print("| what | beside | time | processor | memory | wanted |\n| --- | --- | --- | --- | --- | --- |")
    for row in table:
        told = ("" if each is None else f"{each:.2f}" for each in (row.seconds, row.processor, row.memory))
        print(f"| {row.what} | {row.beside} | {' | '.join(told)} | {row.wanted} |")


if __name__ == "__main__":
    main()

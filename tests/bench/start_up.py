"""What a whole command takes beside what it can't do without, in turn in one run: time, processor time and memory.

Run on demand: ``python -m tests.bench.start_up``. Compiled files are kept as an install keeps them.
"""

from collections.abc import Iterator, Mapping, Sequence
from pathlib import Path

from .processes import Taken, as_installed, taken
from .rows import CLOCK, MEMORY, PROCESSOR, Extent, Row, alone, beside

EXAMPLES = Path(__file__).parents[2] / "examples"
HARBOUR = str(EXAMPLES / "harbour-trail.yaml")
RUNS = 11
WARM_RUNS = 5
WARM = f"""
import io, statistics, time
from pathlib import Path
from rich.console import Console
from portloom.inputs.files import find_unit, read_bike, read_unit
from portloom.planning.plan import plan
from portloom.report.text.layout import TextPage
from portloom.report.text.plan import write_in_short

def planned():
    began = time.perf_counter(), time.process_time()
    answer = plan(read_bike(Path({HARBOUR!r})), read_unit(find_unit("eleven-way")))
    write_in_short(answer.plan, TextPage(Console(width=100, file=io.StringIO())))
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
SOLVER, LIBRARIES = "import of ortools' CP-SAT", "import of pydantic, yaml, typer, rich"


def called(name: str, environment: Mapping[str, str]) -> Taken:
    """Return what a call took; of the warm one what it tells of itself, which is one planning."""
    whole = taken(CALLS[name], environment)
    if name != "warm":
        return whole
    seconds, processor = map(float, whole.said.split())
    return Taken(seconds, processor, whole.memory)


def rows(rounds: Sequence[Mapping[str, Taken]]) -> Iterator[Row]:
    """Return each thing beside another, by what was taken in the same round."""

    def pair(what: str, one: str, other: str, wanted: float) -> Iterator[Row]:
        pairs = [(each[one], each[other]) for each in rounds]
        yield from beside(what, LIBRARIES if other == "libraries" else SOLVER, pairs, (CLOCK, PROCESSOR), wanted)

    yield from pair("plan, the whole process", "plan", "solver", 1.0)
    yield from pair("importing all that a plan needs", "imports", "solver", 0.6)
    yield from pair("planning in a warm process", "warm", "solver", 0.25)
    yield from pair("check, the whole process", "check", "libraries", 1.3)
    yield from pair("--help, the whole process", "help", "libraries", 0.6)
    memory = tuple(each["plan"].memory / each["solver"].memory for each in rounds)
    yield Row("plan, the whole process", SOLVER, MEMORY, memory, 1.0)


def measured(extent: Extent) -> Iterator[Row]:
    """Return whole commands beside bare imports."""
    with as_installed() as environment:
        for name in CALLS:
            called(name, environment)  # the first run compiles
        rounds = [{name: called(name, environment) for name in CALLS} for _ in range(extent.times(RUNS))]
    yield from rows(rounds)


if __name__ == "__main__":
    alone(measured, "start_up")

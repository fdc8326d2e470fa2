"""The bench test as a page to print and fill in, and the file for its readings."""

from collections.abc import Iterator, Sequence

from portloom.base.figures import listed
from portloom.base.quantities import MilliVolts
from portloom.documents.handover.steps import BenchTest, Step, TestPart
from portloom.documents.wiring.lists import Lists
from portloom.inputs.bench_readings import HEADER
from portloom.report.html.markup import (
    STYLE,
    Html,
    TableRow,
    caution_box,
    document,
    first_box,
    items,
    joined,
    section,
    table,
    tag,
)

FIELDS = {
    "ohms": ("ohm",),
    "current": ("V supply", "A"),
    "voltage": ("V",),
    "supply and voltage": ("V supply", "V"),
    "current and voltage": ("V supply", "A", "V"),
    "see": ("right?",),
}
COLUMNS = (
    ("step", "left"), ("what", "left"), ("do", "left"), ("must be", "left"), ("if not", "left"), ("read", "left"),
)  # fmt: skip
STEPS_BREAK = "@media print{.wide{break-inside:auto!important}}"
"""A table of steps, whose rows are tall, goes on over the page even where it is short."""
PARTS: dict[TestPart, str] = {
    "before the battery goes on": "1. Before the battery goes on",
    "first power": "2. First power: the unit's plug, without the unit",
    "one circuit at a time": "3. One circuit at a time, on a small fuse",
    "everything plugged in": "4. Everything plugged in, on the main fuse",
    "engine running": "5. With the engine",
    "last": "6. Last",
}


def bench_test_page(test: BenchTest, lists: Lists, cautions: Sequence[str]) -> str:
    """Return the page."""
    return document(
        f"Bench test: {test.bike}",
        STYLE + STEPS_BREAK,
        tag("h1", f"Bench test: {test.bike}"),
        tag("p", f"On the {test.unit}. {_printed_for(test.supply)}", class_="quiet"),
        first_box(lists.first, lists.set_aside),
        caution_box(cautions),
        section("How to read", items(test.how_to_read)),
        *([section("What can start by itself", items(test.by_itself))] if test.by_itself else []),
        *(section(title, *_part(test, part)) for part, title in PARTS.items() if _steps(test, part)),
    )


def _printed_for(supply: MilliVolts) -> str:
    return (
        f"Currents are printed for {supply / 1000:g} V at the battery. At another voltage they differ: fill in "
        "readings.csv, and have it checked with --readings. A filament lamp draws 80 to 100 % of its planning "
        "current; the spread of all else, limits that are not the plan's, and what a wrong reading means are common "
        "practice, no source."
    )


def _part(test: BenchTest, part: TestPart) -> Iterator[Html]:
    said = list(test.said.get(part, ()))
    if part == "before the battery goes on":
        harmed = listed(test.unplug)
        said.append(f"Every load is unplugged, bulbs are out; an ohmmeter's own current could harm {harmed}.")
    if said:
        yield items(said)
    steps = _steps(test, part)
    yield table(f"Steps {steps[0].number} to {steps[-1].number}", COLUMNS, map(_row, steps))


def _steps(test: BenchTest, part: TestPart) -> list[Step]:
    return [step for step in test.steps if step.part == part]


def _row(step: Step) -> TableRow:
    return TableRow((str(step.number), step.title, step.do, step.expect, step.if_not, _fields(step)))


def _fields(step: Step) -> Html:
    return joined(tag("span", tag("span", class_="field"), f" {unit}", class_="fill") for unit in FIELDS[step.read])


def readings_form(test: BenchTest) -> str:
    """Return the CSV file to fill in: a line for each step of which a current or a voltage is read."""
    steps = [step for step in test.steps if step.read not in ("ohms", "see")]
    return "\r\n".join([",".join(HEADER), *(f"{step.number},,," for step in steps), ""])

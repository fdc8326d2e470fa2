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
    "current and voltage": ("V supply", "A", "V"),
    "see": ("right?",),
}
COLUMNS = (("step", "left"), ("what", "left"), ("do", "left"), ("expect", "left"), ("read", "left"))
PARTS: dict[TestPart, str] = {
    "before the battery goes on": "1. Before the battery goes on",
    "first power": "2. First power",
    "one at a time": "3. One at a time, up to the start",
    "engine running": "4. With the engine running",
    "last": "5. Last",
}
BEFORE = (
    "An ohmmeter only, never an insulation tester: its voltage destroys electronics.",
    "The battery is off the bike's leads, every fuse is out, every relay out of its socket.",
    "Touch the meter's leads together first, and subtract what they read from each reading. "
    "Of several, write the highest.",
)
ONE = (
    "After each step, switch off again what it switched on: press a button that toggles once more.",
    "A socket draws what is plugged in: use what it is meant for.",
    "Before the start steps: outdoors, or with the exhaust led outside; the driven wheel off the ground and free, "
    "nobody behind it.",
)
RUNNING = (
    "These need the engine, so they come after the start steps. The driven wheel stays off the ground.",
    "Currents are printed for the running voltage.",
)
SAID: dict[TestPart, tuple[str, ...]] = {"one at a time": ONE, "engine running": RUNNING}


def bench_test_page(test: BenchTest, lists: Lists, cautions: Sequence[str]) -> str:
    """Return the page."""
    return document(
        f"Bench test: {test.bike}",
        STYLE,
        tag("h1", f"Bench test: {test.bike}"),
        tag("p", f"On the {test.unit}. {_printed_for(test.supply)}", class_="quiet"),
        first_box(lists.first, lists.set_aside),
        caution_box(cautions),
        *(section(title, *_part(test, part)) for part, title in PARTS.items() if _steps(test, part)),
    )


def _printed_for(supply: MilliVolts) -> str:
    return (
        f"Currents are printed for {supply / 1000:g} V at the battery. At another voltage they differ: fill in "
        "readings.csv, and have it checked with --readings. A filament lamp draws 80 to 100 % of its planning "
        "current; the spread of all else is common practice, no source."
    )


def _part(test: BenchTest, part: TestPart) -> Iterator[Html]:
    if part == "before the battery goes on":
        harmed = listed(test.unplug)
        yield items(
            (*BEFORE, f"Every load is unplugged, bulbs are out; an ohmmeter's own current could harm {harmed}.")
        )
    if part in SAID:
        yield items(SAID[part])
    steps = _steps(test, part)
    yield table(f"Steps {steps[0].number} to {steps[-1].number}", COLUMNS, map(_row, steps))


def _steps(test: BenchTest, part: TestPart) -> list[Step]:
    return [step for step in test.steps if step.part == part]


def _row(step: Step) -> TableRow:
    return TableRow((str(step.number), step.title, step.do, step.expect, _fields(step)))


def _fields(step: Step) -> Html:
    return joined(tag("span", tag("span", class_="field"), f" {unit}", class_="fill") for unit in FIELDS[step.read])


def readings_form(test: BenchTest) -> str:
    """Return the CSV file to fill in: a line for each step of which a current or a voltage is read."""
    steps = [step for step in test.steps if step.read in ("current", "voltage", "current and voltage")]
    return "\r\n".join([",".join(HEADER), *(f"{step.number},,," for step in steps), ""])

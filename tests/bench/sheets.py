"""All sheets of the examples against their plans, whole processes in turn.

Run on demand: ``python -m tests.bench.sheets``. The largest example is the one with the most wires.
"""

from collections.abc import Iterator
from tempfile import TemporaryDirectory

from .processes import as_installed, taken
from .rows import CLOCK, PROCESSOR, Extent, Row, alone, beside
from .start_up import EXAMPLES

RUNS = 7
AT_MOST = 1.3
FITTING = (
    ("bare-single", "six-way"),
    ("harbour-trail", "eleven-way"),
    ("market-parallel", "fourteen-way"),
    ("dressed-tourer", "twenty-four-way"),
    ("sidecar-hauler", "twenty-four-way"),
)


def measured(extent: Extent) -> Iterator[Row]:
    """Return the sheets of each example beside its plan."""
    with as_installed() as environment, TemporaryDirectory() as scratch:
        for bike, unit in extent.some(FITTING):
            call = (str(EXAMPLES / f"{bike}.yaml"), "--unit", unit)
            words = ("sheets", *call, "--out", f"{scratch}/{bike}"), ("plan", *call)
            sheets, plan = (("-m", "portloom.cli", *each) for each in words)
            for arguments in (sheets, plan):
                taken(arguments, environment)  # the first run compiles
            pairs = [(taken(sheets, environment), taken(plan, environment)) for _ in range(extent.times(RUNS))]
            yield from beside(f"sheets of {bike}", "its plan", pairs, (CLOCK, PROCESSOR), AT_MOST)


if __name__ == "__main__":
    alone(measured, "sheets")

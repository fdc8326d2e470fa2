"""Comparing twelve units on the Harbour Trail, and planning it on two, against planning it on one: whole processes.

The twelve are the bundled profiles and five random ones, from seeds. Run on demand: ``python -m tests.bench.compare``.
"""

from collections.abc import Iterator
from pathlib import Path
from tempfile import TemporaryDirectory

import yaml

from portloom.inputs.files import bundled_units

from .mixed_units import mixed_unit
from .processes import as_installed, taken
from .rows import CLOCK, PROCESSOR, Extent, Row, alone, beside
from .start_up import CALLS, HARBOUR

RUNS = 7
AT_MOST, OF_TWO_AT_MOST = 1.5, 4.0
UNITS = 12
ON_TWO = ("-m", "portloom.cli", "plan", HARBOUR, "--unit", "eight-way", "--unit", "eight-way")


def twelve(folder: Path) -> None:
    """Write the bundled profiles and random ones beside them, until there are twelve."""
    bundled = bundled_units()
    for name, file in bundled:
        (folder / f"{name}.yaml").write_text(file.read_text("utf-8"), "utf-8")
    for seed in range(UNITS - len(bundled)):
        text = yaml.safe_dump(mixed_unit(seed), sort_keys=False)
        (folder / f"mixed-{seed}.yaml").write_text(text, "utf-8")


def measured(extent: Extent) -> Iterator[Row]:
    """Return twelve units, judged by the clock since all cores may work on them, and two, beside one."""
    with as_installed() as environment, TemporaryDirectory() as units:
        twelve(Path(units))
        calls = ("-m", "portloom.cli", "compare", HARBOUR, "--unit", units), ON_TWO, CALLS["plan"]
        for arguments in calls:
            taken(arguments, environment)  # the first run compiles
        rounds = [[taken(arguments, environment) for arguments in calls] for _ in range(extent.times(RUNS))]
    of_all, of_two = [(many, one) for many, _, one in rounds], [(two, one) for _, two, one in rounds]
    yield from beside(f"compare, {UNITS} units", "one plan", of_all, (CLOCK,), AT_MOST)
    yield from beside("plan on two units, the whole process", "one plan", of_two, (CLOCK, PROCESSOR), OF_TWO_AT_MOST)


if __name__ == "__main__":
    alone(measured, "compare")

"""Comparing twelve units on the Harbour Trail against planning it on one, whole processes in turn.

The twelve are the bundled profiles and five random ones, from seeds. Run on demand: ``python -m tests.bench.compare``.
"""

import statistics
from pathlib import Path
from tempfile import TemporaryDirectory

import yaml

from portloom.inputs.files import bundled_units

from .mixed_units import mixed_unit
from .processes import as_installed, taken
from .start_up import CALLS, HARBOUR

RUNS = 7
AT_MOST = 4.0
UNITS = 12


def twelve(folder: Path) -> None:
    """Write the bundled profiles and random ones beside them, until there are twelve."""
    bundled = bundled_units()
    for name, file in bundled:
        (folder / f"{name}.yaml").write_text(file.read_text("utf-8"), "utf-8")
    for seed in range(UNITS - len(bundled)):
        text = yaml.safe_dump(mixed_unit(seed), sort_keys=False)
        (folder / f"mixed-{seed}.yaml").write_text(text, "utf-8")


def main() -> None:
    """Print both medians and the median of the ratios, compiled files kept as an install keeps them."""
    with as_installed() as environment, TemporaryDirectory() as units:
        twelve(Path(units))
        calls = ("-m", "portloom.cli", "compare", HARBOUR, "--unit", units), CALLS["plan"]
        for arguments in calls:
            taken(arguments, environment)  # the first run compiles
        pairs = [[taken(arguments, environment).seconds for arguments in calls] for _ in range(RUNS)]
    twelve_units, one_plan = (statistics.median(column) for column in zip(*pairs, strict=True))
    ratio = statistics.median(one / other for one, other in pairs)
    print(
        f"{UNITS} units {twelve_units:.2f} s, one plan {one_plan:.2f} s, median ratio {ratio:.2f}; "
        f"at most {AT_MOST} is wanted"
    )


if __name__ == "__main__":
    main()

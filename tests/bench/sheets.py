"""All sheets of the examples against their plans, whole processes in turn.

Run on demand: ``python -m tests.bench.sheets [ROUNDS]``. The largest example is the one with the most wires.
"""

import os
import statistics
import subprocess
import sys
from pathlib import Path
from tempfile import TemporaryDirectory
from time import perf_counter

AT_MOST = 3.0
EXAMPLES = Path(__file__).parents[2] / "examples"
CALLS = (
    ("bare-single", "six-way"),
    ("harbour-trail", "eleven-way"),
    ("market-parallel", "fourteen-way"),
    ("dressed-tourer", "twenty-four-way"),
    ("sidecar-hauler", "twenty-four-way"),
)


def seconds(words: tuple[str, ...], environment: dict[str, str]) -> float:
    """Run a command to its end; give the wall seconds."""
    started = perf_counter()
    subprocess.run([sys.executable, "-m", "portloom.cli", *words], check=True, capture_output=True, env=environment)
    return perf_counter() - started


def main(rounds: int) -> None:
    """Print for each example both medians and the median of the ratios."""
    with TemporaryDirectory() as scratch:
        environment = {**os.environ, "PYTHONPYCACHEPREFIX": f"{scratch}/compiled"}
        for bike, unit in CALLS:
            call = (str(EXAMPLES / f"{bike}.yaml"), "--unit", unit)
            plan, sheets = ("plan", *call), ("sheets", *call, "--out", f"{scratch}/{bike}")
            for words in (plan, sheets):
                seconds(words, environment)  # the first run compiles
            pairs = [(seconds(plan, environment), seconds(sheets, environment)) for _ in range(rounds)]
            one, other = (statistics.median(column) for column in zip(*pairs, strict=True))
            ratio = statistics.median(other / one for one, other in pairs)
            print(f"{bike} on {unit}: plan {one:.2f} s, sheets {other:.2f} s, median ratio {ratio:.2f}", flush=True)
    print(f"at most {AT_MOST} is wanted of the largest")


if __name__ == "__main__":
    main(int(sys.argv[1]) if len(sys.argv) > 1 else 7)

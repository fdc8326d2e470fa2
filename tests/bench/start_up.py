"""Planning the Harbour Trail against a bare import of the solver's library, whole processes in turn.

Run on demand: ``python -m tests.bench.start_up``.
"""

import os
import statistics
import subprocess
import sys
from pathlib import Path
from tempfile import TemporaryDirectory
from time import perf_counter

RUNS = 11
AT_MOST = 2.2
EXAMPLE = Path(__file__).parents[2] / "examples" / "harbour-trail.yaml"
BARE = ("-c", "import ortools.sat.python.cp_model")
PLAN = ("-m", "portloom.cli", "plan", str(EXAMPLE), "--unit", "eleven-way")


def seconds(arguments: tuple[str, ...], environment: dict[str, str]) -> float:
    """Run a process to its end and give the wall seconds."""
    started = perf_counter()
    subprocess.run([sys.executable, *arguments], check=True, stdout=subprocess.DEVNULL, env=environment)
    return perf_counter() - started


def main() -> None:
    """Print both medians and the median of the ratios, compiled files kept as an install keeps them."""
    with TemporaryDirectory() as compiled:
        environment = {**os.environ, "PYTHONPYCACHEPREFIX": compiled}
        environment.pop("PYTHONDONTWRITEBYTECODE", None)
        for arguments in (BARE, PLAN):
            seconds(arguments, environment)  # the first run compiles
        pairs = [(seconds(PLAN, environment), seconds(BARE, environment)) for _ in range(RUNS)]
    plan, bare = (statistics.median(column) for column in zip(*pairs, strict=True))
    ratio = statistics.median(one / other for one, other in pairs)
    print(f"plan {plan:.2f} s, bare import {bare:.2f} s, median ratio {ratio:.2f}; at most {AT_MOST} is wanted")


if __name__ == "__main__":
    main()

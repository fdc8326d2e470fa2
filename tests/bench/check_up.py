"""Checking a posted plan against importing the libraries that it needs, whole processes in turn.

``import pydantic`` loads next to nothing before a name of it is used, so what is imported are the names that the
project uses of each; beside that, for the record, the four bare imports.

Run on demand: ``python -m tests.bench.check_up``.
"""

import os
import statistics
import subprocess
import sys
from pathlib import Path
from tempfile import TemporaryDirectory
from time import perf_counter

RUNS = 21
AT_MOST = 2.0
EXAMPLES = Path(__file__).parents[2] / "examples"
BARE = ("-c", "import pydantic, yaml, typer, rich")
USED = (
    "-c",
    "import typer, yaml\n"
    "from pydantic import BaseModel, BeforeValidator, Field, StringConstraints\n"
    "from rich.console import Console\nfrom rich.table import Table",
)
CHECK = (
    "-m", "portloom.cli", "check", str(EXAMPLES / "harbour-trail-posted.md"), str(EXAMPLES / "harbour-trail.yaml"),
    "--unit", "eleven-way",
)  # fmt: skip


def seconds(arguments: tuple[str, ...], environment: dict[str, str]) -> float:
    """Run a process to its end and give the wall seconds; the posted plan breaks a rule, so it ends with 1."""
    started = perf_counter()
    done = subprocess.run([sys.executable, *arguments], check=False, stdout=subprocess.DEVNULL, env=environment)
    if done.returncode not in (0, 1):
        raise subprocess.CalledProcessError(done.returncode, arguments)
    return perf_counter() - started


def main() -> None:
    """Print both medians and the median of the ratios, compiled files kept as an install keeps them."""
    with TemporaryDirectory() as compiled:
        environment = {**os.environ, "PYTHONPYCACHEPREFIX": compiled}
        environment.pop("PYTHONDONTWRITEBYTECODE", None)
        calls = (CHECK, USED, BARE)
        for arguments in calls:
            seconds(arguments, environment)  # the first run compiles
        rounds = [tuple(seconds(arguments, environment) for arguments in calls) for _ in range(RUNS)]
    check, used, bare = (statistics.median(column) for column in zip(*rounds, strict=True))
    ratio = statistics.median(one / other for one, other, _ in rounds)
    beside_bare = statistics.median(one / other for one, _, other in rounds)
    print(f"check {check:.2f} s, imports {used:.2f} s, median ratio {ratio:.2f}; at most {AT_MOST} is wanted")
    print(f"bare imports {bare:.2f} s, median ratio {beside_bare:.2f}")


if __name__ == "__main__":
    main()

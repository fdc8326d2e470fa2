"""The whole table of the package's speed, measured in one run: ``python -m tests.bench``, ``--json`` for programs.

``--only PART`` measures one part, or several; ``--quick`` the least of each. Rows are told on stderr as they come. A
part that fails is told, and the others go on; the end is then 1. No speed makes it fail.
"""

import json
import os
import platform
import sys
from collections.abc import Mapping, Sequence
from importlib.metadata import version
from pathlib import Path

from . import (
    compare,
    cores,
    decided,
    fixes,
    formulations,
    growth,
    huge,
    limit,
    places,
    proofs,
    reasons,
    sheets,
    start_up,
    trees,
    warm,
)
from .rows import Extent, Part, Row, extent_of, options, table

PARTS: Mapping[str, Part] = {
    "start_up": start_up.measured,
    "compare": compare.measured,
    "sheets": sheets.measured,
    "warm": warm.measured,
    "decided": decided.measured,
    "trees": trees.measured,
    "cores": cores.measured,
    "limit": limit.measured,
    "growth": growth.measured,
    "huge": huge.measured,
    "places": places.measured,
    "formulations": formulations.measured,
    "proofs": proofs.measured,
    "reasons": reasons.measured,
    "fixes": fixes.measured,
}
"""In the order in which they are measured: the short ones first."""
LIBRARIES = ("portloom", "ortools", "pydantic", "pyyaml", "typer", "rich", "scipy", "cpmpy", "networkx")


def surroundings() -> dict[str, str]:
    """Return the kind of machine, what else it had to do, and the versions."""
    described = Path("/proc/cpuinfo")
    lines = described.read_text("utf-8").splitlines() if described.exists() else []
    names = [line.partition(":")[2].strip() for line in lines if line.startswith("model name")]
    system = f"{platform.system()} {platform.release()}, {platform.machine()}"
    return {
        "machine": f"{os.cpu_count()} x {next(iter(names), platform.processor() or 'processor')}, {system}",
        "waiting for a core in the last minute": f"{os.getloadavg()[0]:.1f} tasks" if hasattr(os, "getloadavg") else "",
        "python": f"{platform.python_implementation()} {platform.python_version()}",
        **{name: version(name) for name in LIBRARIES},
    }


def measured(names: Sequence[str], extent: Extent) -> tuple[dict[str, list[Row]], dict[str, str]]:
    """Measure parts one after another; return the rows of each, and what was wrong with those that failed."""
    rows: dict[str, list[Row]] = {}
    wrong: dict[str, str] = {}
    for name in names:
        rows[name] = []
        try:
            for row in PARTS[name](extent):
                rows[name].append(row)
                sys.stderr.write(f"{name}: {' | '.join(row.cells)}\n")
        except RuntimeError as error:
            wrong[name] = str(error)
            sys.stderr.write(f"{name} FAILED: {error}\n")
    return rows, wrong


def main(words: Sequence[str] | None = None) -> int:
    """Measure, print the table, and tell whether a part failed."""
    parser = options("python -m tests.bench", "Measure the whole table of the package's speed.")
    parser.add_argument("--only", action="append", choices=tuple(PARTS), help="only this part, or these")
    asked = parser.parse_args(words)
    before = surroundings()
    rows, wrong = measured(asked.only or tuple(PARTS), extent_of(asked))
    if asked.json:
        parts = [{"part": name} | row.document() for name, part in rows.items() for row in part]
        sys.stdout.write(json.dumps({"surroundings": before, "rows": parts, "failed": wrong}, indent=2) + "\n")
    else:
        told = "; ".join(f"{name}: {what}" for name, what in before.items())
        failed = "".join(f"\n{name} failed: {what}" for name, what in wrong.items())
        sys.stdout.write(f"{told}\n\n{table(row for part in rows.values() for row in part)}\n{failed}")
    return int(bool(wrong))


if __name__ == "__main__":
    sys.exit(main())

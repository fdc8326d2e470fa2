"""Judge what is told of random bikes: ``python -m tests.referee conflicts --count 1000 --seed 0 --keep FILE``.

``conflicts`` or ``fixes``: so many of the first, or bikes of the second. What is kept in a file is not judged again,
so a run that ended by ``--minutes`` goes on where it was. Ends with 1 where something is refuted.
"""

import sys
from argparse import ArgumentParser, Namespace
from pathlib import Path

from . import conflicts, fixes
from .command import command
from .record import ended, judged_into


def main() -> int:
    """Judge, print the figures, and tell whether something is refuted."""
    asked = _asked()
    with command() as call:
        if asked.what == "conflicts":
            trials = conflicts.trials(call, asked.seed, first=asked.first)
        else:
            trials = fixes.trials(call, asked.seed)
        return ended(judged_into(asked.keep, trials, asked.count, asked.minutes))


def _asked() -> Namespace:
    parser = ArgumentParser(prog="python -m tests.referee", description="Judge what is told of random bikes.")
    parser.add_argument("what", choices=("conflicts", "fixes"))
    parser.add_argument("--count", type=int, default=100, help="conflicts, or bikes for fixes; 100")
    parser.add_argument("--seed", type=int, default=0, help="of the first bike of each family; 0")
    parser.add_argument("--minutes", type=float, default=9, help="begin no bike after these; 9")
    parser.add_argument("--first", action="store_true", help="conflicts: only the one that 'portloom plan' tells")
    parser.add_argument("--keep", type=Path, required=True, help="the file of what was judged, a line a bike")
    return parser.parse_args()


if __name__ == "__main__":
    sys.exit(main())

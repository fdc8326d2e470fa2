"""Judge what is told of random bikes: ``python -m tests.referee conflicts --count 1000 --seed 0 --keep FILE``.

``conflicts``, ``fixes``, ``wishes`` (why not) or ``repairs`` (of posts): so many of what is found, of fixes so many
bikes. What is kept in a file is not judged again, so a run that ended by ``--minutes`` goes on where it was. Ends with
1 where something is refuted.
"""

import sys
from argparse import ArgumentParser, Namespace
from pathlib import Path

from . import conflicts, fixes, repairs, wishes
from .command import command
from .record import ended, judged_into

BY_BIKE = {"fixes": fixes.trials, "wishes": wishes.trials, "repairs": repairs.trials}


def main() -> int:
    """Judge, print the figures, and tell whether something is refuted."""
    asked = _asked()
    with command() as call:
        if asked.what == "conflicts":
            trials = conflicts.trials(call, asked.seed, first=asked.first)
        else:
            trials = BY_BIKE[asked.what](call, asked.seed)
        return ended(judged_into(asked.keep, trials, asked.count, asked.minutes))


def _asked() -> Namespace:
    parser = ArgumentParser(prog="python -m tests.referee", description="Judge what is told of random bikes.")
    parser.add_argument("what", choices=("conflicts", *BY_BIKE))
    parser.add_argument("--count", type=int, default=100, help="of what is found, of fixes bikes; 100")
    parser.add_argument("--seed", type=int, default=0, help="of the first bike of each family; 0")
    parser.add_argument("--minutes", type=float, default=9, help="begin no bike after these; 9")
    parser.add_argument("--first", action="store_true", help="conflicts: only the one that 'portloom plan' tells")
    parser.add_argument("--keep", type=Path, required=True, help="the file of what was judged, a line a bike")
    return parser.parse_args()


if __name__ == "__main__":
    sys.exit(main())

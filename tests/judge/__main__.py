"""Judge every figure of printed plans of random bikes: ``python -m tests.judge --count 1000 --keep FILE``.

What is kept in the file is not judged again, so a run that ended by ``--minutes`` goes on where it was. Ends with 1
where a figure is another one than the sheet works out.
"""

import sys
from argparse import ArgumentParser, Namespace
from itertools import islice
from pathlib import Path

from referee.command import command
from referee.record import ended, judged_into

from .trials import trials


def main() -> int:
    """Judge, print the figures, and tell whether something is refuted."""
    asked = _asked()
    with command() as call:
        bikes = islice(trials(call, asked.seed), asked.count)
        return ended(judged_into(asked.keep, bikes, minutes=asked.minutes))


def _asked() -> Namespace:
    parser = ArgumentParser(prog="python -m tests.judge", description="Judge every figure of plans of random bikes.")
    parser.add_argument("--count", type=int, default=100, help="bikes, of every family in turn; 100")
    parser.add_argument("--seed", type=int, default=0, help="of the first bike of each family; 0")
    parser.add_argument("--minutes", type=float, default=9, help="begin no bike after these; 9")
    parser.add_argument("--keep", type=Path, required=True, help="the file of what was judged, a line a bike")
    return parser.parse_args()


if __name__ == "__main__":
    sys.exit(main())

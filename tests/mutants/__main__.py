"""Change the code in small ways and see whether tests notice: ``python -m tests.mutants --count 30 --keep FILE``.

So many mutants of each room, drawn by a seed; what is kept in the file is not tried again, so that a run that ended by
``--minutes`` goes on where it was. What each file of tests enters is kept beside it. Tests that compare with texts the
program wrote are left out. Ends with 1 where one survives that nobody has looked at (``looked_at.yaml``).
"""

import sys
from argparse import ArgumentParser, Namespace
from collections.abc import Iterable, Iterator
from functools import partial
from itertools import islice, zip_longest
from pathlib import Path
from signal import SIGTERM, signal
from tempfile import TemporaryDirectory
from time import monotonic
from typing import NoReturn

from referee.record import Finding, Judged, commit, kept, line_of

from .copies import OURS, Copy, side_by_side
from .entered import Statements, TestFile, entered
from .figures import looked_at, new_survivors, told
from .rooms import ROOMS, Mutant, drawn
from .trying import SURVIVED, entering, tried


def main() -> int:
    """Try mutants, print the figures, and tell whether one survives that nobody has looked at."""
    asked = _asked()
    signal(SIGTERM, _interrupted)
    every, known = kept(asked.keep), looked_at()
    done = {one.trial: one.findings[0].outcome for one in every}
    of_rooms = [islice(_named(asked.only, drawn(room, asked.seed, OURS.package)), asked.count) for room in asked.rooms]
    wanted = [mutant for of_each in zip_longest(*of_rooms) for mutant in of_each if mutant]
    left = [
        mutant
        for mutant in wanted
        if mutant.name not in done or (asked.again and done[mutant.name] == SURVIVED and mutant.name not in known)
    ]
    with TemporaryDirectory() as scratch, asked.keep.open("a", encoding="utf-8") as file:
        here, end, statements = commit(), monotonic() + 60 * asked.minutes, Statements()
        kept_beside = asked.keep.with_suffix(".entered")
        tests = entered(statements, kept_beside, Path(scratch), asked.processes) if left else ()
        copies = [Copy(Path(scratch) / f"copy-{number}") for number in range(asked.processes if left else 0)]
        try_one = partial(_tried, tests, statements, asked.seconds, end)
        for mutant, finding in side_by_side(copies, try_one, left):
            if finding:
                every.append(Judged(mutant.name, here, (finding,)))
                file.write(line_of(every[-1]))
                file.flush()
    names = {mutant.name for mutant in wanted}
    every = [one for one in every if one.trial in names]
    print("\n".join(told(every, asked.rooms, known)))
    return int(bool(new_survivors(every, known)))


def _interrupted(*_: object) -> NoReturn:
    """End as by Ctrl-C, with all that was begun."""
    raise KeyboardInterrupt


def _named(only: str, mutants: Iterable[Mutant]) -> Iterator[Mutant]:
    return (mutant for mutant in mutants if only in mutant.name)


def _tried(
    tests: tuple[TestFile, ...], statements: Statements, most: float, end: float, copy: Copy, mutant: Mutant
) -> tuple[Mutant, Finding | None]:
    """Try a mutant unless the time is over."""
    if monotonic() > end:
        return mutant, None
    return mutant, tried(copy, mutant, entering(mutant, tests, statements), most)


def _asked() -> Namespace:
    parser = ArgumentParser(prog="python -m tests.mutants", description="Change the code; see whether tests notice.")
    parser.add_argument("rooms", nargs="*", default=list(ROOMS), help=f"of {', '.join(ROOMS)}; all")
    parser.add_argument("--count", type=int, default=30, help="mutants of each room; 30")
    parser.add_argument("--seed", type=int, default=0, help="which are drawn; 0")
    parser.add_argument("--minutes", type=float, default=60, help="begin no mutant after these; 60")
    parser.add_argument("--seconds", type=float, default=150, help="of tests for one mutant, of a core; 150")
    parser.add_argument("--processes", type=int, default=1, help="mutants at a time; 1")
    parser.add_argument("--only", default="", help="those whose name has this in it; all")
    parser.add_argument("--again", action="store_true", help="try once more what survived and was not looked at")
    parser.add_argument("--keep", type=Path, required=True, help="the file of what was tried, a line a mutant")
    return parser.parse_args()


if __name__ == "__main__":
    sys.exit(main())

"""Try cases: ``python -m tests.fuzz --cases 100000 --seed 0 --minutes 60``.

Cases are drawn in rounds, each with a seed of its own, so that a run can be taken up where another ended. What ends
wrongly is made small by hypothesis, printed, and kept in tests/data/fuzz, which the ordinary tests replay. Ends with 1
where anything did.
"""

import gc
import sys
import time
from argparse import ArgumentParser, Namespace
from collections import Counter
from pathlib import Path
from resource import RUSAGE_SELF, getrusage
from tempfile import TemporaryDirectory

from hypothesis import HealthCheck, Phase, given, seed, settings

from .cases import LIMITED, Case, cases
from .corpus import CORPUS, keep
from .tried import faults

ROUND = 500
MOST_MEMORY = 500
"""MB that a case may take, beside what any before it took."""
MEMORY = Path("/dev/shm")  # noqa: S108 - a disk would take longer than the cases


class Fuzzing:
    """Rounds of cases, and what became of them."""

    def __init__(self, folder: Path) -> None:
        """Take a folder for the files of a case."""
        self.tried = Counter[str]()
        self._folder = folder
        self._last: tuple[Case, list[str]] | None = None

    def round(self, number: int, most: int) -> tuple[Case, list[str]] | None:
        """Try so many cases; return the first that ends wrongly, made small, with what is wrong."""
        self._last = None
        trial = settings(
            max_examples=most, database=None, deadline=None, suppress_health_check=list(HealthCheck),
            report_multiple_bugs=False, phases=(Phase.generate, Phase.shrink),
        )(seed(number)(given(cases())(self._try)))  # fmt: skip
        try:
            trial()
        except Exception as error:
            if self._last is None:
                raise RuntimeError("a round ended without a case") from error
        return self._last

    def _try(self, case: Case) -> None:
        self.tried[" ".join(case.call[:2]) if case.call[0] == "<" else "command"] += 1
        before = _peak()
        wrong = faults(case, self._folder, twice=case.call[0] in LIMITED or _is_fourth(case))
        if _peak() - before > MOST_MEMORY:
            wrong = [*wrong, f"takes {_peak()} MB of memory, all before it {before}"]
        if wrong:
            self._last = case, wrong
            raise WrongEndError(wrong[0][:60])


def _is_fourth(case: Case) -> bool:
    """Tell whether a case is of the quarter that is tried twice: as good as thrown, and the same for the same case."""
    return sum(map(len, (*case.call, *(content for _, content in case.files)))) % 4 == 0


def _peak() -> int:
    """Return the most memory that this process ever had, in MB."""
    return getrusage(RUSAGE_SELF).ru_maxrss // 1024


class WrongEndError(AssertionError):
    """A case ended wrongly."""


def main() -> int:
    """Try cases round by round, and tell what was wrong."""
    asked = _asked()
    begun, wrong, number = time.monotonic(), 0, asked.seed
    with TemporaryDirectory(dir=MEMORY if MEMORY.is_dir() else None) as folder:
        fuzzing = Fuzzing(Path(folder) / "case")
        while fuzzing.tried.total() < asked.cases and time.monotonic() - begun < 60 * asked.minutes:
            found = fuzzing.round(number, min(ROUND, asked.cases - fuzzing.tried.total()))
            number += 1
            gc.collect()  # what the command froze at its ends is old, and seldom looked at by itself
            if found is not None:
                wrong += 1
                print(f"seed {number - 1}, kept as {keep(found[0], asked.keep)}:", *found[1], sep="\n", flush=True)
    seconds = time.monotonic() - begun
    tried, seeds = fuzzing.tried.total(), f"seeds {asked.seed} to {number - 1}"
    print(f"{tried} cases in {seconds:.0f} s, {seeds}: {wrong} wrong, {_peak()} MB")
    print(", ".join(f"{count} {kind}" for kind, count in fuzzing.tried.most_common()))
    return int(wrong > 0)


def _asked() -> Namespace:
    parser = ArgumentParser(prog="python -m tests.fuzz", description="Try files and calls that nobody would write.")
    parser.add_argument("--cases", type=int, default=1000, help="how many; 1000")
    parser.add_argument("--seed", type=int, default=0, help="of the first round; 0")
    parser.add_argument("--minutes", type=float, default=60, help="begin no round after these; 60")
    parser.add_argument("--keep", type=Path, default=CORPUS, help="the folder for what ends wrongly; tests/data/fuzz")
    return parser.parse_args()


if __name__ == "__main__":
    sys.exit(main())

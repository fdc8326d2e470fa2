"""What was judged of which bike, kept in a file of a line each, so that a long run may stop and go on."""

import json
import subprocess
from argparse import ArgumentParser
from collections import Counter
from collections.abc import Callable, Iterable, Iterator, Sequence
from dataclasses import asdict, dataclass
from itertools import islice
from math import inf
from pathlib import Path
from time import monotonic

HELD, IN_PART, REFUTED = "held", "held in part", "refuted"


@dataclass(frozen=True)
class Finding:
    """What was found of one thing that is told of a bike; ``said`` is what does not hold, or could not be judged."""

    outcome: str
    said: tuple[str, ...] = ()
    note: str = ""
    """What else is counted of it."""


@dataclass(frozen=True)
class Trial:
    """One bike: how it is thrown again, and what judges what is told of it."""

    name: str
    judge: Callable[[], Iterable[Finding]]


@dataclass(frozen=True)
class Judged:
    """A trial's findings, and the commit of the program that they are of."""

    trial: str
    commit: str
    findings: tuple[Finding, ...]


def commit() -> str:
    """Return the commit that is checked out, with '+' where files were changed after it."""
    said = subprocess.run(
        ["git", "describe", "--always", "--dirty=+", "--exclude", "*"], capture_output=True, check=False
    )
    return said.stdout.decode().strip() or "unknown"


def kept(file: Path) -> list[Judged]:
    """Return what a file has of earlier runs."""
    if not file.exists():
        return []
    lines = [json.loads(line) for line in file.read_text("utf-8").splitlines()]
    return [Judged(one["trial"], one["commit"], tuple(_finding(found) for found in one["findings"])) for one in lines]


def _finding(found: dict[str, str | list[str]]) -> Finding:
    return Finding(str(found["outcome"]), tuple(found["said"]), str(found["note"]))


def judged(trials: Iterable[Trial], before: Iterable[Judged], count: float, minutes: float) -> Iterator[Judged]:
    """Judge trials that were not judged before, until so many findings are there or so much time is over."""
    done = {one.trial: len(one.findings) for one in before}
    end, here, found = monotonic() + 60 * minutes, commit(), 0
    for trial in trials:
        if found >= count or monotonic() > end:
            return
        if trial.name not in done:
            one = Judged(trial.name, here, tuple(trial.judge()))
            done[trial.name] = len(one.findings)
            yield one
        found += done[trial.name]


def judged_into(file: Path, trials: Iterable[Trial], count: float = inf, minutes: float = inf) -> Sequence[Judged]:
    """Judge trials as judged does, each written to a file at once; return what the file has then."""
    every = kept(file)
    with file.open("a", encoding="utf-8") as written:
        for one in judged(trials, every, count, minutes):
            every.append(one)
            written.write(line_of(one))
            written.flush()
    return every


def ended(every: Iterable[Judged]) -> int:
    """Print the figures of all that was judged; return an exit code, 1 where something is refuted."""
    every = list(every)
    print("\n".join(summed(every)))
    return int(any(finding.outcome == REFUTED for one in every for finding in one.findings))


def judge_bikes(about: str, prog: str, trials: Callable[[int], Iterator[Trial]]) -> int:
    """Judge as many bikes as the command line asks for, from a seed on; print the figures and return an exit code."""
    parser = ArgumentParser(prog=f"python -m tests.{prog}", description=about)
    parser.add_argument("--count", type=int, default=100, help="bikes, of every family in turn; 100")
    parser.add_argument("--seed", type=int, default=0, help="of the first bike of each family; 0")
    parser.add_argument("--minutes", type=float, default=9, help="begin no bike after these; 9")
    parser.add_argument("--keep", type=Path, required=True, help="the file of what was judged, a line a bike")
    asked = parser.parse_args()
    return ended(judged_into(asked.keep, islice(trials(asked.seed), asked.count), minutes=asked.minutes))


def line_of(one: Judged) -> str:
    """Return a line of the file."""
    return json.dumps(asdict(one)) + "\n"


def summed(every: Iterable[Judged]) -> list[str]:
    """Return the figures of all that was judged, a line each, what was refuted last."""
    every = list(every)
    findings = [finding for one in every for finding in one.findings]
    commits = Counter(one.commit for one in every)
    lines = [f"{len(every)} bikes, {len(findings)} findings"]
    for counts in (Counter(f.outcome for f in findings), Counter(f.note for f in findings if f.note)):
        lines += [f"  {number:5} {name}" for name, number in sorted(counts.items())]
    lines += [f"of commit {name}: {number} bikes" for name, number in commits.items()]
    wrong = [(one.trial, said) for one in every for f in one.findings if f.outcome == REFUTED for said in f.said]
    return lines + [f"REFUTED {trial}: {said}" for trial, said in wrong]

"""Whether the facts of a conflict alone have no plan, and have one without any one of them: by their files."""

from collections.abc import Callable, Iterator, Mapping
from dataclasses import dataclass
from typing import Any

from conflict_drafts import EASIER, HARDER
from conflict_facts import Case, keys_of
from conflict_files import Said, said
from oracle.facts import Key
from outcomes import fits
from portloom.inputs.problems import BadFile

Planner = Callable[[str, str], bool]
"""Tells whether a bike's text fits a unit's; raises BadFile."""


@dataclass(frozen=True)
class Verdict:
    """What the files say of one claim: so, not so, or not to be said by files, and why not."""

    claim: str
    holds: bool | None
    why: str = ""


@dataclass(frozen=True)
class Judged:
    """All that is claimed of a conflict: that its facts have no plan, then one claim for each fact."""

    verdicts: tuple[Verdict, ...]

    @property
    def whole(self) -> bool:
        """Whether every claim could be judged."""
        return all(verdict.holds is not None for verdict in self.verdicts)

    @property
    def wrong(self) -> tuple[Verdict, ...]:
        return tuple(verdict for verdict in self.verdicts if verdict.holds is False)

    @property
    def open(self) -> tuple[Verdict, ...]:
        """What no edit of the files can say."""
        return tuple(verdict for verdict in self.verdicts if verdict.holds is None)


def judged(case: Case, conflict: Mapping[str, Any], planner: Planner = fits) -> Judged:
    """Judge a conflict as ``portloom why --json --proof`` tells it, on its own and without each of its facts."""
    return Judged(tuple(_verdicts(case, keys_of(case, conflict), planner)))


def _verdicts(case: Case, keys: tuple[Key, ...], planner: Planner) -> Iterator[Verdict]:
    yield judged_files("these facts alone have no plan", said(case, keys, rather=EASIER), planner, planned=False)
    for key in keys:
        files = said(case, [other for other in keys if other != key], rather=HARDER)
        yield judged_files(f"without {' '.join(key)} there is a plan", files, planner, planned=True)


def judged_files(claim: str, files: Said, planner: Planner, *, planned: bool) -> Verdict:
    """A file that was made harder may lack a plan, one that was made easier may have one: these say nothing."""
    try:
        found = any(planner(bike, unit) for bike, unit in files.files)
    except BadFile as refused:
        return Verdict(claim, None, f"refused: {str(refused).splitlines()[0]}")
    if files.is_never(EASIER if found else HARDER):
        return Verdict(claim, found is planned)
    return Verdict(claim, None, ", ".join(sorted({what for _, what in files.doubts})))

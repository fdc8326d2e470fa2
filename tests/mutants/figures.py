"""What became of the mutants, room by room, and which survivors nobody has looked at yet."""

from collections import Counter
from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass
from pathlib import Path

import yaml

from referee.record import Judged

from .trying import ENDLESS, KILLED, SURVIVED

LOOKED_AT = Path(__file__).with_name("looked_at.yaml")


@dataclass(frozen=True)
class LookedAt:
    """A survivor that a person has looked at: whether it does all that the program does, and the reason."""

    equivalent: bool
    reason: str


def looked_at(file: Path = LOOKED_AT) -> dict[str, LookedAt]:
    """Return the survivors that were looked at, by the names of the mutants."""
    entries = yaml.safe_load(file.read_text("utf-8"))
    return {f"{one['in']} {one['change']}": LookedAt(one["equivalent"], one["reason"]) for one in entries}


@dataclass(frozen=True)
class Figures:
    """How many mutants of a room there are of each fate."""

    room: str
    killed: int
    endless: int
    equivalent: int
    known: int
    new: int

    @property
    def share(self) -> float:
        """The per cent that were killed of those that are not equivalent."""
        killed = self.killed + self.endless
        return 100 * killed / max(1, killed + self.known + self.new)


def figures(room: str, every: Iterable[Judged], known: Mapping[str, LookedAt]) -> Figures:
    """Count the mutants of a room; '' counts all."""
    last = {one.trial: one.findings[0].outcome for one in every if one.trial.startswith(f"{room}:" if room else "")}
    lived = [name for name, outcome in last.items() if outcome == SURVIVED]
    seen = [known[name].equivalent for name in lived if name in known]
    fates = Counter(last.values())
    return Figures(
        room=room or "all", killed=fates[KILLED], endless=fates[ENDLESS],
        equivalent=sum(seen), known=len(seen) - sum(seen), new=len(lived) - len(seen),
    )  # fmt: skip


def new_survivors(every: Iterable[Judged], known: Mapping[str, LookedAt]) -> list[str]:
    """Return the survivors that nobody has looked at, as they were tried last."""
    last = {one.trial: one.findings[0] for one in every}
    return [
        f"{name}, after {found.said[0]}"
        for name, found in last.items()
        if found.outcome == SURVIVED and name not in known
    ]


def told(every: Iterable[Judged], rooms: Iterable[str], known: Mapping[str, LookedAt]) -> Iterator[str]:
    """Return the figures as a table, and each survivor that nobody has looked at."""
    every = list(every)
    yield "| room | killed | by never ending | equivalent | survived, with a reason | not looked at | killed |"
    yield "| --- | --- | --- | --- | --- | --- | --- |"
    for room in (*rooms, ""):
        one = figures(room, every, known)
        counts = (one.killed, one.endless, one.equivalent, one.known, one.new)
        yield f"| {one.room} | {' | '.join(map(str, counts))} | {one.share:.1f} % |"
    yield from (f"SURVIVED {name}" for name in new_survivors(every, known))

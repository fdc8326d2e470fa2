"""Ports by groups, as a data sheet has them: 'out 1 to out 4: 15 A; out 5: 8 A'."""

import re
from collections.abc import Callable, Iterator, Mapping, Sequence
from itertools import groupby

from portloom.base.letters import first_hidden, quoted
from portloom.base.nearest import nearest
from portloom.base.values import dataclass
from portloom.inputs.starting.answers import NONE, as_table, tabled
from portloom.inputs.starting.kinds import Cell, NotRight

RANGE = re.compile(
    r"(?P<stem>.*?)\s*(?P<first>\d{1,3})\s*(?:to|-|\.\.)\s*(?P<again>.*?)\s*(?P<last>\d{1,3})", re.IGNORECASE
)
PARTED = re.compile(r",|\band\b|\+")
ALL = "all"
MOST = 64
"""Ports that a unit has at most; more is a slip of the pen."""


@dataclass(frozen=True)
class Groups:
    """What is said of ports, several at once."""

    cell: Cell
    """How what is said of a group is read; its usual is '' where none is."""
    example: str
    ports: tuple[str, ...] = ()
    """The ports that are known."""
    wrong: Callable[[Mapping[str, str]], str] = lambda _: ""
    """Returns what is wrong with what is said of each port, and what would be right; '' where nothing is."""
    defines: bool = False
    """Whether the answer names the ports."""

    def read(self, said: str, before: str) -> str:
        """Return what is said of each port, with what was said before; 'none' takes all of it away."""
        each = {} if said.strip().casefold() == NONE else dict(of_each(before))
        for part in said.split(";") if said.strip().casefold() != NONE else ():
            if part.strip():
                each = self._with(each, part)
        if wrong := self.wrong(each):
            raise NotRight(wrong)
        return grouped({port: each[port] for port in (each if self.defines else self.ports) if port in each})

    def still(self, kept: str) -> str | None:
        """Return what is said of the ports that are still there, where it is still right."""
        left = {port: said for port, said in of_each(kept).items() if port in self.ports or self.defines}
        try:
            return self.read(grouped(left), "") if left else ""
        except NotRight:
            return ""

    def lacking(self, kept: str) -> str:
        """Say of which ports nothing is said that must be; '' where that is all."""
        each = of_each(kept)
        if self.defines and not each:
            return f"nothing is said yet; write it such as '{self.example}'"
        left = [port for port in self.ports if port not in each]
        if not left or self.cell.usual:
            return ""
        return f"nothing is said of {span(left)} yet; write such as '{self.example}'"

    def rows(self, kept: str) -> dict[str, str]:
        """Return what is said of the ports, and what is usual of the others."""
        left = [port for port in self.ports if port not in of_each(kept)]
        return tabled(kept) | ({span(left): self.cell.usual or "?"} if left else {})

    def _with(self, each: Mapping[str, str], part: str) -> dict[str, str]:
        name, colon, said = part.partition(":")
        if not colon or not said.strip():
            what = f"'{quoted(part.strip())}' does not say of which, and what"
            raise NotRight(f"{what}; write it such as '{self.example}'")
        ports = [*self._named(name)]
        if said.strip().casefold() == NONE and self.defines:
            return {port: kept for port, kept in each.items() if port not in ports}
        return {**each, **dict.fromkeys(ports, self.cell.read(said.strip()))}

    def _named(self, name: str) -> Iterator[str]:
        if not self.defines and name.strip().casefold() == ALL:
            yield from self.ports
            return
        for port in expanded(name):
            known = next((known for known in self.ports if known.casefold() == port.casefold()), None)
            if not self.defines and known is None:
                near = nearest(port, self.ports)
                right = f"'{near}'" if near else f"one of {span(self.ports)}"
                raise NotRight(f"there is no '{quoted(port)}'; write {right}")
            yield known or port


def value_at(kept: str, port: str, usual: str) -> str:
    """Return what is said of one port, or is usual."""
    return of_each(kept).get(port, usual)


def of_each(kept: str) -> dict[str, str]:
    """Return what is said of each port, in the order in which they are named."""
    return {port: said for name, said in tabled(kept).items() for port in expanded(name)}


def expanded(name: str) -> list[str]:
    """Return the ports of 'out 1 to out 4', 'out 1-4' or 'out 1, out 3'; raise NotRight where it is none."""
    found: list[str] = []
    for piece in (piece.strip() for piece in PARTED.split(name)):
        if not piece or first_hidden(piece) is not None:
            raise NotRight("the name of an output or an input is missing; write it such as 'out 1 to out 4'")
        found += _range(piece) or [" ".join(piece.split())]
    if len(found) > MOST:
        raise NotRight(f"'{quoted(name.strip())}' are {len(found)} of them; a unit has {MOST} at most")
    return list(dict.fromkeys(found))


def _range(piece: str) -> list[str]:
    found = RANGE.fullmatch(piece)
    if found is None or found["again"].casefold() not in ("", found["stem"].casefold()):
        return []
    first, last = int(found["first"]), int(found["last"])
    if not first <= last < first + MOST:
        raise NotRight(f"'{quoted(piece)}' does not count up; write the lower number first")
    return [f"{found['stem']} {number}".strip() for number in range(first, last + 1)]


def grouped(each: Mapping[str, str]) -> str:
    """Return what is said of each port, those in a row together of which the same is said."""
    return as_table({span(list(run)): said for said, run in groupby(each, key=lambda port: each[port])})


def span(ports: Sequence[str]) -> str:
    """Return ports in a row as 'out 1 to out 4', others with commas."""
    runs: list[list[str]] = []
    for port in ports:
        if runs and expanded_ends(runs[-1][0], port) == [*runs[-1], port]:
            runs[-1].append(port)
        else:
            runs.append([port])
    return ", ".join(f"{run[0]} to {run[-1]}" if len(run) > 2 else ", ".join(run) for run in runs)


def expanded_ends(first: str, last: str) -> list[str]:
    """Return the ports from one to another; none where they are not counted up."""
    try:
        return _range(f"{first} to {last}")
    except NotRight:
        return []

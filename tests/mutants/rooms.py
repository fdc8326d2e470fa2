"""Which files of the package mutants are made of, and which of them are drawn."""

from collections.abc import Iterator
from dataclasses import dataclass
from hashlib import sha256
from pathlib import Path

from .changes import Change, changes

FORMULAS = ("ampacity", "copper", "current", "drop", "fuse_steps", "fuses", "lamps", "leads", "margin", "quantities")
ROOMS: dict[str, tuple[str, ...]] = {
    "rules": ("rules/*.py",),
    "electrics": tuple(f"base/{name}.py" for name in (*FORMULAS, "short_circuit", "sizes")),
    "job": ("job/*.py",),
    "verify": ("verify/*.py",),
    "search": ("search/*.py", "search/pairs/*.py"),
}
"""The files of each room, as they lie in the package."""


@dataclass(frozen=True)
class Mutant:
    """One change of one file of the package."""

    room: str
    file: str
    change: Change

    @property
    def name(self) -> str:
        """The room, the file and the change, which no other mutant has."""
        return f"{self.room}: {self.file} {self.change.name}"


def drawn(room: str, seed: int, package: Path) -> Iterator[Mutant]:
    """Return every mutant of a room in an order that a seed and the names alone decide.

    A change of the code changes nothing of the order of those that are still there.
    """
    files = sorted({path for pattern in ROOMS[room] for path in package.glob(pattern)})
    every = [
        Mutant(room, path.relative_to(package).as_posix(), change)
        for path in files
        for change in changes(path.read_text("utf-8"))
    ]
    yield from sorted(every, key=lambda mutant: sha256(f"{seed} {mutant.name}".encode()).digest())

"""A post: what it says is on which port, before anybody knows what the names mean."""

from dataclasses import dataclass

from solver.posts.cells import Cell
from solver.reading.problems import Flaw


@dataclass(frozen=True)
class Said:
    """A port, and what is said to be on it."""

    port: Cell
    things: tuple[Cell, ...]
    trip: Cell | None = None
    """What its electronic fuse is said to be set to, where that stands by itself."""
    size: Cell | None = None
    """What wire is said to be on it, where that stands by itself."""
    figures: tuple[Cell, ...] = ()
    """What stands beside it of what its one thing draws: a current, a power, a lamp."""


@dataclass(frozen=True)
class Post:
    """All that was read; ``flaws`` are the lines that could not be."""

    said: tuple[Said, ...]
    place: Cell | None = None
    turned: Cell | None = None
    main_fuse: Cell | None = None
    flaws: tuple[Flaw, ...] = ()
    stands: tuple[tuple[Cell, Cell], ...] = ()
    """Multiplexers, and the frame points where they stand."""

"""The alternator and its regulator in the circuit diagram: their lead joins the battery through its own fuse."""

from collections.abc import Iterator
from dataclasses import dataclass

from solver.job.job import Job
from solver.pictures.circuit_columns import EDGE, SIGN, SOURCE, THROUGH, WORDS
from solver.pictures.circuit_rows import ABOVE, BELOW
from solver.pictures.lettering import HEAD, folded, line, pitch, whole
from solver.pictures.marks import stroke
from solver.pictures.svg import Element
from solver.pictures.symbols import HALF, sign
from solver.plans.energy import watts
from solver.plans.parts import regulator_fuse
from solver.words.figures import amperes


@dataclass(frozen=True)
class Charging:
    """What charges the battery: what its lead joins, its fuse, and what it gives."""

    joins: str
    fuse: str
    words: tuple[str, ...]

    @property
    def high(self) -> float:
        """Its height."""
        return ABOVE + len(self.words) * pitch() + BELOW

    def drawn(self, top: float) -> Iterator[Element]:
        """Draw it."""
        y = top + ABOVE + len(self.words) * pitch() - 4
        yield line(24, y + 5, self.joins, HEAD)
        yield stroke(f"M{SOURCE:g} {y:.2f}H{SIGN - HALF:g}")
        if self.fuse:
            yield sign("fuse", SOURCE + THROUGH + HALF, y)
            yield line(SOURCE + THROUGH + HALF, y + 22, self.fuse, anchor="middle")
        yield sign("regulator", SIGN, y)
        for number, text in enumerate(reversed(self.words)):
            yield line(WORDS, y - ABOVE + 4 - number * pitch(), text)


def charging(job: Job) -> tuple[Charging, ...]:
    """Return the bike's charging; nothing where its file says nothing of it."""
    given = job.bike.supply.charging
    if given is None:
        return ()
    powers = ((given.idle, "at idle"), (given.cruise, "cruising"))
    told = [f"{whole(watts(power))} {when}" for power, when in powers if power is not None]
    words = folded(", ".join(["alternator and regulator", *told]), EDGE - WORDS)
    fuse = regulator_fuse(job)
    return (Charging(given.joins, "" if fuse is None else whole(f"fuse {amperes(fuse)}"), words),)

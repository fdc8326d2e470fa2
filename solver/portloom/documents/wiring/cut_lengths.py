"""What each wire that a plan tells is cut from, all its pieces together; of a loom that is built, what lies there."""

from collections.abc import Iterable

from portloom.base.quantities import Micrometres
from portloom.documents.wiring.cut_pieces import cut_of, cut_of_lines
from portloom.documents.wiring.lines import Line
from portloom.documents.wiring.returned import EarthPiece
from portloom.documents.wiring.wire import Wiring
from portloom.job.job import Job


class CutLengths:
    """The lengths of a plan's wires as they are cut."""

    def __init__(self, job: Job, wiring: Wiring) -> None:
        """Take a plan's wires; two units may have circuits of one name, a built loom is of one unit."""
        self._job = job
        self._lying: dict[tuple[str, str], int] | None = None
        if job.built is not None:
            self._lying = {}
            for wire in wiring.ours:
                key = (wire.circuit, wire.kind)
                self._lying[key] = self._lying.get(key, 0) + wire.cut

    def of(self, lines: Iterable[Line], earthed: Iterable[EarthPiece] = ()) -> Micrometres:
        """Return what comes off the reels for some lines and for what leads to earth, together."""
        lines, earthed = tuple(lines), tuple(earthed)
        if self._lying is not None:
            keys = {(line.circuit, line.kind) for line in lines} | {(back.circuit, back.kind) for back in earthed}
            return Micrometres(sum(self._lying.get(key, 0) for key in keys))
        return Micrometres(cut_of_lines(self._job, lines) + cut_of(self._job, (back.piece for back in earthed)))

"""What each wire that a plan tells is cut from, all its pieces together; of a loom that is built, what lies there."""

from collections import Counter
from collections.abc import Iterable

from portloom.base.quantities import Micrometres
from portloom.documents.wiring.cut_pieces import cut_of, cut_of_lines
from portloom.documents.wiring.lines import Line
from portloom.documents.wiring.returned import EarthPiece
from portloom.documents.wiring.wire import Wiring
from portloom.job.laid import Laid


class CutLengths:
    """The lengths of a plan's wires as they are cut."""

    def __init__(self, laid: Laid, wiring: Wiring) -> None:
        """Take a plan and its wires."""
        self._job = laid.site.job
        self._several = len(laid.site.units) > 1
        """Two units may have circuits of one name: each line of theirs is cut once more."""
        self._cut: Counter[tuple[str, str]] = Counter()
        for wire in wiring.ours:
            self._cut[wire.circuit, wire.kind] += wire.cut

    def of(self, lines: Iterable[Line], earthed: Iterable[EarthPiece] = ()) -> Micrometres:
        """Return what comes off the reels for some lines and for what leads to earth, together."""
        if self._several:
            lengths = cut_of_lines(self._job, lines) + cut_of(self._job, (back.piece for back in earthed))
            return Micrometres(lengths)
        keys = {(line.circuit, line.kind) for line in lines} | {(back.circuit, back.kind) for back in earthed}
        return Micrometres(sum(self._cut[key] for key in keys))

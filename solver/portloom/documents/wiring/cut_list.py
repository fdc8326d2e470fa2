"""What is cut from each reel, longest first: what is cut wrong still serves for something shorter."""

from decimal import Decimal

from portloom.base.bike import Colour
from portloom.base.copper import copper_mass
from portloom.base.quantities import Micrometres
from portloom.base.sizes import WireSize
from portloom.base.values import dataclass
from portloom.documents.wiring.wire import CutPiece, Wire, Wiring


@dataclass(frozen=True)
class ReelCuts:
    """All that is cut from the reel of one size and colour."""

    size: WireSize
    colour: Colour | None
    wires: tuple[Wire, ...]
    """In the order of the list."""

    @property
    def pieces(self) -> tuple[CutPiece, ...]:
        """What is cut, longest first."""
        pieces = (piece for wire in self.wires for piece in wire.cut_pieces)
        return tuple(sorted(pieces, key=lambda piece: (-piece.cut, piece.wire.number)))

    @property
    def run(self) -> Micrometres:
        """What of it lies between its ends, without margin."""
        return Micrometres(sum(wire.run for wire in self.wires))

    @property
    def cut(self) -> Micrometres:
        """What comes off the reel."""
        return Micrometres(sum(wire.cut for wire in self.wires))

    @property
    def waste(self) -> Micrometres:
        """What is cut beyond the runs: share of margin, ends, slack of legs that move, short pieces made longer."""
        return Micrometres(self.cut - self.run)

    @property
    def copper(self) -> Decimal:
        """The copper in what is cut, in grams; density as in copper_mass."""
        return copper_mass(self.size, self.cut)


def cut_list(wiring: Wiring) -> tuple[ReelCuts, ...]:
    """Return what is cut for a plan, thin reels first, those of one size by the letters of their colours.

    What is built is not cut again.
    """
    found: dict[tuple[WireSize, str, str], list[Wire]] = {}
    for wire in wiring.ours:
        if wire.size is not None and not wire.built:
            found.setdefault((wire.size, *letters(wire.colour)), []).append(wire)
    return tuple(ReelCuts(key[0], wires[0].colour, tuple(wires)) for key, wires in sorted(found.items()))


def letters(colour: Colour | None) -> tuple[str, str]:
    """Return a colour's letters, base and stripe; empty where there is none."""
    return ("", "") if colour is None else (colour.base, colour.stripe or "")

"""Colours of wires: what is asked, and how good an answer is.

An answer is measured by eight counts, the first of which matters most; a later one only settles what the earlier
ones leave open. No count is weighed against another. Two earth wires that look alike are meant to, and never count.

1. Earth wires that do not have the one colour of the earth wires.
2. Other wires that look like an earth wire beside them, in a leg or a connector: taken for earth, they short.
3. Pairs of other wires that look alike in one connector of the loom or plug of a multiplexer, where they can be put on
   each other's pins.
4. Pairs of other wires that look alike in one leg: once for each leg, so that what repeats is not long together.
   In both, a pair of one size counts twice: wires of different sizes can still be told apart.
5. Other wires that look like an earth wire anywhere on the bike.
6. Earth wires that are not black, feeds that are not red.
7. Wires with a stripe: each asks for one more reel.
8. Pairs of other wires of the very same look anywhere on the bike.

Where the shop's reels have their colours, wires come in these: a shop can only use what it has, and such a reel has no
stripe. Else they come in what is sold anywhere, solid, or with a stripe where solid colours do not tell them apart. Any
other colour comes of one that the user has fixed. Green-and-yellow is never proposed.
"""

from collections.abc import Iterator
from dataclasses import astuple
from functools import cached_property
from itertools import combinations
from typing import Literal, get_args

from portloom.base.bike import Colour, Reel
from portloom.base.sizes import WireSize
from portloom.base.values import dataclass
from portloom.base.wire_colours import PROTECTIVE, SOLD, STRIPED, USUAL_EARTH, USUAL_FEED

WireRole = Literal["earth", "feed", "other"]
USUAL: dict[WireRole, Colour] = {"earth": Colour(base=USUAL_EARTH), "feed": Colour(base=USUAL_FEED)}
CountName = Literal[
    "stray_earths", "beside_earths", "in_connectors", "in_legs", "like_earths", "unusual", "striped", "repeated"
]  # fmt: skip
COUNTS: tuple[CountName, ...] = get_args(CountName)
"""The counts of the measure, the most important first."""
BEFORE_STRIPES = COUNTS[: COUNTS.index("striped")]
"""Those that matter more than having no stripes."""


class NoColour(ValueError):
    """A wire for which the reels have no colour."""


@dataclass(frozen=True)
class ColouredWire:
    """A wire that is to have a colour; one that is spliced is one wire."""

    key: str
    size: WireSize
    legs: tuple[int, ...]
    connectors: tuple[str, ...]
    kind: WireRole = "other"
    """'earth' for returns and the unit's earth, 'feed' for the wire from the battery to the unit."""
    fixed: Colour | None = None
    """The colour that the user has settled; it need not be on the reels."""


@dataclass(frozen=True)
class WireGroup:
    """Wires that lie together in one leg or connector, or at least two of them that look alike there."""

    kind: Literal["connector", "leg"]
    place: str | int
    """What a connector is called: 'the connector at headstock'; or the leg's number."""
    wires: tuple[ColouredWire, ...]

    @cached_property
    def penalties(self) -> tuple[tuple[str, str, int], ...]:
        """Each pair of its wires of which neither is earth, by their keys, and how often it counts if alike."""
        others = [wire for wire in self.wires if wire.kind != "earth"]
        return tuple((one.key, other.key, penalty(one, other)) for one, other in combinations(others, 2))


@dataclass(frozen=True)
class Question:
    """Which colour has each wire: the wires and the shop's reels, both in the order of the file."""

    wires: tuple[ColouredWire, ...]
    reels: tuple[Reel, ...] | None = None
    """None where the shop is taken to have every size in every colour that is sold anywhere."""

    def choices(self, wire: ColouredWire) -> tuple[Colour, ...]:
        """Return the colours that a wire may have, in the order of its reel; raise NoColour where there is none."""
        if wire.fixed is not None:
            return (wire.fixed,)
        if not self._on_reels[wire.size]:
            raise NoColour(f"no reel has a colour for '{wire.key}', {wire.size.label}")
        return self._on_reels[wire.size]

    @cached_property
    def _on_reels(self) -> dict[WireSize, tuple[Colour, ...]]:
        """The colours in which there is wire of each size that is asked for."""
        return {size: tuple(self._colours(size)) for size in dict.fromkeys(wire.size for wire in self.wires)}

    def may_have(self, wire: ColouredWire, colour: Colour | None) -> bool:
        """Tell whether a colour is among a wire's choices; raise NoColour where it has none."""
        return colour == wire.fixed if wire.fixed is not None else colour in self._offered[wire.size]

    @cached_property
    def _offered(self) -> dict[WireSize, frozenset[Colour]]:
        free = {wire.size: wire for wire in self.wires if wire.fixed is None}
        return {size: frozenset(self.choices(wire)) for size, wire in free.items()}

    def _colours(self, size: WireSize) -> Iterator[Colour]:
        of_size = () if self.reels is None else tuple(reel for reel in self.reels if reel.size == size)
        anything = self.reels is None or not all(reel.colours for reel in of_size)
        codes = dict.fromkeys(code for reel in of_size for code in reel.colours)
        solid = {**codes, **dict.fromkeys(SOLD)} if anything else codes
        yield from (Colour(base=code) for code in solid if code != PROTECTIVE)
        yield from STRIPED if anything else ()

    @property
    def in_solid_colours(self) -> "Question":
        """The same wires without what has a stripe, where none was fixed."""
        solid = {
            size: [colour.base for colour in colours if colour.stripe is None]
            for size, colours in self._on_reels.items()
        }
        reels = tuple(
            Reel.model_validate({"size": size.label, "colours": codes}) for size, codes in solid.items() if codes
        )
        return Question(self.wires, reels)

    @cached_property
    def earths_beside(self) -> dict[str, tuple[ColouredWire, ...]]:
        """For each other wire, by its key, the earth wires that lie together with it."""
        earths = [wire for wire in self.wires if wire.kind == "earth"]
        others = [wire for wire in self.wires if wire.kind != "earth"]
        return {wire.key: tuple(earth for earth in earths if together(wire, earth)) for wire in others}

    @cached_property
    def groups(self) -> tuple[WireGroup, ...]:
        """The connectors, then the legs, as they first come up, each with the wires in it."""
        return tuple(self._groups())

    def _groups(self) -> Iterator[WireGroup]:
        connectors = dict.fromkeys(name for wire in self.wires for name in wire.connectors)
        for name in connectors:
            yield WireGroup("connector", name, tuple(wire for wire in self.wires if name in wire.connectors))
        legs = dict.fromkeys(leg for wire in self.wires for leg in wire.legs)
        for leg in legs:
            yield WireGroup("leg", leg, tuple(wire for wire in self.wires if leg in wire.legs))


@dataclass(frozen=True, order=True)
class ColourMeasure:
    """How good an answer is: the less the better, the first count first. What each counts stands above."""

    stray_earths: int
    beside_earths: int
    in_connectors: int
    in_legs: int
    like_earths: int
    unusual: int
    striped: int
    repeated: int

    @property
    def counts(self) -> tuple[int, ...]:
        """The eight counts, the most important first."""
        return astuple(self)


@dataclass(frozen=True)
class Colouring:
    """An answer: each wire's key and colour, how good that is, and the bound that nothing is better than."""

    colours: tuple[tuple[str, Colour], ...]
    measure: ColourMeasure
    bound: ColourMeasure
    once: bool = False
    """Not proven: the search says that it is the best, but the limit came before that was proved again."""

    @property
    def proven(self) -> bool:
        """Tell whether no answer is better."""
        return self.measure == self.bound


def penalty(one: ColouredWire, other: ColouredWire) -> int:
    """Return how often a pair that looks alike counts: once, and once more where both have one size."""
    return 2 if one.size == other.size else 1


def together(one: ColouredWire, other: ColouredWire) -> bool:
    """Tell whether two wires lie together in a leg or a connector."""
    return bool(set(one.legs) & set(other.legs) or set(one.connectors) & set(other.connectors))

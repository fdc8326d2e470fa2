"""Frame points: legs that join two, one frame in one piece, and no point named that no leg has."""

from collections.abc import Iterator, Sequence

from solver.reading.problems import Flaw
from solver.reading.tree import Keyed, Word, entries, keyed, words
from solver.words.nearest import nearest, suggest

NAMED_IN = (
    ("places", ("front", "rear")),
    ("loads", ("at",)),
    ("later", ("at",)),
    ("inputs", ("at",)),
    ("alongside", ("from", "to")),
    ("multiplexers", ("at",)),
)
"""Each list of a bike, and the keys of its entries that name frame points."""
Ends = tuple[Word, Word]


def legs(bike: Keyed) -> list[Keyed]:
    """Return the legs of the frame."""
    return entries(keyed(bike, "frame"), "legs")


def ends(leg: Keyed) -> Ends | None:
    """Return the two points of ``leg``, or None if it does not name two."""
    found = words(leg, "between")
    return (found[0], found[1]) if len(found) == 2 else None


def all_ends(bike: Keyed) -> list[Ends] | None:
    """Return the ends of every leg, or None if any can't be read: then nothing can be said of the frame."""
    found = [ends(leg) for leg in legs(bike)]
    known = [pair for pair in found if pair is not None]
    return known if known and len(known) == len(found) else None


def pieces(joined: Sequence[tuple[str, str]]) -> list[list[str]]:
    """Return the points of each piece that ``joined`` pairs make, in the order in which they are named."""
    piece_of: dict[str, list[str]] = {}
    for pair in joined:
        one, other = (piece_of.setdefault(point, [point]) for point in pair)
        if one is not other:
            one += other
            piece_of.update(dict.fromkeys(other, one))
    return list({id(piece): piece for piece in piece_of.values()}.values())


def point_flaws(bike: Keyed) -> Iterator[Flaw]:
    """Tell legs that end where they start, points that no leg has, and a frame in pieces."""
    for leg in legs(bike):
        pair = ends(leg)
        if pair and pair[0].text == pair[1].text:
            what = f"this leg goes from '{pair[0].text}' to itself"
            yield Flaw.at(pair[1], what, "name the frame point at its other end")
    joined = all_ends(bike)
    if joined is not None:
        yield from _unknown(bike, list(dict.fromkeys(point.text for pair in joined for point in pair)))
        yield from _in_pieces(joined)


def _unknown(bike: Keyed, points: Sequence[str]) -> Iterator[Flaw]:
    for named in _named(bike):
        if named.text not in points:
            right = suggest(named.text, points, "add a leg to it, or write one of")
            yield Flaw.at(named, f"no leg has the frame point '{named.text}'", right)


def _named(bike: Keyed) -> Iterator[Word]:
    battery, frame = keyed(bike, "supply", "battery"), keyed(bike, "frame")
    if battery:
        yield from words(battery, "at")
    if frame:
        yield from words(frame, "earth", "connectors")
    for key, at in NAMED_IN:
        for entry in entries(bike, key):
            yield from words(entry, *at)


def _in_pieces(joined: Sequence[Ends]) -> Iterator[Flaw]:
    main, *others = pieces([(one.text, other.text) for one, other in joined])
    for piece in others:
        first = next(point for pair in joined for point in pair if point.text in piece)
        slip, meant = _slip(piece, main)
        right = f"add a leg that joins the pieces, such as from '{main[0]}' to '{first.text}'"
        if slip:
            right = f"write '{meant}' for '{slip}', or add a leg between the pieces"
        what = f"the frame is in {1 + len(others)} pieces: no leg leads from '{main[0]}' to '{first.text}'"
        yield Flaw.at(first, what, right)


def _slip(piece: Sequence[str], main: Sequence[str]) -> tuple[str, str]:
    pairs = ((point, nearest(point, main)) for point in piece)
    return next(((point, near) for point, near in pairs if near), ("", ""))

"""The frame: legs that join two points, one frame in one piece, openings, heat, and where earth can be reached."""

from collections.abc import Iterator, Sequence
from typing import get_args

from portloom.base.assumptions import Assumptions
from portloom.base.copper import BOUGHT, CATALOGUE, USUAL_INSULATION
from portloom.base.nearest import nearest, or_list, suggest
from portloom.base.vocabulary import NEVER_OPENED, Opened
from portloom.inputs.problems import Flaw
from portloom.inputs.tree import LENGTH, TEMPERATURE, Keyed, Node, Word, amount_of, entries, keyed, word, words

NAMED_IN = (
    ("places", ("front", "rear")),
    ("loads", ("at",)),
    ("later", ("at",)),
    ("inputs", ("at",)),
    ("alongside", ("from", "to")),
    ("multiplexers", ("at",)),
)
"""Each list of a bike, and the keys of its entries that name frame points."""
YES_OR_NO = ("true", "false")
"""No frame points, whatever they are written for."""
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
    yield from _no_points(bike)
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


def _no_points(bike: Keyed) -> Iterator[Flaw]:
    """Tell where only that a load has a switch of its own is said, and not where."""
    for load in entries(bike, "loads", "later"):
        for said in words(load, "own_switch"):
            if said.text.lower() == "true":
                what = "where is that switch? its wires run there"
                yield Flaw.at(said, what, "write its frame point, such as 'own_switch: right handlebar'")
            elif said.text.lower() == "false":
                yield Flaw.at(said, "'own_switch' names a frame point", "leave it out where there is no such switch")


def _named(bike: Keyed) -> Iterator[Word]:
    frame = keyed(bike, "frame")
    for part in ("battery", "starter"):
        if supplied := keyed(bike, "supply", part):
            yield from words(supplied, "at")
    if frame:
        yield from words(frame, "earth", "connectors")
    for key, at in NAMED_IN:
        for entry in entries(bike, key):
            yield from words(entry, *at)
    for load in entries(bike, "loads"):
        yield from (said for said in words(load, "own_switch") if said.text.lower() not in YES_OR_NO)


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


THINNEST = CATALOGUE[0]
USUAL_SLEEVE = Assumptions({})["sleeve"]


def label(leg: Keyed) -> str | None:
    """Return the name of ``leg``, or of its two points."""
    name, pair = word(leg, "name"), ends(leg)
    if name:
        return name.text
    return f"{pair[0].text} - {pair[1].text}" if pair else None


def leg_flaws(bike: Keyed) -> Iterator[Flaw]:
    """Tell legs that can't be told apart, odd openings, great heat, unknown legs and earth out of reach."""
    yield from _twins(bike)
    for leg in legs(bike):
        yield from _opening(leg)
        yield from _opened(leg)
        yield from _heat(leg, insulation_of(bike))
        yield from _travel(leg)
    yield from _avoided(bike)
    yield from _out_of_reach(bike)


def _travel(leg: Keyed) -> Iterator[Flaw]:
    travel = word(leg, "travel")
    if travel and not _moves(leg):
        yield Flaw.at(travel, "travel is slack for a leg that moves, and this one does not", "add 'moves: true'")


def _twins(bike: Keyed) -> Iterator[Flaw]:
    named: dict[str, Keyed] = {}
    joined: dict[tuple[str, ...], Keyed] = {}
    for leg in legs(bike):
        pair, name = ends(leg), label(leg)
        if "name" not in leg.values and pair:
            first = joined.setdefault(tuple(sorted(point.text for point in pair)), leg)
            if first is not leg:
                what = f"this leg joins the same two points as the one in line {first.line}"
                yield Flaw.at(leg, what, "give each of the two a name")
                continue
        if name and named.setdefault(name, leg) is not leg:
            yield Flaw.at(
                leg.values.get("name", leg),
                f"the leg in line {named[name].line} is called '{name}' too",
                "give each leg a name of its own",
            )


def _opening(leg: Keyed) -> Iterator[Flaw]:
    opening, wider = amount_of(leg, "opening", LENGTH), amount_of(leg, "opens_to", LENGTH)
    sleeve = amount_of(leg, "sleeve", LENGTH) if "sleeve" in leg.values else USUAL_SLEEVE
    if opening and sleeve is not None and 4 * (opening - sleeve) < 5 * THINNEST.diameter:
        what = "this opening is too small for even one wire, sleeve included"
        yield Flaw.at(
            leg.values["opening"], what, "write the clear width, or leave it out where there is plenty of room"
        )
    if wider is not None and "opening" not in leg.values:
        yield Flaw.at(leg.key("opens_to"), "'opens_to' is given without an 'opening'", "add the opening as it is now")
    if opening and wider and wider < opening:
        what = "'opens_to' is smaller than the opening already is"
        yield Flaw.at(leg.values["opens_to"], what, "write the wider of the two, or leave it out")


def _opened(leg: Keyed) -> Iterator[Flaw]:
    """Tell an opening that may get wider where nothing says what is opened, and the other way round."""
    if "opens_to" in leg.values and "opens" not in leg.values:
        lines = or_list(f"'opens: {word}'" for word in get_args(Opened))
        right = f"add {lines}; {NEVER_OPENED}"
        yield Flaw.at(leg.key("opens_to"), "'opens_to' is given without what is opened up", right)
    if "opens" in leg.values and "opens_to" not in leg.values:
        right = "add how far, such as 'opens_to: 24 mm', or leave 'opens' out"
        yield Flaw.at(leg.key("opens"), "'opens' is given without 'opens_to'", right)


def insulation_of(bike: Keyed) -> int:
    """Return the temperature of the insulation in C: what the file assumes, if that can be read, or the usual."""
    assumed = keyed(bike, "assume")
    said = assumed and word(assumed, "insulation")
    known = {f"{temperature} C": temperature for temperature in BOUGHT}
    return USUAL_INSULATION if not said else known.get(said.text, USUAL_INSULATION)


def _heat(leg: Keyed, insulation: int) -> Iterator[Flaw]:
    """At the rating of its insulation a wire carries nothing. Source: 33 CFR 183.425 Table 5, its columns."""
    ambient = amount_of(leg, "ambient", TEMPERATURE)
    if ambient is not None and ambient >= 1000 * insulation:
        what = f"no wire with {insulation} C insulation can carry current at {insulation} C or hotter"
        yield Flaw.at(leg.values["ambient"], what, f"route the leg where it is cooler, below {insulation} C")


def _avoided(bike: Keyed) -> Iterator[Flaw]:
    names = [label(leg) for leg in legs(bike)]
    known = [name for name in names if name is not None]
    if len(known) < len(names):
        return
    for load in entries(bike, "loads", "later"):
        for said in words(load, "avoid"):
            if said.text not in known:
                yield Flaw.at(said, f"there is no leg '{said.text}'", _right_leg(said.text, known))


def _right_leg(said: str, known: Sequence[str]) -> str:
    turned = " - ".join(reversed(said.split(" - ")))
    return f"write '{turned}'" if turned in known else suggest(said, known)


def _out_of_reach(bike: Keyed) -> Iterator[Flaw]:
    battery, frame = keyed(bike, "supply", "battery"), keyed(bike, "frame")
    start = word(battery, "at") if battery else None
    joined = all_ends(bike)
    if frame is None or start is None or joined is None:
        return
    points = {point.text for pair in joined for point in pair}
    if start.text not in points or len(pieces([(one.text, other.text) for one, other in joined])) > 1:
        return
    still = reached(bike, start.text)
    for point in words(frame, "earth"):
        if point.text in points and point.text not in still:
            yield _moving(point, f"the earth point '{point.text}'", "choose an earth point on the fixed part")
    for entry in entries(bike, "loads", "later", "inputs"):
        for at in words(entry, "at") if _returns_by_frame(entry) else ():
            if at.text in points and at.text not in still:
                yield _moving(entry.values["return"], f"the frame at '{at.text}'", "write return: wire")


def _returns_by_frame(entry: Keyed) -> bool:
    said = word(entry, "return")
    return said is not None and said.text == "frame"


def reached(bike: Keyed, start: str) -> Sequence[str]:
    """Return the points that are reached from ``start`` by legs that never move."""
    fixed = [pair for leg in legs(bike) if not _moves(leg) and (pair := ends(leg))]
    joined = [(one.text, other.text) for one, other in fixed]
    return next((piece for piece in pieces(joined) if start in piece), [start])


def _moves(leg: Keyed) -> bool:
    said = word(leg, "moves")
    return said is not None and said.text.lower() == "true"


def _moving(where: Node, subject: str, right: str) -> Flaw:
    return Flaw.at(where, f"{subject} can't be reached from the battery without a leg that moves", right)

"""Wires: only sizes that the catalogue has, and colours that wires may have; a thing alongside has one thickness."""

from collections.abc import Iterator

from portloom.base.bike import Alongside
from portloom.base.copper import BY_SIZE, CATALOGUE
from portloom.base.nearest import or_list
from portloom.base.sizes import WireSize
from portloom.base.wire_colours import PROTECTIVE
from portloom.inputs.problems import Flaw, Placed
from portloom.inputs.schema import misspelt
from portloom.inputs.tree import Keyed, Listed, Node, entries, size_of, word, words

THICKNESS = ("size", "diameter")
THINNEST = CATALOGUE[0].size


def wire_flaws(bike: Keyed) -> Iterator[Flaw]:
    """Tell sizes that nobody sells, reels of green-and-yellow alone, and things alongside of no clear thickness."""
    for node in _sizes(bike):
        size = size_of(node)
        if size and size not in BY_SIZE:
            yield unknown_size(node, size)
    for reel in entries(bike, "reels"):
        yield from _colours(reel)
    for thing in entries(bike, "alongside"):
        yield from _alongside(thing)


def _colours(reel: Keyed) -> Iterator[Flaw]:
    """Green-and-yellow is the protective conductor's (IEC 60445): a reel needs another colour for wires to have."""
    codes = words(reel, "colours")
    if codes and all(code.text == PROTECTIVE for code in codes):
        what = f"{PROTECTIVE} is for protective earth only, and this reel has no other colour"
        yield Flaw.at(codes[0], what, "add a colour, such as BK, or leave the reel out")


def _sizes(bike: Keyed) -> Iterator[Node]:
    reels = bike.values.get("reels")
    for reel in reels.items if isinstance(reels, Listed) else ():
        yield reel.values.get("size", reel) if isinstance(reel, Keyed) else reel
    for key, of in (("loads", "leads"), ("later", "leads"), ("alongside", "size")):
        yield from (entry.values[of] for entry in entries(bike, key) if of in entry.values)


def unknown_size(node: Placed, size: WireSize) -> Flaw:
    """Tell a size that the catalogue lacks, with its neighbours."""
    return Flaw.at(node, *not_sold(size))


def not_sold(size: WireSize) -> tuple[str, str]:
    """Return what is wrong with a size that the catalogue lacks, and what would be right."""
    if size.area < THINNEST.area:
        return f"{size.label} is too thin for a bike's wiring", f"write {THINNEST.label} or thicker"
    alike = [known for known in BY_SIZE if known.label.endswith(size.label[-3:])]
    thinner = [known.label for known in alike if known.area < size.area][-1:]
    thicker = [known.label for known in alike if known.area > size.area][:1]
    return f"the wire catalogue has no {size.label}", f"write {or_list(thinner + thicker)}"


def _alongside(thing: Keyed) -> Iterator[Flaw]:
    given = [key for key in THICKNESS if key in thing.values]
    if not given and not misspelt(thing, Alongside, THICKNESS):
        yield Flaw.at(
            thing, "this wire or pipe has neither 'size' nor 'diameter'", "add the size of a wire, or a pipe's diameter"
        )
    if len(given) > 1:
        yield Flaw.at(thing.key("diameter"), "both 'size' and 'diameter' are given", "keep one of the two")
    start, end = word(thing, "from"), word(thing, "to")
    if start and end and start.text == end.text:
        what = f"it starts and ends at '{end.text}', so it is in no loom"
        yield Flaw.at(end, what, "name the frame point at its other end, or leave it out")

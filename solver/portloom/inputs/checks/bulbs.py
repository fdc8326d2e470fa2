"""Bulbs with two filaments: they sit at one point, and have one pin by which the current of both gets back."""

from collections.abc import Iterator, Sequence

from portloom.base.lamps import LAMPS
from portloom.inputs.problems import Flaw
from portloom.inputs.tree import Keyed, Word, entries, word

FRAME = "frame"


def bulb_flaws(bike: Keyed) -> Iterator[Flaw]:
    """Tell bulbs whose filaments sit at two points, or get back in two ways."""
    loads = entries(bike, "loads")
    yield from _apart(loads)
    for filaments in (*_named(loads), *_paired(loads)):
        yield from _two_ways_back(filaments)


def _apart(loads: Sequence[Keyed]) -> Iterator[Flaw]:
    seen: dict[str, str] = {}
    for load in loads:
        bulb, at = word(load, "bulb"), word(load, "at")
        if bulb and at and (first := seen.setdefault(bulb.text, at.text)) != at.text:
            what = f"the filaments of bulb '{bulb.text}' sit at two points, '{first}' and '{at.text}'"
            yield Flaw.at(bulb, what, "give them one, or each lamp a bulb of its own")


def _two_ways_back(filaments: Sequence[Keyed]) -> Iterator[Flaw]:
    """A filament by the frame beside one by a wire: the bulb's one pin would join both."""
    framed = [said for load in filaments if (said := _back(load)) is not None]
    wired = [load for load in filaments if _back(load) is None]
    if framed and wired:
        other = word(wired[0], "name")
        beside = f"'{other.text}'" if other else "the other filament"
        what = f"this returns by the frame, and {beside} of the same bulb by a wire: a bulb has one pin for both"
        right = "write the same 'return' for both, or a 'bulb' of its own for each where there are two"
        yield Flaw.at(framed[0], what, right)


def _back(load: Keyed) -> Word | None:
    """Return the word by which a load returns through the frame; None for one with a wire."""
    said = word(load, "return")
    return said if said is not None and said.text == FRAME else None


def _named(loads: Sequence[Keyed]) -> Iterator[list[Keyed]]:
    bulbs: dict[str, list[Keyed]] = {}
    for load in loads:
        if bulb := word(load, "bulb"):
            bulbs.setdefault(bulb.text, []).append(load)
    yield from bulbs.values()


def _paired(loads: Sequence[Keyed]) -> Iterator[list[Keyed]]:
    """Two lamp words of one base at one point are one bulb, paired in the order of the file."""
    waiting: dict[tuple[str, str], list[Keyed]] = {}
    for load in loads:
        lamp, at = word(load, "lamp"), word(load, "at")
        if lamp is None or at is None or "bulb" in load.values or not _one_of_two(lamp.text):
            continue
        here = waiting.setdefault((at.text, lamp.text.split()[0]), [])
        other = next((one for one in here if (its := word(one, "lamp")) and its.text != lamp.text), None)
        if other is None:
            here.append(load)
        else:
            here.remove(other)
            yield [other, load]


def _one_of_two(lamp: str) -> bool:
    return lamp in LAMPS and len(lamp.split()) > 1

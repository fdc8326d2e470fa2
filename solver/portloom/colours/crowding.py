"""How many pairs of wires must look alike, counted group by group without a search: a bound that needs no solver.

Of n wires with k colours that can be told apart at most, the pairs that are told apart are the edges of a graph without
k + 1 that are all joined; so they are no more than Turan's graph has.
Source: Turán (1941), 'On an extremal problem in graph theory' (in Hungarian), Matematikai és Fizikai Lapok 48, 436-452.
"""

from collections.abc import Iterable
from functools import cache
from math import comb
from typing import Literal

from portloom.base.wire_colours import Look, look, seen_alike
from portloom.colours.question import ColouredWire, Question, WireGroup


def least_alike(question: Question, kind: Literal["connector", "leg"], *, earths_apart: bool) -> int:
    """Return what pairs that look alike come to at least in all groups of a kind, those of one size counted twice.

    ``earths_apart`` where no wire looks like an earth wire beside it.
    """
    groups = (group for group in question.groups if group.kind == kind)
    return sum(_least_of(question, group, earths_apart=earths_apart) for group in groups)


def _least_of(question: Question, group: WireGroup, *, earths_apart: bool) -> int:
    others = [wire for wire in group.wires if wire.kind != "earth"]
    earth = next((wire for wire in group.wires if wire.kind == "earth"), None)
    spared = _offered(question, (earth,)) if earth is not None and earths_apart else ()
    sizes = dict.fromkeys(wire.size for wire in others)
    parts = (others, *([wire for wire in others if wire.size == size] for size in sizes))
    return sum(_pairs_alike(len(part), _told_apart(_offered(question, part), spared)) for part in parts)


def _offered(question: Question, wires: Iterable[ColouredWire]) -> tuple[Look, ...]:
    colours = dict.fromkeys(colour for wire in wires for colour in question.choices(wire))
    return tuple(dict.fromkeys(map(look, colours)))


@cache
def _told_apart(looks: tuple[Look, ...], spared: tuple[Look, ...]) -> int:
    """Return how many looks can all be told apart at most; from one of those that are spared, too, if there are any.

    Each is put where all look alike, so there is one of every heap at most.
    """
    if spared:
        return max(_told_apart(tuple(seen for seen in looks if not seen_alike(seen, one)), ()) for one in spared)
    heaps: list[list[Look]] = []
    for seen in looks:
        heap = next((heap for heap in heaps if all(seen_alike(seen, other) for other in heap)), None)
        if heap is None:
            heaps.append([seen])
        else:
            heap.append(seen)
    return len(heaps)


def _pairs_alike(wires: int, colours: int) -> int:
    """Return how many pairs of so many wires are alike where they are spread over the colours as evenly as can be."""
    heaps = max(1, colours)
    each, more = divmod(wires, heaps)
    return more * comb(each + 1, 2) + (heaps - more) * comb(each, 2)

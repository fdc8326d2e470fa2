"""QuickXplain: a minimal conflict among groups of facts, in few questions.

Source: Junker (2004), 'QUICKXPLAIN: preferred explanations and relaxations for over-constrained
problems', AAAI-04, 167-172. With n groups of which k are in the conflict it asks at most
2 k ceil(log2(n / k)) + 2 k questions.
"""

from collections.abc import Callable, Sequence
from typing import TypeVar

Thing = TypeVar("Thing")


def quickxplain(things: Sequence[Thing], holds: Callable[[Sequence[Thing]], bool]) -> tuple[Thing, ...]:
    """Return a minimal part of ``things`` that does not hold, in their order.

    ``holds`` tells whether things can hold together; all together must not, none together must.
    Earlier things are kept rather than later ones.
    """
    if not things:
        return ()
    found = _within((), fresh=False, things=tuple(things), holds=holds)
    return tuple(thing for thing in things if any(thing is other for other in found))


def _within(
    background: tuple[Thing, ...],
    *,
    fresh: bool,
    things: tuple[Thing, ...],
    holds: Callable[[Sequence[Thing]], bool],
) -> tuple[Thing, ...]:
    """``fresh`` where the background has grown since it was last known to hold."""
    if fresh and not holds(background):
        return ()
    if len(things) == 1:
        return things
    first, second = things[: len(things) // 2], things[len(things) // 2 :]
    later = _within((*background, *first), fresh=True, things=second, holds=holds)
    earlier = _within((*background, *later), fresh=bool(later), things=first, holds=holds)
    return (*earlier, *later)

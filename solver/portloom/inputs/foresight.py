"""What is wrong with a file and what is asked of it, as it is and as it will be once that is mended: in one run.

A word that can't be taken leaves open what hangs on it. So the tree is judged again with each such word put right,
in the way that is offered first; where others are offered, with each of them in its turn. What is asked whichever is
chosen is told plainly, what hangs on one choice with that choice.
"""

from collections.abc import Callable, Iterator, Sequence
from typing import NamedTuple

from portloom.base.nearest import and_list, or_list
from portloom.base.values import dataclass
from portloom.inputs.mends import Place, Way, mended
from portloom.inputs.problems import Flaw
from portloom.inputs.tree import Keyed, Listed, Node, Word, entries

Judge = Callable[[Keyed], Sequence[Flaw]]
Told = tuple[int, int, str, str]
ROUNDS = 6
"""A word put right may bring another to light, and that one another; no further."""
MOST_LOOKED_AT = 24
"""So many other choices are looked at in their turn."""
LISTS = ("loads", "later", "inputs")


def all_at_once(root: Keyed, now: Sequence[Flaw], judge: Judge) -> list[Flaw]:
    """Return all that is wrong or asked now, or will be once what is told is done; ``now`` is judged already."""
    slips = _open(now)
    if not slips:
        return list(now)
    return _Foresight(root, now, judge).told()


class _Turn(NamedTuple):
    """The same file with one slip put right in another way than the first."""

    slip: Flaw
    way: Way
    after: "_After"


@dataclass(frozen=True)
class _After:
    """What is found once all slips are mended: more slips, and all else."""

    slips: tuple[Flaw, ...]
    rest: tuple[Flaw, ...]

    @property
    def all(self) -> dict[Told, Flaw]:
        """All of it, by what is told."""
        return {flaw.told: flaw for flaw in (*self.slips, *self.rest)}


class _Foresight:
    """One file, and what it will be."""

    def __init__(self, root: Keyed, now: Sequence[Flaw], judge: Judge) -> None:
        self._root = root
        self._all_now = now
        self._now = {flaw.told for flaw in now}
        self._judge = judge
        self._first = self._after({})
        self._slips = self._first.slips
        self._turns = tuple(self._each_turn())

    def told(self) -> list[Flaw]:
        """Return what is told: slips as they stand, and what is found after them."""
        slips = self._stay()
        first = [slip for slip in slips if slip.told in self._now]
        again = {(slip.line, slip.column) for slip in first if _is_word(slip)}
        found = {flaw.told: flaw for flaw in (*slips, *self._first.rest) if flaw not in first}
        at = {(flaw.line, flaw.column): flaw for flaw in found.values()}
        slips = [_right_at_once(slip, at.get((slip.line, slip.column))) for slip in first]
        rest = [self._as_told(flaw) for told, flaw in found.items() if told[:2] not in again]
        return [*slips, *rest, *self._of_turns(again)]

    def _stay(self) -> list[Flaw]:
        """Return the slips without those in an entry that is left out for another."""
        gone = [slip for slip in self._slips if any(mend.does == "out" for mend in slip.ways[0].mends)]
        return [
            slip for slip in self._slips if not any(self._within(one, slip) for one in gone if one.told != slip.told)
        ]

    def _of_turns(self, again: set[Place]) -> Iterator[Flaw]:
        """Return what is found only where another way is taken."""
        seen = set(self._first.all)
        for turn in self._turns:
            for told, flaw in turn.after.all.items():
                if told not in seen and told[:2] not in again:
                    seen.add(told)
                    ways = [other.way for other in self._turns if other.slip is turn.slip and told in other.after.all]
                    yield self._where(flaw, [(turn.slip, ways)])

    def _as_told(self, flaw: Flaw) -> Flaw:
        """Return a flaw with the choices on which it hangs, of those that are offered."""
        hangs = {id(turn.slip): turn.slip for turn in self._turns if flaw.told not in turn.after.all}
        on = [(slip, [slip.ways[0], *self._others(slip, flaw)]) for slip in hangs.values()]
        return self._where(flaw, on or self._in_entry(flaw))

    def _others(self, slip: Flaw, flaw: Flaw) -> list[Way]:
        return [turn.way for turn in self._turns if turn.slip is slip and flaw.told in turn.after.all]

    def _in_entry(self, flaw: Flaw) -> list[tuple[Flaw, list[Way]]]:
        """Return the slip in whose entry something comes to light that was not wrong before."""
        if flaw.told in self._now:
            return []
        before = (slip for slip in self._slips if slip.told != flaw.told and slip.ways[0].then)
        slip = next((slip for slip in before if self._within(slip, flaw)), None)
        return [(slip, list(slip.ways))] if slip else []

    def _where(self, flaw: Flaw, on: Sequence[tuple[Flaw, Sequence[Way]]]) -> Flaw:
        """Return a flaw that says on which choices it hangs."""
        if not on:
            return flaw
        told = and_list(
            _then(ways) if ways[0].then.startswith("there is") else f"{self._called(slip, flaw)} {_then(ways)}"
            for slip, ways in on
        )
        return flaw._replace(what=f"once {told}: {flaw.what}")

    def _called(self, slip: Flaw, flaw: Flaw) -> str:
        return "it" if self._within(slip, flaw) else f"the entry in line {slip.line}"

    def _within(self, slip: Flaw, flaw: Flaw) -> bool:
        """Tell whether both stand in one entry."""
        here = next((places for places in self._entries if (slip.line, slip.column) in places), frozenset[Place]())
        return (flaw.line, flaw.column) in here

    @property
    def _entries(self) -> Iterator[frozenset[Place]]:
        return (frozenset(_places(entry)) for entry in entries(self._root, *LISTS))

    def _each_turn(self) -> Iterator[_Turn]:
        """Return the file with each slip in each other way; the like of it then takes the first."""
        several = [(slip, way) for slip in self._slips for way in slip.ways[1:]]
        for slip, way in several[:MOST_LOOKED_AT]:
            chosen = {slip.told: way}
            like = next((other for other in self._slips if other is not slip and other.ways[0].then == way.then), None)
            if like is not None:
                chosen[like.told] = next((one for one in like.ways if one.then == slip.ways[0].then), like.ways[0])
            yield _Turn(slip, way, self._after(chosen))

    def _after(self, chosen: dict[Told, Way]) -> _After:
        """Return what is found once these ways are taken, and the first of all others."""
        root, slips, found = self._root, list[Flaw](), self._all_now
        for _ in range(ROUNDS):
            again = _open(found)
            if not again:
                break
            slips += again
            ways = [chosen.get(slip.told, slip.ways[0]) for slip in again]
            root = mended(root, [mend for way in ways for mend in way.mends])
            found = self._judge(root)
        return _After(tuple(slips), tuple(flaw for flaw in found if not flaw.ways))


def _open(flaws: Sequence[Flaw]) -> tuple[Flaw, ...]:
    """Return the flaws that are mended next, each once: words first, what may follow from them after that."""
    slips = {flaw.told: flaw for flaw in flaws if flaw.ways}.values()
    words = [slip for slip in slips if not slip.ways[0].late]
    return tuple(words or slips)


def _right_at_once(slip: Flaw, after: Flaw | None) -> Flaw:
    """Return a slip with what is right in the end, where the word put right would be wrong again."""
    return slip._replace(right=after.right) if after is not None and _is_word(slip) else slip


def _is_word(slip: Flaw) -> bool:
    """Tell whether a word is put right where the slip stands."""
    return any((mend.does, mend.line, mend.column) == ("word", slip.line, slip.column) for mend in slip.ways[0].mends)


def _then(ways: Sequence[Way]) -> str:
    """Return 'is a fan' of one way, 'is a front or a rear brake switch' of several."""
    verb = ways[0].then.partition(" ")[0]
    return f"{verb} {or_list(dict.fromkeys(way.then.partition(' ')[2] for way in ways))}"


def _places(node: Node) -> Iterator[Place]:
    yield node.line, node.column
    match node:
        case Keyed():
            yield from ((key.line, key.column) for key in node.keys.values())
            for value in node.values.values():
                yield from _places(value)
        case Listed():
            for item in node.items:
                yield from _places(item)
        case Word():
            return
        case _:
            return

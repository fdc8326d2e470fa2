"""Which wire has which look, as flags of a CP-SAT model; indices turn back into wires and colours here alone."""

from collections.abc import Iterator, Sequence
from dataclasses import field
from itertools import pairwise

from portloom.base.bike import Colour
from portloom.base.values import dataclass
from portloom.base.wire_colours import alike, look
from portloom.colours.question import Question
from portloom.search.cp_sat import CpSatModel, Variable
from portloom.search.solving import Disagreement, Solve


@dataclass
class WeightedCount:
    """A count as a weighted sum of variables."""

    terms: list[tuple[Variable, int]] = field(default_factory=list)

    def add(self, variable: Variable, weight: int = 1) -> None:
        """Add a variable to the count."""
        self.terms.append((variable, weight))

    def extend(self, other: "WeightedCount", times: int = 1) -> None:
        """Add another count, so many times."""
        self.terms += [(variable, times * weight) for variable, weight in other.terms]


class ColourFlags:
    """A model in which every wire has one of its colours."""

    def __init__(self, question: Question) -> None:
        """Take the wires and their colours; raise NoColour where a wire has none."""
        self.wires = question.wires
        choices = [question.choices(wire) for wire in question.wires]
        colours = {look(colour): colour for each in choices for colour in each}
        number = {seen: at for at, seen in enumerate(colours)}
        # looks[number]: a colour of each look; own[wire][number]: the wire's own colour of that look.
        self.looks = tuple(colours.values())
        numbers = range(len(self.looks))
        self._near = [[at for at in numbers if at != one and alike(self.looks[one], self.looks[at])] for one in numbers]
        self._own = [{number[look(colour)]: colour for colour in each} for each in choices]
        self.model = CpSatModel()
        # has[wire][number]: this wire has this look.
        self.has = [{at: self.flag() for at in own} for own in self._own]
        for has in self.has:
            self.model.exactly_one(has.values())

    def flag(self) -> Variable:
        """Return a new flag."""
        return self.model.flag()

    def near(self, number: int) -> Sequence[int]:
        """Return the other looks that are taken for this one."""
        return self._near[number]

    def pairs_made(self, held: Sequence[int], most: int, *looks: int) -> WeightedCount:
        """Return how many pairs the wires with one of these looks make: the second makes one, the third two more.

        They make no more than ``most``, so they are no more than so many.
        """
        having = [self.has[at][look] for at in held for look in looks if look in self.has[at]]
        goal = WeightedCount()
        if len(having) > 1:
            # there[k]: there are more than k such wires.
            there = [self.flag() for k in range(len(having)) if k * (k + 1) // 2 <= most]
            self.model.between([*((has, 1) for has in having), *((more, -1) for more in there)], 0, 0)
            for k, (fewer, more) in enumerate(pairwise(there), 1):
                self.model.any_of([~more, fewer])
                goal.add(more, k)
        return goal

    def hint(self, start: dict[str, Colour]) -> None:
        """Start from colours that are known."""
        known = zip(self._own, self.has, (start[wire.key] for wire in self.wires), strict=True)
        self.model.begin_with(
            (flag, int(own[number] == colour)) for own, has, colour in known for number, flag in has.items()
        )

    def read(self, run: Solve) -> Iterator[tuple[str, Colour]]:
        """Return each wire's key and the colour that was found; raise Disagreement where one has none, or two."""
        values = iter(run.values([flag for has in self.has for flag in has.values()]))
        for wire, own, has in zip(self.wires, self._own, self.has, strict=True):
            found = [number for number, held in zip(has, values, strict=False) if held]
            if len(found) != 1:
                raise Disagreement(f"the search gives '{wire.key}' {len(found)} colours")
            yield wire.key, own[found[0]]

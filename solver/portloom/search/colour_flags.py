"""Which wire has which look, as flags of a CP-SAT model; indices turn back into wires and colours here alone."""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, field
from itertools import pairwise

from ortools.sat.python import cp_model

from portloom.base.bike import Colour
from portloom.base.wire_colours import alike, look
from portloom.colours.question import Question

BoolVar = cp_model.IntVar


@dataclass
class WeightedCount:
    """A count as a weighted sum of variables."""

    variables: list[BoolVar] = field(default_factory=list)
    weights: list[int] = field(default_factory=list)

    def add(self, variable: BoolVar, weight: int = 1) -> None:
        """Add a variable to the count."""
        self.variables.append(variable)
        self.weights.append(weight)

    def extend(self, other: "WeightedCount") -> None:
        """Add another count."""
        self.variables += other.variables
        self.weights += other.weights

    @property
    def total(self) -> cp_model.LinearExpr:
        """The sum."""
        return cp_model.LinearExpr.weighted_sum(self.variables, self.weights)


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
        self._own = [{number[look(colour)]: colour for colour in each} for each in choices]
        self.model = cp_model.CpModel()
        # has[wire][number]: this wire has this look.
        self.has = [{at: self.flag() for at in own} for own in self._own]
        for has in self.has:
            self.model.add_exactly_one(has.values())

    def flag(self) -> BoolVar:
        """Return a new flag."""
        return self.model.new_bool_var("")

    def near(self, number: int) -> list[int]:
        """Return the other looks that are taken for this one."""
        one = self.looks[number]
        return [at for at, other in enumerate(self.looks) if at != number and alike(one, other)]

    def pairs_made(self, held: Sequence[int], most: int, *looks: int) -> WeightedCount:
        """Return how many pairs the wires with one of these looks make: the second makes one, the third two more.

        They make no more than ``most``, so they are no more than so many.
        """
        having = [self.has[at][look] for at in held for look in looks if look in self.has[at]]
        goal = WeightedCount()
        if len(having) > 1:
            # there[k]: there are more than k such wires.
            there = [self.flag() for k in range(len(having)) if k * (k + 1) // 2 <= most]
            self.model.add(cp_model.LinearExpr.sum(having) == cp_model.LinearExpr.sum(there))
            for k, (fewer, more) in enumerate(pairwise(there), 1):
                self.model.add_implication(more, fewer)
                goal.add(more, k)
        return goal

    def hint(self, start: dict[str, Colour]) -> None:
        """Start from colours that are known."""
        self.model.clear_hints()
        for wire, own, has in zip(self.wires, self._own, self.has, strict=True):
            for number, flag in has.items():
                self.model.add_hint(flag, own[number] == start[wire.key])

    def read(self, solver: cp_model.CpSolver) -> Iterator[tuple[str, Colour]]:
        """Return each wire's key and the colour that was found."""
        for wire, own, has in zip(self.wires, self._own, self.has, strict=True):
            yield wire.key, own[next(number for number, flag in has.items() if solver.boolean_value(flag))]

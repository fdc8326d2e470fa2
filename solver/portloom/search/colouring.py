"""Colours for the wires: the best by the stated measure, proved twice, or the best found and the bound.

One count of the measure after the other is a goal of the same CP-SAT model. Pairs are counted place by place: n wires
of one look make n (n - 1) / 2 of them. Told wire by wire they would prove little, for half a wire red and half blue
looks like nothing.
"""

from collections.abc import Iterator, Sequence
from time import monotonic
from typing import Literal

from portloom.base.bike import Colour
from portloom.base.values import dataclass
from portloom.base.wire_colours import look
from portloom.colours.count import measured
from portloom.colours.crowding import least_alike
from portloom.colours.guess import first_colours, swapped
from portloom.colours.question import (
    BEFORE_STRIPES,
    COUNTS,
    USUAL,
    Colouring,
    ColourMeasure,
    CountName,
    Question,
    together,
)
from portloom.search.colour_flags import ColourFlags, WeightedCount
from portloom.search.cp_sat import Variable
from portloom.search.solving import Disagreement, Solve, Status

ColourOf = dict[str, Colour]


def coloured(question: Question, seconds: float | None = None) -> Colouring:
    """Return the best colours for the wires, or at a limit the best found.

    One count of the measure after the other is made least, proved twice, and kept. All together have a limit of effort
    that is the same on every machine; ``seconds`` is one more. From the first count that was not proved twice on, the
    bound is what was proved so of it, and nought of what comes after it.
    Solid colours are tried first: where they tell all apart that lies together, no stripe does better.
    Raises NoColour where the reels have none for a wire, and Disagreement if search and count differ, or two proofs.
    """
    ends = None if seconds is None else monotonic() + seconds
    solid = question.in_solid_colours
    start = first_colours(question)
    if any(solid.choices(wire) != question.choices(wire) for wire in question.wires):
        found = list(_told_apart(solid, ends))
        if len(found) == len(COUNTS):
            return _answer(solid, found)
        start = min((found[-1].colours, start), key=lambda each: measured(question, each))
    return _answer(question, list(_steps(question, start, ends)))


@dataclass(frozen=True)
class _Bound:
    """What was proved of a count, twice; ``said`` is what the search says by its one word."""

    proved: int
    said: int


@dataclass(frozen=True)
class _Step:
    """Colours with the least of one count that was found, and what was proved of it."""

    colours: ColourOf
    bound: _Bound


def _steps(question: Question, colours: ColourOf, ends: float | None) -> Iterator[_Step]:
    """Return what is found for one count after the other, beginning with colours that are known."""
    model = ColourModel(question)
    for count in COUNTS:
        colours, bound = _improved(question, model, count, colours, ends)
        model.keep(_counted(question, count, colours))
        yield _Step(colours, bound)


def _told_apart(solid: Question, ends: float | None) -> Iterator[_Step]:
    """Return the same up to the first count in which a stripe might do better."""
    for count, step in zip(COUNTS, _steps(solid, first_colours(solid), ends), strict=True):
        yield step
        if count in BEFORE_STRIPES and _counted(solid, count, step.colours):
            return


def _counted(question: Question, count: CountName, colours: ColourOf) -> int:
    return int(getattr(measured(question, colours), count))


def _improved(
    question: Question, model: "ColourModel", count: CountName, colours: ColourOf, ends: float | None
) -> tuple[ColourOf, _Bound]:
    """Return colours with the least of one count, and the bound on it; nothing is below nought."""
    reached = _counted(question, count, colours)
    model.aim(count, reached)
    least = _without_search(question, count, colours) if reached else 0
    if reached == least:
        return colours, _Bound(least, least)
    found, bound = model.least(colours, _left(ends))
    said = max(bound, least)
    best = min(colours, swapped(question, found), key=lambda each: measured(question, each))
    if said > _counted(question, count, best):
        raise Disagreement(f"the search proves {said} of {count}, and there are fewer")
    return best, _Bound(said if said == least or model.proved_again(said, _left(ends)) else least, said)


def _without_search(question: Question, count: CountName, colours: ColourOf) -> int:
    """Return what a count is at least, where what matters more is as good as in some colours."""
    earths_apart = measured(question, colours).beside_earths == 0
    match count:
        case "in_connectors":
            return least_alike(question, "connector", earths_apart=earths_apart)
        case "in_legs":
            return least_alike(question, "leg", earths_apart=earths_apart)
        case _:
            return 0


def _left(ends: float | None) -> float | None:
    return None if ends is None else ends - monotonic()


def _answer(question: Question, steps: Sequence[_Step]) -> Colouring:
    colours, bounds = steps[-1].colours, [step.bound for step in steps]
    measure = measured(question, colours)
    unproved = [at for at, reached in enumerate(measure.counts) if bounds[at].proved < reached]
    proved = unproved[0] + 1 if unproved else len(bounds)
    bound = ColourMeasure(*(each.proved for each in bounds[:proved]), *[0] * (len(bounds) - proved))
    once = bool(unproved) and measure.counts == tuple(each.said for each in bounds)
    return Colouring(tuple((wire.key, colours[wire.key]) for wire in question.wires), measure, bound, once)


EFFORT = 1.5
"""Deterministic time of the solver for all counts together, and as much for all second proofs: a bound that is not
proved is the same everywhere."""


class _Effort(Solve):
    """A run with the settings that were measured to prove colours soonest, and a limit of effort.

    One ``again`` probes, and its throws begin elsewhere.
    """

    def __init__(self, effort: float, seconds: float | None, *, again: bool = False) -> None:
        super().__init__(seconds, again=again)
        settings = self.solver.settings
        settings.cp_model_presolve = True
        settings.symmetry_level = 2
        settings.cp_model_probing_level = 2 if again else 0
        settings.max_deterministic_time = effort


class ColourModel:
    """A question of colours as a CP-SAT model."""

    def __init__(self, question: Question) -> None:
        """Build the model without a goal; raise NoColour where a wire has no colour."""
        self._flags = ColourFlags(question)
        self._model = self._flags.model
        self._wires = question.wires
        self._number = {wire.key: at for at, wire in enumerate(question.wires)}
        self._earths = [at for at, wire in enumerate(question.wires) if wire.kind == "earth"]
        self._others = [at for at, wire in enumerate(question.wires) if wire.kind != "earth"]
        self._groups = tuple(question.groups)
        # taken[earths, look]: one of these earth wires has this look.
        self._taken: dict[tuple[tuple[int, ...], int], Variable] = {}
        self._goal = WeightedCount()
        self._effort = self._effort_again = EFFORT

    def aim(self, count: CountName, most: int) -> None:
        """Make a count the goal; colours of which it is above ``most`` are left out."""
        match count:
            case "stray_earths":
                self._goal = self._stray()
            case "beside_earths":
                self._goal = self._like_earths(beside=True)
            case "in_connectors":
                self._goal = self._look_alike("connector", most)
            case "in_legs":
                self._goal = self._look_alike("leg", most)
            case "like_earths":
                self._goal = self._like_earths(beside=False)
            case "unusual":
                self._goal = self._unusual()
            case "striped":
                self._goal = self._striped()
            case "repeated":
                self._goal = self._repeated(most)

    def _stray(self) -> WeightedCount:
        """Each earth wire has the one look of the earth wires, or strays."""
        goal = WeightedCount()
        one = {number: self._flags.flag() for at in self._earths for number in self._flags.has[at]}
        if one:
            self._model.exactly_one(one.values())
        for at in self._earths:
            stray = self._flags.flag()
            for number, has in self._flags.has[at].items():
                self._model.any_of([~has, one[number], stray])
            goal.add(stray)
        return goal

    def _like_earths(self, *, beside: bool) -> WeightedCount:
        """Each other wire that looks like one of the earth wires, of those beside it or of all."""
        goal = WeightedCount()
        for at in self._others:
            earths = tuple(e for e in self._earths if not beside or together(self._wires[at], self._wires[e]))
            like = self._flags.flag()
            for number, has in self._flags.has[at].items():
                for taken in self._taken_by(earths, number):
                    self._model.any_of([~has, ~taken, like])
            goal.add(like)
        return goal

    def _taken_by(self, earths: tuple[int, ...], number: int) -> Iterator[Variable]:
        """Return the flags that one of these earth wires has a look that is taken for this one."""
        for its in (number, *self._flags.near(number)):
            having = [self._flags.has[at][its] for at in earths if its in self._flags.has[at]]
            if having and (earths, its) not in self._taken:
                self._taken[earths, its] = self._flags.flag()
                for has in having:
                    self._model.any_of([~has, self._taken[earths, its]])
            if having:
                yield self._taken[earths, its]

    def _look_alike(self, kind: Literal["connector", "leg"], most: int) -> WeightedCount:
        """Each pair of other wires that looks alike, in each group of a kind; those of one size once more."""
        goal = WeightedCount()
        for group in (group for group in self._groups if group.kind == kind):
            held = [self._number[wire.key] for wire in group.wires if wire.kind != "earth"]
            sizes = dict.fromkeys(self._wires[at].size for at in held)
            for part in (held, *([at for at in held if self._wires[at].size == size] for size in sizes)):
                self._count_alike(goal, part, most)
        return goal

    def _count_alike(self, goal: WeightedCount, held: Sequence[int], most: int) -> None:
        """Add each pair of these wires that looks alike: of one look, or of two that are near."""
        made = {number: self._flags.pairs_made(held, most, number) for number in range(len(self._flags.looks))}
        for one, its in made.items():
            goal.extend(its)
            for other in (near for near in self._flags.near(one) if near > one):
                both = self._flags.pairs_made(held, most, one, other)
                mixed = self._model.integer(most)
                more = WeightedCount([*both.terms, (mixed, -1)])
                more.extend(its, -1)
                more.extend(made[other], -1)
                self._model.between(more.terms, None, 0)
                goal.add(mixed)

    def _unusual(self) -> WeightedCount:
        """Each earth wire that is not black, and each feed that is not red."""
        goal = WeightedCount()
        for wire, has in zip(self._wires, self._flags.has, strict=True):
            usual = USUAL.get(wire.kind)
            for number, flag in has.items():
                if usual is not None and look(self._flags.looks[number]) != look(usual):
                    goal.add(flag)
        return goal

    def _striped(self) -> WeightedCount:
        """Each wire with a stripe."""
        goal = WeightedCount()
        for has in self._flags.has:
            for number, flag in has.items():
                if look(self._flags.looks[number])[1] is not None:
                    goal.add(flag)
        return goal

    def _repeated(self, most: int) -> WeightedCount:
        """Each pair of other wires of the very same look."""
        goal = WeightedCount()
        for number in range(len(self._flags.looks)):
            goal.extend(self._flags.pairs_made(self._others, most, number))
        return goal

    def keep(self, value: int) -> None:
        """Let the goal be no more than ``value`` from now on."""
        self._model.between(self._goal.terms, None, value)

    def least(self, start: dict[str, Colour], seconds: float | None) -> tuple[dict[str, Colour], int]:
        """Make the goal least: give the colours, and the bound. ``start`` is given where none are found in time.

        Raises Disagreement where the model has no place for ``start``.
        """
        self._model.minimise(self._goal.terms)
        self._flags.hint(start)
        run = _Effort(self._effort, seconds)
        status = run.run(self._model)
        self._effort = max(0.0, self._effort - run.solver.effort)
        if status is Status.IMPOSSIBLE:
            raise Disagreement("colours that are known have no place in the model")
        found = start if status is Status.UNKNOWN else dict(self._flags.read(run))
        return found, max(0, run.bound or 0)

    def proved_again(self, bound: int, seconds: float | None) -> bool:
        """Prove in another way that the goal is no less than ``bound``; False where a limit comes first.

        Nothing is below nought. Raises Disagreement where it can be less.
        """
        if bound <= 0:
            return True
        below = self._model.without_goal()
        below.between(self._goal.terms, None, bound - 1)
        run = _Effort(self._effort_again, seconds, again=True)
        status = run.run(below)
        self._effort_again = max(0.0, self._effort_again - run.solver.effort)
        if status in (Status.BEST, Status.FOUND):
            raise Disagreement(f"two proofs disagree on whether colours can come to less than {bound}")
        return status is Status.IMPOSSIBLE

"""What may be asked beside a verdict: how far from the best plan, and the fewest moves that make a post sound."""

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, replace

from portloom.explaining.solved import Solved, passed, solve
from portloom.job.assignment import Assignment, OnOutput
from portloom.job.job import Job
from portloom.review.document import Distance, Move, NoAnswer, Repair, SettingChange
from portloom.review.matching import Posted
from portloom.review.posted import judge_post, sites_of_post
from portloom.review.settings import PostedSettings
from portloom.rules.book import rules_of
from portloom.rules.sites import sites_of
from portloom.search.moves import Before, Mended, fewest_moves, within
from portloom.search.places import Clock, NoPlan


@dataclass(frozen=True)
class WishAnswers:
    """What was found of what was asked; None where it was not asked."""

    best: Distance | NoAnswer | None = None
    repair: Repair | NoAnswer | None = None


def answer_wishes(
    job: Job, posted: Posted, place: str | None, limit: float | None, *, best: bool, repair: bool
) -> WishAnswers:
    """Return what is asked, at the place of the post, else at ``place``, else at any; within ``limit`` seconds."""
    asked = _Asked(job, posted, place, Clock(limit))
    return WishAnswers(asked.distance() if best else None, asked.repair() if repair else None)


class _Asked:
    """A posted plan, and where it may be mended."""

    def __init__(self, job: Job, posted: Posted, place: str | None, clock: Clock) -> None:
        self._job = job
        self._rules = rules_of(job)
        self._posted = posted
        self._place = place
        self._sites = sites_of_post(job, posted, place)
        self._before = Before(posted.outputs, posted.inputs or None)
        self._clock = clock

    # --- beside the best plan

    def distance(self) -> Distance | NoAnswer:
        """Return the best plan of all places, and how far the posted one is from it where it is sound."""
        found = solve(self._job, self._rules, sites_of(self._job), self._clock)
        if not isinstance(found, Solved):
            return _ended(found)
        best = Distance(found.assignment.costs, found.laid.site.label, found.assignment.proven)
        if judge_post(self._job, self._posted, self._place).clashes or self._posted.flaws:
            return best
        return self._beside(best)

    def _beside(self, best: Distance) -> Distance:
        """Add what the posted plan takes, later loads where there is room, and the cheapest inputs if it names none."""
        own = within(self._job, self._rules, self._sites, self._before, 0, self._clock)
        if not isinstance(own, Assignment):
            return best
        laid = passed((self._job,), self._rules, _priced(own)).laid
        return replace(best, posted_at=laid.site.label, posted=own.costs)

    # --- mended

    def repair(self) -> Repair | NoAnswer:
        """Return the fewest moves that make it sound."""
        found = fewest_moves(self._job, self._rules, self._sites, self._before, self._clock)
        if not isinstance(found, Mended):
            return _ended(found)
        return self._told(found)

    def _told(self, found: Mended) -> Repair:
        solved = passed((self._job,), self._rules, _priced(found.plan))
        plan, members = solved.assignment, self._job.alike
        outputs = tuple((line.port, tuple(load for load in line.loads if load in members)) for line in plan.outputs)
        inputs = tuple(_inputs(plan))
        moves = [*_moves(self._posted.outputs, outputs)]
        if self._posted.inputs:
            moves += _moves(self._posted.inputs, inputs)
        return Repair(
            moved=tuple(move for move in moves if move.before is not None),
            placed=tuple(move for move in moves if move.before is None),
            taken_off=tuple(self._taken_off(plan)),
            set_anew=self._set_anew(plan),
            outputs=outputs,
            inputs=inputs,
            place=solved.laid.site.label,
            cost=plan.cost,
            least=found.least,
            inputs_posted=bool(self._posted.inputs),
        )

    def _taken_off(self, plan: Assignment) -> Iterator[tuple[str, str]]:
        """Return what the post has on an output that is to feed it no longer: what belongs on none, or on another's."""
        fed_there = {(load, line.port) for line in plan.outputs for load in line.loads}
        past = {fed.consumer.name for fed in self._job.loads.fed} | {guest.name for guest in self._job.loads.guests}
        for port, held in self._posted.outputs.items():
            yield from ((name, port) for name in held if name in past and (name, port) not in fed_there)
        yield from ((what, port) for port, what in self._posted.kept_off)

    def _set_anew(self, plan: Assignment) -> tuple[SettingChange, ...]:
        """Return the outputs whose posted trip or wire is wrong in a plan, with what the rules ask for.

        As posted as far as that goes: ports are taken out one after another until nothing is wrong.
        """
        lines = {line.port: line for line in plan.outputs}
        wrong: list[str] = []
        while (port := self._wrong_port(plan, lines, wrong)) is not None:
            wrong.append(port)
        order = [output.name for output in self._job.unit.outputs]
        return tuple(SettingChange(port, lines[port].trip, lines[port].size) for port in sorted(wrong, key=order.index))

    def _wrong_port(self, plan: Assignment, lines: dict[str, OnOutput], but: Sequence[str]) -> str | None:
        settings = self._posted.settings
        own = [port for port in lines if port in {*settings.trips, *settings.sizes} and port not in but]
        mended = Posted(
            outputs={port: list(line.loads) for port, line in lines.items()},
            inputs={port: list(held) for port, held in _inputs(plan)},
            stands={box.name: box.at for box in plan.multiplexers},
            place=plan.only.place,
            turned=plan.only.turned,
            settings=PostedSettings(
                {port: settings.trips[port] for port in own if port in settings.trips},
                {port: settings.sizes[port] for port in own if port in settings.sizes},
            ),
        )
        clashes = judge_post(self._job, mended).clashes
        subjects = {clash.subject for clash in clashes}
        blamed = (port for port in own if ", ".join(lines[port].loads) in subjects)
        return next(blamed, own[0] if own and clashes else None)


def _inputs(plan: Assignment) -> Iterator[tuple[str, tuple[str, ...]]]:
    """Return what is on each input, a multiplexer by its name, and the switches on each multiplexer."""
    yield from ((line.port, line.switches) for line in plan.inputs)
    for box in plan.multiplexers:
        yield box.port, (box.name,)
        yield box.name, tuple(way.switch for way in box.ways)


def _ended(found: object) -> NoAnswer:
    return "nothing fits" if isinstance(found, NoPlan) else "not known"


def _moves(before: Mapping[str, Sequence[str]], after: Sequence[tuple[str, Sequence[str]]]) -> list[Move]:
    """Return what is on another port than before, in the order of the ports after."""
    ports = {name: port for port, held in before.items() for name in held}
    return [Move(name, ports.get(name), port) for port, held in after for name in held if ports.get(name) != port]


def _priced(plan: Assignment) -> Assignment:
    """Return a plan with what it costs: one that was found for its moves claims those."""
    return replace(plan, cost=plan.costs.total)

"""What may be asked beside a verdict: how far from the best plan, and the fewest moves that make a post sound."""

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import replace

from portloom.base.clock import Clock
from portloom.base.quantities import MilliAmps
from portloom.base.values import dataclass
from portloom.explaining.solved import Solved, passed, solve
from portloom.job.assignment import Assignment, OnOutput
from portloom.job.job import Job
from portloom.review.completing import Completing, before, filled, inputs_of
from portloom.review.document import Distance, Move, NoAnswer, Repair, SettingChange
from portloom.review.matching import Posted
from portloom.review.posted import PostVerdict, judge_post, sites_of_post
from portloom.review.settings import PostedSettings
from portloom.rules.book import RULES, rules_of
from portloom.rules.sites import sites_of
from portloom.search.moves import Mended, fewest_moves
from portloom.search.places import LimitReached, NoPlan
from portloom.search.solving import Disagreement


@dataclass(frozen=True)
class WishAnswers:
    """What was found of what was asked; None where it was not asked."""

    best: Distance | NoAnswer | None = None
    repair: Repair | NoAnswer | None = None


def answer_wishes(
    job: Job,
    posted: Posted,
    place: str | None,
    verdict: PostVerdict,
    completing: Completing,
    clock: Clock,
    *,
    best: bool,
    repair: bool,
) -> WishAnswers:
    """Return what is asked of a post that was judged, at its place, else at ``place``, else at any."""
    asked = _Asked(job, posted, place, verdict, completing, clock)
    return WishAnswers(asked.distance() if best else None, asked.repair() if repair else None)


class _Asked:
    """A posted plan, and where it may be mended."""

    def __init__(
        self, job: Job, posted: Posted, place: str | None, verdict: PostVerdict, completing: Completing, clock: Clock
    ) -> None:
        self._job = job
        self._rules = rules_of(job)
        self._posted = posted
        self._verdict = verdict
        self._completing = completing
        self._sites = sites_of_post(job, posted, place)
        self._clock = clock

    @property
    def _stands(self) -> bool:
        """Whether nothing in it is wrong, as far as it goes, and all loads are on an output."""
        on = {name for held in self._posted.outputs.values() for name in held}
        return not self._verdict.clashes and on.issuperset(load.name for load in self._job.loads.on_unit)

    def _as_posted(self) -> Assignment | LimitReached:
        """Return the cheapest plan that leaves all that is posted as it is; nothing in it is wrong.

        Raises Disagreement where the search finds none.
        """
        sites = [site for site in self._sites if site.label in self._verdict.sound_at]
        found = self._completing.cheapest(sites)
        if isinstance(found, NoPlan):
            raise Disagreement("a post in which nothing is wrong can't be left as it is")
        return found

    # --- beside the best plan

    def distance(self) -> Distance | NoAnswer:
        """Return the best plan of all places, and how far the posted one is from it where it is sound."""
        found = solve(self._job, self._rules, sites_of(self._job), self._clock)
        if not isinstance(found, Solved):
            return _ended(found)
        best = Distance(found.assignment.costs, found.laid.site.label, found.assignment.proven)
        return self._beside(best) if self._stands and not self._posted.flaws else best

    def _beside(self, best: Distance) -> Distance:
        """Add what the posted plan takes, later loads where there is room, and the cheapest inputs that it leaves."""
        own = self._as_posted()
        if not isinstance(own, Assignment):
            return best
        return replace(best, posted_at=self._label(own), posted=own.costs)

    def _label(self, plan: Assignment) -> str:
        """Return the name of a plan's place and way round."""
        seat = (plan.only.place, plan.only.turned)
        return next(site.label for site in self._sites if (site.place.name, site.turned) == seat)

    # --- mended

    def repair(self) -> Repair | NoAnswer:
        """Return the fewest moves that make it sound: none where nothing in it is wrong."""
        if self._stands:
            own = self._as_posted()
            return "not known" if isinstance(own, LimitReached) else self._told(own, 0)
        found = fewest_moves(self._job, self._rules, self._sites, before(self._posted), self._clock)
        if not isinstance(found, Mended):
            return _ended(found)
        plan = passed((self._job,), self._rules, _priced(found.plan)).assignment
        mended = self._told(plan, found.least)
        set_anew, fuse = self._set_anew(plan)
        return replace(mended, taken_off=tuple(self._taken_off(plan)), set_anew=set_anew, main_fuse=fuse)

    def _told(self, plan: Assignment, least: int) -> Repair:
        """Return who moves; nothing comes off a port and nothing is set anew."""
        members, posted = self._job.alike, before(self._posted)
        outputs = tuple((line.port, tuple(load for load in line.loads if load in members)) for line in plan.outputs)
        inputs = tuple(inputs_of(plan))
        moves = _moves(self._posted.outputs, outputs)
        wired = _moves(self._posted.inputs, inputs)
        return Repair(
            moved=tuple(move for move in (*moves, *wired) if move.before is not None),
            placed=tuple(move for move in moves if move.before is None),
            taken_off=(),
            set_anew=(),
            outputs=outputs,
            inputs=inputs,
            place=self._label(plan),
            cost=plan.costs.total,
            least=least,
            left_open=tuple(move.name for move in wired if move.name not in posted.ports),
        )

    def _taken_off(self, plan: Assignment) -> Iterator[tuple[str, str]]:
        """Return what the post has on an output that is to feed it no longer: what belongs on none, or on another's."""
        fed_there = {(load, line.port) for line in plan.outputs for load in line.loads}
        past = {fed.consumer.name for fed in self._job.loads.fed} | {guest.name for guest in self._job.loads.guests}
        for port, held in self._posted.outputs.items():
            yield from ((name, port) for name in held if name in past and (name, port) not in fed_there)
        yield from ((what, port) for port, what in self._posted.kept_off)
        read = {switch.name for switch in self._job.inputs} | {box.name for box in self._job.bike.multiplexers}
        for port, held in self._posted.inputs.items():
            yield from ((name, port) for name in held if name not in read)

    def _set_anew(self, plan: Assignment) -> tuple[tuple[SettingChange, ...], MilliAmps | None]:
        """Return the outputs whose posted trip or wire is wrong in a plan, and the main fuse where that is.

        With what the rules ask for; as posted as far as that goes: ports are taken out one after another until
        nothing is wrong, the main fuse first where that alone is blamed.
        """
        lines = {line.port: line for line in plan.outputs}
        fuse = plan.only.main_fuse if self._posted.no_fuse else None
        wrong: list[str] = []
        while (port := self._wrong_setting(plan, lines, wrong, fuse)) is not None:
            if port == MAIN_FUSE:
                fuse = plan.only.main_fuse
            else:
                wrong.append(port)
        order = [output.name for output in self._job.unit.outputs]
        changes = (SettingChange(port, lines[port].trip, lines[port].size) for port in sorted(wrong, key=order.index))
        return tuple(changes), fuse

    def _wrong_setting(
        self, plan: Assignment, lines: dict[str, OnOutput], but: Sequence[str], fuse: MilliAmps | None
    ) -> str | None:
        """Return the port, or the main fuse, of which something posted is wrong in a plan; None where nothing is."""
        settings = self._posted.settings
        own = [port for port in lines if port in {*settings.trips, *settings.sizes} and port not in but]
        posted = {port: list(line.loads) for port, line in lines.items()}
        kept = PostedSettings(
            {port: settings.trips[port] for port in own if port in settings.trips},
            {port: settings.sizes[port] for port in own if port in settings.sizes},
            settings.main_fuse if fuse is None else fuse,
        )
        clashes = judge_post(self._job, filled(Posted(outputs=posted, settings=kept), plan)).clashes
        posted_fuse = settings.main_fuse is not None and fuse is None
        if posted_fuse and any(clash.rule in OF_FUSES for clash in clashes):
            return MAIN_FUSE
        subjects = {clash.subject for clash in clashes}
        blamed = (port for port in own if ", ".join(lines[port].loads) in subjects)
        rest = (*own, *((MAIN_FUSE,) if posted_fuse else ()))
        return next(blamed, rest[0] if rest and clashes else None)


MAIN_FUSE = "main fuse"
OF_FUSES = {rule.slug for rule in RULES if rule.posts.fuse}
"""The rules that judge a posted main fuse."""


def _ended(found: object) -> NoAnswer:
    return "nothing fits" if isinstance(found, NoPlan) else "not known"


def _moves(before: Mapping[str, Sequence[str]], after: Sequence[tuple[str, Sequence[str]]]) -> list[Move]:
    """Return what is on another port than before, in the order of the ports after."""
    ports = {name: port for port, held in before.items() for name in held}
    return [Move(name, ports.get(name), port) for port, held in after for name in held if ports.get(name) != port]


def _priced(plan: Assignment) -> Assignment:
    """Return a plan with what it costs: one that was found for its moves claims those."""
    return replace(plan, cost=plan.costs.total)

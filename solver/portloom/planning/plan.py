"""The job from end to end: a bike and a unit or two go in, a proven best plan that passed its check comes out."""

from dataclasses import field
from typing import TYPE_CHECKING

from portloom.base.bike import Bike
from portloom.base.built import BuiltLoom
from portloom.base.clock import Clock, TimeIsUp
from portloom.base.quantities import Micrometres
from portloom.base.saying import Say, silent
from portloom.base.unit import Unit
from portloom.base.values import dataclass
from portloom.documents.document import Plan, TradeOff, TradeOffs
from portloom.documents.draw_up import draw_up
from portloom.documents.legs import LegsChosen, LegTradeOffs, beside_all_open, leg_trade_off, legs_chosen
from portloom.documents.savings import Saves, savings
from portloom.explaining.solved import Solved, passed, solve_two
from portloom.job.assignment import Assignment
from portloom.job.goal import Cost
from portloom.job.job import Job
from portloom.job.laid import Laid
from portloom.planning.sharing import could_share
from portloom.rules.book import rules_of
from portloom.rules.facts import Where, by_default
from portloom.rules.shapes import Rule
from portloom.rules.sites import sites_of
from portloom.search.assign import assignment_of
from portloom.search.best import Choices, best_at_sites, best_without, model_text
from portloom.search.least_change import least_change
from portloom.search.legs.best import LegChoice
from portloom.search.places import Answer, Found, LimitReached, NoPlan
from portloom.search.sizing_cuts import laid_by

if TYPE_CHECKING:  # what only other answers need is loaded by them
    from portloom.documents.wiring.lists import Lists
    from portloom.explaining.telling.conflict import Conflict


@dataclass(frozen=True)
class Planned:
    """The best plan, or at a time limit the best found with its proven bound."""

    plan: Plan
    laid: Laid = field(repr=False, compare=False)
    """How it lies: every wire with its legs and its size."""
    found: Found | None = field(default=None, repr=False, compare=False)
    """What the search chose it from, of a single unit."""


@dataclass(frozen=True)
class NothingFits:
    """Proved: no plan exists; and the first conflict, unless the limit was reached first or there are two units."""

    bike: str
    units: tuple[str, ...]
    conflicts: "tuple[Conflict, ...]"
    built: BuiltLoom | None = None
    """The loom that is built, with which nothing fits at its place."""


@dataclass(frozen=True)
class Unknown:
    """A limit was reached before a plan was found or proved impossible; no plan costs less than the bound."""

    bike: str
    units: tuple[str, ...]
    bound: Micrometres
    once: bool = False
    """One proof says that there is no plan; the limit came before the second."""
    of_work: bool = False
    """It was no limit of time: so many sets of legs were tried, and there are more."""


Planning = Planned | NothingFits | Unknown
CHECKING, IN_THE_WAY = "checking the plan, wire by wire", "looking for what is in the way"


def plan(
    bike: Bike,
    *units: Unit,
    place: str | None = None,
    time_limit: float | None = None,
    where: Where = by_default,
    built: BuiltLoom | None = None,
) -> Planning:
    """Plan a bike on a unit, or on two in place of one, at two different places; they may be twice the same.

    ``place`` allows only the place of that name, for a single unit; ``time_limit`` is in seconds, and ``where`` tells
    where a thing is written. With two units no multiplexer is used.
    Raises ValueError for another number of units, a place for two or legs to be chosen for two, OnePlace where the
    bike has no two places for two, FailedCheck if the plan found breaks a rule, and Disagreement if two proofs differ.
    """
    match units:
        case (unit,):
            try:
                ready = prepared(bike, unit, place=place, time_limit=time_limit, built=built)
            except TimeIsUp:
                return not_begun(bike, unit)
            return plan_prepared(ready, where)
        case (one, other) if place is None:
            return _plan_two(bike, one, other, Clock(time_limit), where)
        case (_, _):
            raise ValueError("two units sit at two places: none can be the only one")
        case _:
            raise ValueError(f"a bike is planned on one unit or on two, not on {len(units)}")


def _plan_two(bike: Bike, unit: Unit, other: Unit, clock: Clock, where: Where) -> Planning:
    found = solve_two(bike, unit, other, clock)
    names = unit.unit, other.unit
    if isinstance(found, Solved):
        not_used = tuple(box.name for box in bike.multiplexers)
        return Planned(draw_up(found.laid, found.assignment, not_used=not_used, where=where), found.laid)
    if isinstance(found, NoPlan):
        return NothingFits(bike.bike, names, ())
    return Unknown(bike.bike, names, Micrometres(found.bound), found.once)


@dataclass(frozen=True)
class Prepared:
    """A bike on a unit with the choice at every site, and one clock for all that is asked of it."""

    job: Job
    rules: tuple[Rule, ...]
    place: str | None
    choices: Choices
    clock: Clock
    legs: LegChoice | None = None
    """The choice of legs, where a leg in use is worth something."""


def prepared(
    bike: Bike,
    unit: Unit,
    *,
    place: str | None = None,
    time_limit: float | None = None,
    built: BuiltLoom | None = None,
) -> Prepared:
    """Start the clock and set up a bike on a unit; arguments as in plan.

    Raises TimeIsUp where the limit comes first, and ValueError where legs are to be chosen of what is built.
    """
    if built is not None and bike.weights.leg:
        raise ValueError("weights.leg is for a loom that is not built yet")
    clock = Clock(time_limit)
    with clock.held(unless=bike.is_small):
        job = Job(bike, unit, built=built)
        rules = rules_of(job)
        sites = sites_of(job, place)
        legs = LegChoice(job, rules, sites, clock) if bike.weights.leg else None
        return Prepared(job, rules, place, Choices(job, rules, sites), clock, legs)


def not_begun(bike: Bike, *units: Unit) -> Unknown:
    """Return what is known of a plan where the limit came before there was anything to search: it costs something."""
    return Unknown(bike.bike, tuple(unit.unit for unit in units), Micrometres(0))


def plan_prepared(ready: Prepared, where: Where = by_default, say: Say = silent) -> Planning:
    """Plan what was prepared, and tell ``say`` what is being done; raise as plan does."""
    if ready.legs is not None:
        return _plan_over_legs(ready, ready.legs, where, say)
    job, rules, place, clock = ready.job, ready.rules, ready.place, ready.clock
    if job.built is not None:
        return _plan_built(ready, where)
    say("looking for the best plan, and proving it")
    found = best_at_sites(rules, ready.choices, clock)
    if isinstance(found, Found):
        say(CHECKING)
        solved = passed((job,), rules, assignment_of(found))
        sharing = could_share(solved, rules, place, clock)
        saved = _saved_by_multiplexers(solved, ready, say)
        plan = draw_up(solved.laid, solved.assignment, saved, sharing=sharing, where=where)
        return Planned(plan, solved.laid, found)
    if isinstance(found, NoPlan):
        say(IN_THE_WAY)
        return NothingFits(job.bike.bike, (job.unit.unit,), _first_conflict(ready, where))
    return Unknown(job.bike.bike, (job.unit.unit,), Micrometres(found.bound), found.once)


def _plan_built(ready: Prepared, where: Where) -> Planning:
    """Plan what was prepared with a loom that is built: what is built stays where it can."""
    job, rules = ready.job, ready.rules
    found = least_change(rules, ready.choices, ready.clock, is_small=job.bike.is_small)
    if isinstance(found, Found):
        solved = passed((job,), rules, assignment_of(found))
        return Planned(draw_up(solved.laid, solved.assignment, where=where), solved.laid, found)
    if isinstance(found, NoPlan):
        return NothingFits(job.bike.bike, (job.unit.unit,), _first_conflict(ready, where), job.loom)
    return Unknown(job.bike.bike, (job.unit.unit,), Micrometres(found.bound), found.once)


def _plan_over_legs(ready: Prepared, choice: LegChoice, where: Where, say: Say) -> Planning:
    """Plan where a leg in use is worth something, and the legs are chosen, too."""
    job, rules = ready.job, ready.rules
    say("choosing the legs that the loom uses")
    over = choice.best()
    if isinstance(over.answer, Assignment):
        say(CHECKING)
        solved = passed((job,), rules, over.answer)
        plan = draw_up(
            solved.laid,
            solved.assignment,
            _saved_by_multiplexers(solved, ready, say),
            sharing=could_share(solved, rules, ready.place, ready.clock),
            where=where,
            legs=_legs_chosen(solved, over.all_open, ready),
        )
        return Planned(plan, solved.laid, over.found)
    if isinstance(over.answer, NoPlan):
        say(IN_THE_WAY)
        return NothingFits(job.bike.bike, (job.unit.unit,), _first_conflict(ready, where))
    bound, of_work = Micrometres(over.answer.bound), ready.clock.left() != 0
    return Unknown(job.bike.bike, (job.unit.unit,), bound, over.answer.once, of_work)


def _legs_chosen(solved: Solved, all_open: Answer, ready: Prepared) -> LegsChosen:
    """Return the legs of a plan beside the best one with every leg open, which is checked, too; raise as plan does."""
    if not isinstance(all_open, Found):
        return legs_chosen(solved.laid, None, none_open=isinstance(all_open, NoPlan))
    other = passed((ready.job,), ready.rules, assignment_of(all_open))
    proven = solved.assignment.proven and other.assignment.proven
    return legs_chosen(solved.laid, beside_all_open(solved.laid, other.laid, proven=proven), none_open=False)


def _first_conflict(ready: Prepared, where: Where) -> "tuple[Conflict, ...]":
    from portloom.explaining.conflicts.kept import Instance  # noqa: PLC0415 - for bikes alone that have no plan
    from portloom.explaining.conflicts.question import Questions  # noqa: PLC0415 - as above
    from portloom.explaining.telling.told import why_nothing_fits  # noqa: PLC0415 - as above

    questions = Questions(Instance(ready.job, ready.rules, ready.place), ready.clock)
    return why_nothing_fits(questions, where, most=1).conflicts


def model_of(ready: Prepared, found: Found) -> str:
    """Return the CP-SAT model of a plan's place as text that CP-SAT reads back, with names for people."""
    return model_text(ready.rules, found, ready.clock)


def _saved_by_multiplexers(solved: Solved, ready: Prepared, say: Say) -> dict[str, Saves]:
    """Return what each multiplexer of a plan saves: the best plan against the best one without it.

    Raises as plan does.
    """
    return {box.name: _saved_by(box.name, solved, ready, say) for box in solved.assignment.multiplexers}


def _saved_by(multiplexer: str, solved: Solved, ready: Prepared, say: Say) -> Saves:
    say(f"planning without {multiplexer}, to tell what it saves")
    found = _best_without(multiplexer, ready)
    if isinstance(found, Assignment):
        without = passed((ready.job,), ready.rules, found)
        proven = solved.assignment.proven and without.assignment.proven
        return savings(solved.laid, without.laid, proven=proven)
    return "no plan" if isinstance(found, NoPlan) else "unknown"


def _best_without(multiplexer: str, ready: Prepared) -> Assignment | NoPlan | LimitReached:
    """Return the best plan in which one multiplexer is not used."""
    if ready.legs is not None:
        return ready.legs.left_out(multiplexer).best().answer
    found = best_without(ready.rules, ready.choices, multiplexer, ready.clock)
    return assignment_of(found) if isinstance(found, Found) else found


def trade_offs(ready: Prepared) -> TradeOffs:
    """Return the extreme plans between wire run and spare-port loss, in the time that is left; none if nothing fits."""
    from portloom.search.trade_offs import hull, shown  # noqa: PLC0415 - seldom asked for

    try:
        with ready.clock.held(unless=ready.job.bike.is_small):
            choices = tuple(ready.choices)
    except TimeIsUp:
        return TradeOffs((), 0, complete=False)
    found = hull(ready.rules, choices, ready.clock)
    points = shown(found.points)
    legs = None if ready.legs is None else _leg_trade_offs(ready.legs)
    return TradeOffs(
        tuple(TradeOff(Cost(Micrometres(p.run), Micrometres(p.loss)), p.place, p.turned) for p in points),
        len(found.points) - len(points),
        found.complete,
        legs,
    )


def _leg_trade_offs(choice: LegChoice) -> LegTradeOffs:
    """Return the corners between legs in use and all else, in the time that is left."""
    from portloom.search.legs.trade_offs import leg_hull  # noqa: PLC0415 - seldom asked for

    found = leg_hull(choice)
    plans = (laid_by(one.found.tableau, one.found.chosen) for one in found.corners)
    return LegTradeOffs(tuple(map(leg_trade_off, plans)), found.complete)


def coloured_lists(laid: Laid) -> "Lists":
    """Return the lists of a plan with a colour for every wire that is cut, and how far the colours are proved best."""
    from portloom.documents.wiring.colours import built_question, colour_notes, colour_question  # noqa: PLC0415 - for sheets alone
    from portloom.documents.wiring.lists import lists_of  # noqa: PLC0415 - as above
    from portloom.documents.wiring.pieces import wiring_of  # noqa: PLC0415 - as above
    from portloom.search.colouring import coloured  # noqa: PLC0415 - as above

    bike, standing = laid.site.job.bike, laid.site.job.built
    settled = {} if standing is None else dict(coloured(built_question(bike, standing)).colours)
    question = colour_question(bike, wiring_of(laid), settled)
    found = coloured(question)
    return lists_of(laid, dict(found.colours), colour_notes(question, found, bike.frame.legs))

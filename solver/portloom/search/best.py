"""The search from end to end: a job in, the best assignment out."""

from collections.abc import Callable, Iterable, Iterator, Sequence
from dataclasses import replace
from functools import partial

from portloom.base.clock import Clock, TimeIsUp
from portloom.base.unit import Face
from portloom.job.assignment import Assignment
from portloom.job.job import Job
from portloom.job.site import Site
from portloom.rules.shapes import Rule
from portloom.search.assign import assignment_of
from portloom.search.candidates import NO_WAYS, Candidates, Ways, candidates, input_circuits, output_circuits
from portloom.search.columns import MultiplexerColumn, SumRow
from portloom.search.enumeration import Runs
from portloom.search.fuses import allowed_at
from portloom.search.model import Model
from portloom.search.places import Answer, Contender, Found, LimitReached, NoPlan, best_place
from portloom.search.sizing_cuts import with_sizing_cuts
from portloom.search.solving import Solve
from portloom.search.tableau import Tableau, tableau

FACES: tuple[Face, ...] = ("front", "rear")


def tableaux_of(
    job: Job, rules: Sequence[Rule], sites: Sequence[Site], runs: Runs | None = None
) -> tuple[Tableau, ...]:
    """Set up the choice at every site that the rules allow."""
    return tuple(each_tableau(job, rules, sites, runs or runs_over(job, sites)))


def runs_over(job: Job, sites: Iterable[Site]) -> Runs:
    """Return the shortest wires from every face of every site; the same serve any part of the bike's loads."""
    stands = [point for box in job.bike.multiplexers for point in box.at]
    return Runs(job, [*(site.face(face) for site in sites for face in FACES), *stands])


def each_tableau(job: Job, rules: Sequence[Rule], sites: Iterable[Site], runs: Runs) -> Iterator[Tableau]:
    """Set up the choice at one site after the other, where the rules allow the unit."""
    return each_of(all_pairs(job, rules, runs), rules, sites, runs)


def all_pairs(job: Job, rules: Sequence[Rule], runs: Runs, ways: Ways = NO_WAYS) -> Candidates:
    """Return who may go where, wherever the unit sits; ``runs`` are told which circuits there are.

    Of loads that ``ways`` has, plans may choose around which legs their wires lie.
    """
    outputs = output_circuits(job, rules)
    runs.learn(outputs)
    return candidates(job, rules, outputs, input_circuits(job, rules), ways)


def each_of(pairs: Candidates, rules: Sequence[Rule], sites: Iterable[Site], runs: Runs) -> Iterator[Tableau]:
    """Set up the choice among candidates at one site after the other, where the rules allow the unit."""
    for site in sites:
        here = allowed_at(rules, site)
        if here is not None:
            yield tableau(here, rules, pairs, runs)


def _as_is(choice: Tableau) -> Tableau:
    return choice


def best_assignment(
    job: Job,
    rules: Sequence[Rule],
    sites: Sequence[Site],
    clock: Clock,
    narrowed: Callable[[Tableau], Tableau] = _as_is,
    runs: Runs | None = None,
) -> Assignment | NoPlan | LimitReached:
    """Return the proven best plan, the proof that there is none, or what a time limit left.

    Costs are nought at least. ``narrowed`` may give each site's choice more rows; ``runs`` are shortest wires that are
    known already.
    """
    try:
        with clock.held(unless=job.bike.is_small):
            choices = [narrowed(choice) for choice in tableaux_of(job, rules, sites, runs)]
    except TimeIsUp:
        return LimitReached(0)
    answer = best_choice(rules, choices, clock)
    return assignment_of(answer) if isinstance(answer, Found) else answer


def model_text(rules: Sequence[Rule], found: Found, clock: Clock) -> str:
    """Return the model of a plan's place as text that CP-SAT reads back; no plan in it costs less than the best.

    The rows of true wire sizes that rule out cheaper plans are in it, as far as the limit leaves time to find them.
    """
    place = Contender(found.tableau, partial(with_sizing_cuts, rules))
    place.solve("cost", lambda: None, lambda: Solve(clock.left()))
    model = Model(place.choice)
    model.minimise_cost()
    return model.text()


def best_without(rules: Sequence[Rule], choices: Sequence[Tableau], multiplexer: str, clock: Clock) -> Answer:
    """Return the best of choices in which one multiplexer is not used, as of a bike that has none.

    Nothing else of a choice depends on it: its columns are the only ones that a bike without it has not.
    """
    return best_choice(rules, [_without(choice, multiplexer) for choice in choices], clock)


def _without(choice: Tableau, multiplexer: str) -> Tableau:
    """Return a choice in which a multiplexer stands nowhere."""
    standing = tuple(
        (number, 1)
        for number, column in enumerate(choice.columns)
        if isinstance(column, MultiplexerColumn) and column.wired.stand.multiplexer.name == multiplexer
    )
    nowhere = SumRow(standing, 0, 0, name=("without", multiplexer))
    return replace(choice, rows=(*choice.rows, nowhere)) if standing else choice


def best_choice(rules: Sequence[Rule], choices: Sequence[Tableau], clock: Clock) -> Answer:
    """Return the same of choices that are set up already, still as columns of its place."""
    return best_place(choices, partial(with_sizing_cuts, rules), clock)

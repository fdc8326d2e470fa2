"""The search from end to end: a job in, the best assignment out."""

from collections.abc import Callable, Iterable, Iterator, Sequence
from dataclasses import replace
from functools import cached_property, partial
from typing import overload

from portloom.base.clock import Clock, TimeIsUp
from portloom.base.unit import FACES
from portloom.job.assignment import Assignment
from portloom.job.job import Job
from portloom.job.site import Site
from portloom.job.touching import TouchedKind
from portloom.rules.shapes import Rule
from portloom.search.assign import assignment_of
from portloom.search.candidates import NO_WAYS, Candidates, Ways, candidates, input_circuits, output_circuits
from portloom.search.columns import MultiplexerColumn, SumRow
from portloom.search.enumeration import Runs
from portloom.search.fuses import allowed_at
from portloom.search.model import Model
from portloom.search.outline import Glances, outline
from portloom.search.places import Answer, Contender, Found, LimitReached, NoPlan, best_place
from portloom.search.prospects import Prospect, best_prospect
from portloom.search.sizing_cuts import in_true_sizes
from portloom.search.solving import Solve
from portloom.search.staying import where_all_stays
from portloom.search.tableau import Tableau, tableau


class Choices(Sequence[Tableau]):
    """The choice at each site that the rules allow, set up when it is first asked for."""

    def __init__(
        self,
        job: Job,
        rules: Sequence[Rule],
        sites: Iterable[Site],
        runs: Runs | None = None,
        pairs: Candidates | None = None,
    ) -> None:
        """Take the bike's sites; ``runs`` are shortest wires, and ``pairs`` candidates, that are known already."""
        every = tuple(sites)
        self.job = job
        self._rules = rules
        self._runs = runs or runs_over(job, every)
        self._pairs = pairs or all_pairs(job, rules, self._runs)
        self.sites = tuple(here for site in every if (here := allowed_at(rules, site)) is not None)
        self._known: dict[int, Tableau] = {}

    def __len__(self) -> int:
        return len(self.sites)

    @overload
    def __getitem__(self, number: int) -> Tableau: ...

    @overload
    def __getitem__(self, number: slice) -> Sequence[Tableau]: ...

    def __getitem__(self, number: int | slice) -> Tableau | Sequence[Tableau]:
        if isinstance(number, slice):
            return [self[each] for each in range(*number.indices(len(self)))]
        site = self.sites[number]  # ends an iteration
        if number not in self._known:
            self._known[number] = tableau(site, self._rules, self._pairs, self._runs)
        return self._known[number]

    def is_set_up(self, number: int) -> bool:
        """Tell whether the choice at a site was asked for."""
        return number in self._known

    def where_all_stays(self) -> tuple[Tableau, frozenset[tuple[TouchedKind, str]]]:
        """Return of a built loom's one site the choice in which all that can stay does, and the ports that stay so."""
        few, ports = where_all_stays(self.sites[0], self._pairs)
        return tableau(self.sites[0], self._rules, few, self._runs), ports

    def narrowed(self, number: int, how: Callable[[Tableau], Tableau]) -> Tableau:
        """Return the choice at a site with more rows."""
        return how(self[number])

    def least_at(self, number: int, without: str | None = None) -> int:
        """Return a cost that no plan at a site is below, where one multiplexer may be ``without`` use."""
        return self._glances.least_at(self.sites[number], without)

    @cached_property
    def _glances(self) -> Glances:
        return Glances(outline(self._rules, self.sites[0], self._pairs), self._runs)


def tableaux_of(
    job: Job, rules: Sequence[Rule], sites: Sequence[Site], runs: Runs | None = None
) -> tuple[Tableau, ...]:
    """Set up the choice at every site that the rules allow."""
    return tuple(Choices(job, rules, sites, runs))


def runs_over(job: Job, sites: Iterable[Site]) -> Runs:
    """Return the shortest wires from every face of every site; the same serve any part of the bike's loads."""
    return runs_from(job, (site.face(face) for site in sites for face in FACES))


def runs_from(job: Job, faces: Iterable[str]) -> Runs:
    """Return the same from the frame points that the faces of the unit may meet."""
    stands = (point for box in job.bike.multiplexers for point in box.at)
    return Runs(job.network, (*faces, *stands))


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


def as_is(choice: Tableau) -> Tableau:
    """Return a choice with no more rows."""
    return choice


def best_assignment(
    job: Job,
    rules: Sequence[Rule],
    sites: Sequence[Site],
    clock: Clock,
    narrowed: Callable[[Tableau], Tableau] = as_is,
    runs: Runs | None = None,
) -> Assignment | NoPlan | LimitReached:
    """Return the proven best plan, the proof that there is none, or what a time limit left.

    Costs are nought at least. ``narrowed`` may give each site's choice more rows; ``runs`` are shortest wires that are
    known already.
    """
    try:
        with clock.held(unless=job.bike.is_small):
            choices = Choices(job, rules, sites, runs)
    except TimeIsUp:
        return LimitReached(0)
    answer = best_at_sites(rules, choices, clock, narrowed)
    return assignment_of(answer) if isinstance(answer, Found) else answer


def best_at_sites(
    rules: Sequence[Rule],
    choices: Choices,
    clock: Clock,
    narrowed: Callable[[Tableau], Tableau] = as_is,
    without: str | None = None,
) -> Answer:
    """Return the same, still as columns of its site; sites that a glance rules out are not set up.

    Where plans are to be ``without`` one multiplexer, that is what ``narrowed`` leaves out.
    """
    small = choices.job.bike.is_small
    prospects = [
        Prospect(
            site.label,
            partial(choices.least_at, number, without),
            partial(choices.narrowed, number, narrowed),
            partial(in_true_sizes, rules),
            clock,
            is_small=small,
        )
        for number, site in enumerate(choices.sites)
    ]
    return best_prospect(prospects, clock, is_small=small)


def model_text(rules: Sequence[Rule], found: Found, clock: Clock) -> str:
    """Return the model of a plan's place as text that CP-SAT reads back; no plan in it costs less than the best.

    The rows of true wire sizes that rule out cheaper plans are in it, as far as the limit leaves time to find them.
    """
    place = Contender(found.tableau, partial(in_true_sizes, rules))
    place.solve("cost", lambda: None, lambda: Solve(clock.left()))
    model = Model(place.choice)
    model.minimise_cost()
    return model.text()


def best_without(rules: Sequence[Rule], choices: Choices, multiplexer: str, clock: Clock) -> Answer:
    """Return the best of choices in which one multiplexer is not used, as of a bike that has none.

    Nothing else of a choice depends on it: its columns are the only ones that a bike without it has not.
    """
    return best_at_sites(rules, choices, clock, left_out(multiplexer), without=multiplexer)


def left_out(multiplexer: str) -> Callable[[Tableau], Tableau]:
    """Return what makes a choice one in which a multiplexer is not used."""
    return partial(_without, multiplexer)


def _without(multiplexer: str, choice: Tableau) -> Tableau:
    """Return a choice in which a multiplexer stands nowhere."""
    standing = tuple(
        (number, 1)
        for number, column in enumerate(choice.columns)
        if isinstance(column, MultiplexerColumn) and column.wired.stand.multiplexer.name == multiplexer
    )
    nowhere = SumRow(standing, 0, 0, name=("without", multiplexer))
    return replace(choice, rows=(*choice.rows, nowhere)) if standing else choice


def best_choice(rules: Sequence[Rule], choices: Sequence[Tableau], clock: Clock) -> Answer:
    """Return the best plan of choices that are set up already, as columns of its place."""
    return best_place(choices, partial(in_true_sizes, rules), clock)

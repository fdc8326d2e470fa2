"""The search from end to end: a job in, the best assignment out."""

from collections.abc import Sequence
from functools import partial

from solver.job.assignment import Assignment
from solver.job.job import Job
from solver.job.site import Site
from solver.rules.book import place_clashes
from solver.rules.shapes import Rule
from solver.search.assign import assignment_of
from solver.search.circuits import input_circuits, output_circuits
from solver.search.places import Clock, Found, LimitReached, NoPlan, best_place
from solver.search.strands import Runs
from solver.search.strengthen import strengthened
from solver.search.tableau import Tableau, candidates, leaving_out, tableau
from solver.words.unit import Face

FACES: tuple[Face, ...] = ("front", "rear")


def tableaux_of(job: Job, rules: Sequence[Rule], sites: Sequence[Site]) -> tuple[Tableau, ...]:
    """Set up the choice at every site that the rules allow."""
    outputs = output_circuits(job, rules)
    runs = Runs(job, (site.face(face) for site in sites for face in FACES))
    runs.learn(outputs)
    pairs = candidates(job, rules, outputs, input_circuits(job, rules))
    allowed = (site for site in sites if next(place_clashes(rules, site), None) is None)
    return tuple(tableau(site, rules, pairs, runs) for site in allowed)


def best_assignment(
    job: Job, rules: Sequence[Rule], sites: Sequence[Site], clock: Clock
) -> Assignment | NoPlan | LimitReached:
    """Give the proven best plan, the proof that there is none, or what a time limit left."""
    answer = best_place(tableaux_of(job, rules, sites), partial(strengthened, rules), clock)
    return assignment_of(answer) if isinstance(answer, Found) else answer


def fullest_assignment(job: Job, rules: Sequence[Rule], sites: Sequence[Site], clock: Clock) -> Assignment | None:
    """Give an assignment that leaves the fewest loads and switches without a port, or None at a limit.

    It is no plan: ``cost`` counts what is left out, not wire.
    """
    choices = [leaving_out(choice) for choice in tableaux_of(job, rules, sites)]
    answer = best_place(choices, partial(strengthened, rules), clock)
    return assignment_of(answer) if isinstance(answer, Found) and answer.proven else None

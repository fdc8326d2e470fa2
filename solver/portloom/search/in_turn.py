"""Whether there is a plan at one site after the other, with no more wires laid than it takes (FORMULATION.md, X3).

The outline says which circuits to lay first. One that the rules refuse at a site is taken out of the outline there, and
what those that are laid add to looms is put in; then it is asked again, until it has a plan of circuits that are laid
and allowed, or none any more.
"""

from collections.abc import Callable, Collection, Iterable, Iterator, Sequence
from dataclasses import replace

from portloom.base.clock import Clock, TimeIsUp
from portloom.job.site import Site
from portloom.rules.shapes import Rule
from portloom.search.candidates import Candidates
from portloom.search.columns import OutputColumn, SumRow
from portloom.search.enumeration import Laying, Runs, Wires, allowed, inputs_at, multiplexer_columns
from portloom.search.feasibility import Impossible, NotKnown, Possible, Verdict, any_outline, any_plan
from portloom.search.fuses import fused
from portloom.search.outline import looms
from portloom.search.tableau import Tableau, counted_out, keeps, tableau_of

FEW = 64
"""So many candidates for outputs are laid at once: to ask the outline again would take longer."""
ROUNDS = 6
"""So often the outline is asked again at a site before all candidates are laid there."""


class AtSite:
    """A site of a job without later loads, whose candidates are laid when they are first asked for."""

    def __init__(
        self,
        site: Site,
        rules: Sequence[Rule],
        pairs: Candidates,
        runs: Runs,
        wires: Wires,
        spend: Callable[[int], None],
    ) -> None:
        """Take the site with the main fuses that it may have, who may go where, and the wires that are known.

        ``spend`` is told how many columns are set up.
        """
        self.site = site
        self._rules = rules
        self._pairs = pairs
        self._runs = runs
        self._spend = spend
        self._laying = Laying(site, pairs, runs, wires)
        self._laid: dict[int, tuple[OutputColumn, ...]] = {}

    def laid(self, number: int) -> tuple[OutputColumn, ...]:
        """Return the columns of a candidate for an output: none where the rules refuse it here."""
        if number not in self._laid:
            self._spend(1)
            columns = self._laying.all_of(*self._pairs.outputs[number])
            self._laid[number] = tuple(allowed(self._rules, columns))
        return self._laid[number]

    def choice_of_all(self) -> Tableau:
        """Return the choice among all candidates."""
        return self.choice(range(len(self._pairs.outputs)))

    def choice(self, numbers: Iterable[int]) -> Tableau:
        """Return the choice among some candidates for outputs, in their order, and all for inputs."""
        outputs = fused(self._rules, self.site, [column for number in numbers for column in self.laid(number)])
        inputs = (
            *inputs_at(self.site, self._pairs, self._runs),
            *multiplexer_columns(self.site, self._pairs, self._runs),
        )
        self._spend(len(inputs) + 1)
        return tableau_of(self.site, self._rules, (*outputs, *inputs))

    @property
    def so_far(self) -> list[int]:
        """The candidates for outputs that are laid and allowed, in their order."""
        return sorted(number for number, columns in self._laid.items() if columns)

    def looms(self, sketch: Tableau) -> Iterator[SumRow]:
        """Return rows for the looms here, with what is laid so far, over the columns of an outline."""
        laid = {number: self._laid[number] for number in self.so_far}
        return looms(self._rules, self.site, sketch, laid, self._runs)

    def untaken(self) -> Iterator[str]:
        """Return the loads that no candidate which the rules allow here is with."""
        job = self.site.job
        having: dict[int, list[int]] = {}
        for number, (circuit, _) in enumerate(self._pairs.outputs):
            for own in dict.fromkeys(job.alike[load.name] for load in circuit.members):
                having.setdefault(own, []).append(number)
        for load in job.loads.on_unit:
            if not any(self.laid(number) for number in having.get(job.alike[load.name], ())):
                yield load.name


class InTurn:
    """The sites of one question, asked one after the other."""

    def __init__(
        self,
        outline: Tableau,
        pairs: Candidates,
        narrowed: Callable[[Tableau], Tableau],
        rules: Sequence[Rule],
        clock: Clock,
        *,
        twice: bool,
    ) -> None:
        """Take the outline; a proof that there is none is made ``twice`` where that is asked for.

        ``narrowed`` may give each choice more rows.
        """
        self._alike: dict[int, list[int]] = {}
        for number, (circuit, _) in enumerate(pairs.outputs):
            self._alike.setdefault(id(circuit), []).append(number)
        self._pairs = pairs
        self._all = range(len(pairs.outputs))
        self._outline = outline
        self._narrowed = narrowed
        self._rules = rules
        self._clock = clock
        self._twice = twice
        self._refused: dict[int, None] = {}
        """Candidates that were refused at some site: likely to be at the next one."""

    def verdict(self, sites: Iterable[AtSite]) -> Verdict:
        """Return a plan at one of the sites, or the proof that none has one."""
        try:
            if len(self._all) <= FEW:
                return Impossible(certain=True) if counted_out(self._outline) else self._among_all(sites)
            sketch = any_outline(self._outline, self._clock, twice=self._twice)
            return self._laid(sites, sketch) if isinstance(sketch, Possible) else sketch
        except TimeIsUp:
            return NotKnown()

    def _laid(self, sites: Iterable[AtSite], sketch: Possible) -> Verdict:
        """Lay as little as can be at each site, then all where that was not enough."""
        unknown: Verdict | None = None
        certain = True
        left: list[AtSite] = []
        for site in sites:
            verdict = self._as_sketched(site, sketch)
            if isinstance(verdict, Possible):
                return verdict
            if verdict is None:
                left.append(site)
            elif isinstance(verdict, NotKnown):
                unknown = verdict
            else:
                certain = certain and verdict.certain
        verdict = self._among_all(left)
        if not isinstance(verdict, Impossible):
            return verdict
        return unknown or Impossible(certain and verdict.certain)

    def _among_all(self, sites: Iterable[AtSite]) -> Verdict:
        # Where a load is taken by nothing there is no plan (X5), and no choice need be set up to see it.
        choices = (self._narrowed(site.choice_of_all()) for site in sites if next(site.untaken(), None) is None)
        return any_plan(self._rules, choices, self._clock, twice=self._twice)

    def _as_sketched(self, site: AtSite, sketch: Possible) -> Verdict | None:
        """Return a plan among circuits that an outline used, or that there is none; None where neither is known."""
        out = set(self._refused_at(site, self._refused))
        here = self._without(out, ())
        for _ in range(ROUNDS):
            if not keeps(here, sketch.chosen):
                verdict = any_outline(here, self._clock, twice=self._twice)
                if not isinstance(verdict, Possible):
                    return verdict
                sketch = verdict
            used = [number for number in self._all if sketch.chosen[number]]
            wrong = self._refused_at(site, used)
            alike = {other for number in wrong for other in self._alike[id(self._pairs.outputs[number][0])]}
            out.update(self._refused_at(site, sorted(alike)))
            self._refused.update(dict.fromkeys(sorted(out)))
            here = self._without(out, site.looms(self._outline))
            if keeps(here, sketch.chosen):
                return self._among(site, used) or self._among(site, site.so_far)
        return self._among(site, site.so_far)

    def _without(self, out: Collection[int], looms: Iterable[SumRow]) -> Tableau:
        """Return the outline with further rows, in which some candidates are never used."""
        columns = list(self._outline.columns)
        for number in out:
            columns[number] = replace(columns[number], most=0)
        return replace(self._outline, columns=tuple(columns), rows=(*self._outline.rows, *looms))

    def _among(self, site: AtSite, numbers: Sequence[int]) -> Possible | None:
        verdict = any_plan(self._rules, (self._narrowed(site.choice(some)) for some in [numbers]), self._clock)
        return verdict if isinstance(verdict, Possible) else None

    def _refused_at(self, site: AtSite, numbers: Iterable[int]) -> list[int]:
        with self._clock.held():
            return [number for number in numbers if not site.laid(number)]

"""Wishes: a load on a port of the user's choice, or the unit at a place."""

from collections.abc import Iterable
from dataclasses import replace

from portloom.base.figures import verb_for, with_verb
from portloom.base.values import dataclass
from portloom.job.job import Job
from portloom.job.site import Site
from portloom.rules.book import wished
from portloom.rules.fact_kinds import WISH
from portloom.rules.facts import At, Fact, at_load
from portloom.search.columns import OutputColumn, SumRow
from portloom.search.tableau import Tableau

MANY = 10**6
"""More columns than are ever chosen."""


@dataclass(frozen=True)
class LoadOnPort:
    """A load on the output of this name."""

    load: str
    port: str

    def fact(self, job: Job) -> Fact:
        """Return the wish as a fact."""
        sentence = f"{with_verb(self.load, 'is to be')} on {self.port}"
        return wished(self.load, (self.load, self.port), sentence, at_load(job, self.load))

    @property
    def question(self) -> str:
        """Ask why it is not so."""
        return f"Why {verb_for(self.load, 'is')} {self.load} not on {self.port}?"

    def sites(self, sites: Iterable[Site]) -> tuple[Site, ...]:
        """Any site will do."""
        return tuple(sites)

    def narrowed(self, choice: Tableau) -> Tableau:
        """Return a choice in which the wish comes true: a load like it is on a port of the kind.

        Where the load is left out there is nothing to wish.
        """
        alike = choice.site.job.alike
        if self.load not in alike:
            return choice
        entries = tuple((n, 1) for n, column in enumerate(choice.columns) if self._is(column, alike))
        row = SumRow(entries, 1, MANY, WISH.key(self.load, self.port))
        return replace(choice, rows=(*choice.rows, row))

    def _is(self, column: object, alike: dict[str, int]) -> bool:
        if not isinstance(column, OutputColumn) or column.later:
            return False
        wanted = any(alike.get(load.name) == alike[self.load] for load in column.wired.circuit.members)
        return wanted and any(port.name == self.port for port in column.kind.ports)


@dataclass(frozen=True)
class UnitAtPlace:
    """The unit at the place of this name, either way round where the file allows that."""

    place: str

    def fact(self, job: Job) -> Fact:
        """Return the wish as a fact."""
        number = [place.name for place in job.bike.places].index(self.place)
        sentence = f"the unit is to be at the place '{self.place}'"
        return wished(self.place, (self.place,), sentence, At("bike", ("places", number)))

    @property
    def question(self) -> str:
        """Ask why it is not so."""
        return f"Why not the place '{self.place}'?"

    def sites(self, sites: Iterable[Site]) -> tuple[Site, ...]:
        """Return the sites of the place."""
        return tuple(site for site in sites if site.place.name == self.place)

    def narrowed(self, choice: Tableau) -> Tableau:
        """Return the choice as it is."""
        return choice


Wish = LoadOnPort | UnitAtPlace

"""A bike on the bench: what is the same of it on every unit is worked out once."""

from portloom.base.assumptions import Assumptions
from portloom.base.bike import Bike
from portloom.base.unit import Unit
from portloom.job.consumers import Consumers, consumers_of
from portloom.job.job import Job
from portloom.job.network import Network
from portloom.job.site import Site
from portloom.rules.book import rules_of
from portloom.rules.shapes import Rule
from portloom.rules.sites import sites_of
from portloom.search.best import runs_over
from portloom.search.enumeration import Runs


class PreparedBike:
    """A bike, its loads with their figures, and every shortest wire over its frame that was asked for."""

    def __init__(self, bike: Bike) -> None:
        """Take a bike that was read without an error."""
        self.bike = bike
        self.network = Network(bike.frame.legs)
        self.loads = consumers_of(bike, Assumptions(bike.assume))
        self._runs: Runs | None = None

    def on(self, unit: Unit) -> "BikeOnUnit":
        """Put the bike on a unit."""
        return self.as_changed(self.bike, unit, self.loads)

    def as_changed(self, bike: Bike, unit: Unit, loads: Consumers) -> "BikeOnUnit":
        """Put the bike on a unit with other loads; frame and places are the same."""
        job = Job(bike, unit, loads, self.network)
        rules = rules_of(job)
        sites = sites_of(job)
        self._runs = self._runs or runs_over(job, sites)
        return BikeOnUnit(job, rules, sites, self._runs)


class BikeOnUnit:
    """A bike on a unit, ready to be solved."""

    def __init__(self, job: Job, rules: tuple[Rule, ...], sites: tuple[Site, ...], runs: Runs) -> None:
        """Take the job, the rules in force, every place and way round, and shortest wires from there."""
        self.job = job
        self.rules = rules
        self.sites = sites
        self.runs = runs

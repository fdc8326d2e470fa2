"""A plan in the words of the reference program, so that it judges and prices what the search found."""

from collections.abc import Iterator

from oracle.circuits import circuit
from oracle.job import Job
from oracle.judge import Plan, cost_um
from oracle.multiplexing import Stand
from oracle.profiles import read_unit
from oracle.reading import read_bike
from oracle.site import Site
from portloom.base.clock import NO_LIMIT
from portloom.inputs.files import unit_from_text
from portloom.job.assignment import Assignment
from portloom.job.job import Job as Subject
from portloom.rules.book import rules_of
from portloom.rules.sites import sites_of
from portloom.search.best import best_assignment
from portloom.search.places import NoPlan
from portloom.verify.judge import judged
from unasked import bike_from_text


class Reference:
    """The reference program's view of one bike on one unit."""

    def __init__(self, bike: str, unit: str) -> None:
        """Take their YAML."""
        self._job = Job(read_bike(bike), read_unit(unit))
        self._sites: dict[tuple[str, bool, int], Site] = {}

    def site(self, found: Assignment) -> Site:
        """Return the unit at a plan's place, with its main fuse, which may be one that it can't have."""
        assert found.only.main_fuse is not None
        return self._site(found, found.only.main_fuse)

    def sites(self, found: Assignment) -> Iterator[Site]:
        """Return the unit at a plan's place with each main fuse that may stand before it, small ones first."""
        every = (self._site(found, fuse) for fuse in self._job.fuses_ma)
        return (site for site in every if site.sound)

    def _site(self, found: Assignment, fuse: int) -> Site:
        place, turned = found.only.place, found.only.turned
        if (place, turned, fuse) not in self._sites:
            where = next(known for known in self._job.bike.places if known.name == place)
            self._sites[place, turned, fuse] = Site(self._job, where, turned=turned, fuse_ma=fuse)
        return self._sites[place, turned, fuse]

    def cost(self, found: Assignment) -> int | None:
        """Return what a plan costs, its wires laid anew; None if it breaks a rule."""
        return cost_um(self.site(found), self.plan(found))

    def stands(self, found: Assignment) -> bool:
        """Tell whether a plan that names no main fuse keeps the rules with some fuse."""
        plan = self.plan(found)
        return any(cost_um(site, plan) is not None for site in self.sites(found))

    def plan(self, found: Assignment) -> Plan:
        """Return the same plan in the reference's words."""
        bike, unit = self._job.bike, self._job.unit
        loads = {load.name: load for load in bike.loads}
        switches = {switch.name: switch for switch in bike.switches}
        later = {later.load.name: later for later in bike.later}
        outputs = {output.name: output for output in unit.outputs}
        inputs = {port.name: port for port in unit.inputs}
        boxes = {box.name: box for box in bike.multiplexers}
        return Plan(
            tuple(
                (circuit(bike, (loads[name] for name in line.loads if not loads[name].feeders)), outputs[line.port])
                for line in found.outputs
            ),
            tuple((tuple(switches[name] for name in line.switches), inputs[line.port]) for line in found.inputs),
            tuple((later[room.load], outputs[room.port]) for room in found.room_for),
            tuple(
                Stand(boxes[box.name], box.at, inputs[box.port], tuple(switches[way.switch] for way in box.ways))
                for box in found.multiplexers
            ),
        )


def best_plan(bike: str, unit: str, place: str | None = None) -> Assignment | None:
    """Return the proven best plan, which passes the check and the reference's judge; None if there is none."""
    job = Subject(bike_from_text(bike, "bike"), unit_from_text(unit, "unit"))
    rules = rules_of(job)
    found = best_assignment(job, rules, sites_of(job, place), NO_LIMIT)
    if isinstance(found, NoPlan):
        return None
    assert isinstance(found, Assignment)
    assert found.proven
    assert judged((job,), rules, found) == ()
    assert Reference(bike, unit).cost(found) == found.cost
    return found

"""What plans cost at least where some legs are closed, whichever of the others they use (FORMULATION.md, L2)."""

from collections import Counter
from collections.abc import Sequence
from functools import cached_property
from heapq import heappop, heappush

from portloom.base.clock import Clock
from portloom.base.drop import AmpereMetres, ampere_metres, conductor_temperature
from portloom.base.quantities import MilliAmps
from portloom.base.values import dataclass
from portloom.job.consumers import Consumer, consumers_of
from portloom.job.dealing import dealt
from portloom.job.fixed_wires import common_fixed_wires, fixed_wires_at
from portloom.job.job import Job
from portloom.job.network import Network
from portloom.job.site import Site
from portloom.rules.shapes import Rule
from portloom.search.best import all_pairs, runs_over
from portloom.search.candidates import Candidates
from portloom.search.enumeration import Runs
from portloom.search.legs.joints import Joints, Legs
from portloom.search.outline import Glances, outline
from portloom.search.places import Contender
from portloom.search.solving import Solve, Status
from portloom.search.tableau import Tableau


@dataclass(frozen=True)
class Least:
    """What no plan at a site costs less, legs in use left out, and the legs that any wire may follow."""

    cost: int
    legs: Legs


class LegBounds:
    """Bounds of a job's plans at each of its sites, by the legs that are closed; each worked out once."""

    def __init__(self, job: Job, rules: Sequence[Rule], sites: Sequence[Site], without: str | None = None) -> None:
        """Take the job with every leg open, and the sites; one multiplexer may be ``without`` use."""
        self._job = job
        self._rules = rules
        self._sites = sites
        self._without = without
        self.joints = tuple(Joints(site) for site in sites)
        self._over: dict[Legs, tuple[Job, Runs, Glances]] = {}
        self._known: dict[tuple[int, Legs], Least | None] = {}

    def begin(self) -> None:
        """Work out what all bounds share."""
        self._glances  # noqa: B018 - worked out while it can be broken off

    def none_anywhere(self, clock: Clock) -> bool:
        """Tell whether it is proved, twice, that loads and ports alone leave no plan, wherever wires lie (X2)."""
        with clock.held(unless=self._job.bike.is_small):
            contender = Contender(self._outline, lambda *_: None, clock)
        end = contender.solve("any", lambda: None, lambda: Solve(clock.left()))
        if end.status is not Status.IMPOSSIBLE:
            return False
        return contender.prove_again(None, lambda: Solve(clock.left(), again=True)) is Status.IMPOSSIBLE

    @property
    def looked(self) -> int:
        """How many bounds were worked out."""
        return len(self._known)

    def least(self, number: int, closed: Legs) -> Least | None:
        """Return the least of a site where these legs are closed; None where they leave something without a way."""
        key = (number, closed)
        if key not in self._known:
            network = self._job.network.without(closed)
            self._known[key] = self._least(number, closed) if self.joints[number].joined(network) else None
        return self._known[key]

    def _least(self, number: int, closed: Legs) -> Least:
        job, _, glances = self._with(closed)
        site = self._site(number, job)
        fixed = (leg for wire in site.fixed_wires if wire.kind != "alongside" for leg in wire.run.legs)
        stands = {at for box in job.bike.multiplexers for at in box.at if job.reaches_earth(at)}
        earthed = (leg for at in stands for leg in job.way_to_earth(at)[1].legs)
        legs = glances.legs_at(site).union(fixed, earthed)
        return Least(glances.least_at(site, self._without) - self._fewer_returns(job), legs)

    def _site(self, number: int, job: Job) -> Site:
        place, turned = self._sites[number].place, self._sites[number].turned
        return Site(job, place, turned, (), (*fixed_wires_at(job, place, turned=turned), *common_fixed_wires(job)))

    def affordable(self, number: int, closed: Legs, most: int) -> Candidates:
        """Return who may go where in a plan of a site with these legs closed that costs ``most`` or less.

        Its returns are as dealt with every leg open.
        """
        job, _, glances = self._with(closed)
        return glances.affordable(self._site(number, job), self.pairs, most, self._without)

    def job(self, closed: Legs) -> Job:
        """Return the job where these legs are closed, its returns as dealt with every leg open."""
        return self._with(closed)[0]

    def runs(self, closed: Legs) -> Runs:
        """Return its shortest wires."""
        return self._with(closed)[1]

    def _with(self, closed: Legs) -> tuple[Job, Runs, Glances]:
        if closed not in self._over:
            network = self._job.network.without(closed)
            runs = self._runs.over(network)
            self._over[closed] = self._job.over(network, self._job.loads), runs, self._glances.over(runs)
        return self._over[closed]

    @cached_property
    def _glances(self) -> Glances:
        return Glances(self._outline, self._runs)

    @cached_property
    def _outline(self) -> Tableau:
        return outline(self._rules, self._sites[0], self.pairs)

    @cached_property
    def pairs(self) -> Candidates:
        """Who may go where, wherever wires lie."""
        return all_pairs(self._job, self._rules, self._runs)

    @cached_property
    def _runs(self) -> Runs:
        return runs_over(self._job, self._sites)

    # --- returns that are dealt otherwise over other legs

    def _fewer_returns(self, job: Job) -> int:
        """Return the length of the returns that a plan may have fewer than with every leg open."""
        return sum(fewer * job.way_to_earth(point)[1].length for point, fewer in self._fewer.items())

    @cached_property
    def _fewer(self) -> Counter[str]:
        """How many returns fewer than with every leg open may do, by their point; none are left out."""
        now = _returns(self._job.loads.wired)
        if not any(count > 1 for count in now.values()):
            return Counter()
        return now - _returns(self._dealt_at_best)

    @property
    def _dealt_at_best(self) -> Sequence[Consumer]:
        """The loads, with the returns that are dealt to them where each loses as little as any way lets it."""

        def serves(point: str, loads: Sequence[Consumer], _: int) -> bool:
            return self._job.serve(loads, self._least_moment(point))

        job = self._job
        return dealt(job.bike, consumers_of(job.bike, job.assume), serves).wired

    def _least_moment(self, point: str) -> AmpereMetres:
        moments = moments_from(self._job.network, point)
        return AmpereMetres(min(moments[earth] for earth in self._job.earths_for(point)))


def _returns(loads: Sequence[Consumer]) -> Counter[str]:
    """Return how many joint returns begin at each point."""
    return Counter(back.point for back in {load.back for load in loads if load.back is not None})


def moments_from(network: Network, start: str) -> dict[str, int]:
    """Return the least moment of 1 mA over any way from a point to each other.

    Source: Dijkstra (1959), doi:10.1007/BF01386390.
    """
    found: dict[str, int] = {}
    queue = [(0, start)]
    while queue:
        moment, point = heappop(queue)
        if point in found:
            continue
        found[point] = moment
        for number in network.legs_at(point):
            leg = network.legs[number]
            one, other = leg.between
            add = ampere_metres(MilliAmps(1), leg.length, conductor_temperature(leg.ambient))
            heappush(queue, (moment + add, other if point == one else one))
    return found

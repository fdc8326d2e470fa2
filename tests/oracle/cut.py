"""What is lost on the wires that are cut: those of a whole plan at their final sizes, for what is shown of it."""

from collections.abc import Iterator
from fractions import Fraction

from .catalogue import Wire
from .drive import Drive
from .feeding import Fed, lost_uv
from .judge import Plan
from .returns import Key
from .site import Site
from .things import Load


class Cut:
    """A plan that keeps the rules, with every wire at its final size."""

    def __init__(self, site: Site, plan: Plan) -> None:
        """Take a site and a plan there. Raises ValueError for one that has no sizes."""
        self.site, self.job = site, site.job
        columns = [(output.name, site.output_column(held, output)) for held, output in plan.outputs]
        drives = {name: column.drive for name, column in columns if column and column.drive}
        sized = site.settled(tuple(drives.values())) if len(drives) == len(columns) else None
        if sized is None:
            msg = "a plan that breaks rules has no sizes"
            raise ValueError(msg)
        self.drives: dict[str, Drive] = drives
        self.feed: Wire = sized.feeds[0][1][0]
        self.outputs: dict[str, Wire] = dict(zip(drives, (sizes[0] for _, sizes in sized.drives), strict=True))
        self.returns: dict[Key, Wire] = {joint.key: sizes[0] for joint, sizes in sized.joints}
        self.fed: dict[str, tuple[Fed, Wire]] = {fed.load.name: (fed, sizes[0]) for fed, sizes in sized.fed}

    def feed_uv(self) -> Fraction:
        """Return the most that is lost (uV) on feed, connectors and main fuse."""
        return max(self._feed_uv(case) for case in range(len(self.job.cases)))

    def output_uv(self, port: str) -> dict[str, Fraction]:
        """Return the most that each load on an output loses (uV)."""
        drive, wire, flow = self.drives[port], self.outputs[port], self.job.steady
        own = (drive.output.mohm + self.site.bike.contacts.unit_plug) * drive.held.steady_ma
        return {
            load.name: max(self._feed_uv(case) + self._behind_uv(load, case) for case in cases)
            + own
            + drive.shape.run_uv(flow, load, wire)
            + self.site.at_load_uv(flow, load)
            for load in drive.held.members
            if (cases := [number for number, case in enumerate(self.job.cases) if drive.on_in(case.on)])
        }

    def fed_uv(self, name: str) -> Fraction:
        """Return the most that a load loses (uV) that no output feeds."""
        fed, wire = self.fed[name]
        behind = max((self._behind_uv(fed.load, case) for case in self._on(fed.load)), default=Fraction(0))
        return lost_uv(self.job, fed.load, fed.mohm, fed.wires, wire) + behind

    def _on(self, load: Load) -> Iterator[int]:
        return (number for number, case in enumerate(self.job.cases) if case.has_on(load))

    def _feed_uv(self, case: int) -> Fraction:
        flow, mohm = self.job.steady, self.feed.mohm_per_m * self.site.supply.ohm_metres
        return mohm * flow.feed[case] + self.site.before_uv(flow, case)

    def _behind_uv(self, load: Load, case: int) -> Fraction:
        """Return what is lost (uV) from a load back to the battery."""
        flow, earth_mohm = self.job.steady, self.site.bike.contacts.earth_point
        if not load.back:
            return earth_mohm * flow.ma[load.name]
        joint = self.job.joints[self.job.return_of[load.name]]
        mohm = self.job.legs_mohm(joint.run, self.returns[joint.key]) + joint.mohm
        return mohm * flow.joint[joint.key][case] + earth_mohm * flow.earth[joint.earth][case]

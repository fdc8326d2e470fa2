"""The multiplexers of a posted plan, laid by the shortest ways: from where each is said to stand, or stands best."""

from collections.abc import Sequence
from dataclasses import replace

from solver.frame.network import NOWHERE, Run
from solver.frame.trees import Trees
from solver.job.goal import cost_of
from solver.job.laid import Laid
from solver.job.multiplexed import Stand, WiredMultiplexer, WiredSwitch
from solver.job.site import Site
from solver.job.ways import multiplexer_return
from solver.posts.matching import Posted
from solver.words.bike import Multiplexer, Switch
from solver.words.unit import Port


def with_multiplexers(laid: Laid, posted: Posted) -> Laid:
    """Return the same with each multiplexer that has switches on it and is on an input itself."""
    ports = {name: port for port, held in posted.inputs.items() for name in held}
    for box in laid.site.job.bike.multiplexers:
        source = next((port for port in laid.site.job.unit.inputs if port.name == ports.get(box.name)), None)
        names = posted.inputs.get(box.name, ())
        switches = [switch for switch in laid.site.job.bike.inputs if switch.name in names]
        if source is not None and switches:
            laid = _with_one(laid, box, source, switches, posted.stands.get(box.name))
    return laid


def _with_one(laid: Laid, box: Multiplexer, source: Port, switches: Sequence[Switch], at: str | None) -> Laid:
    points = [at] if at in box.at and at is not None else box.at
    stands = [_Standing(laid.site, Stand(box, point), source, switches) for point in points]
    best = min(stands, key=lambda stand: stand.run)
    return replace(
        laid,
        site=laid.site.joined_by([best.back] if best.back else []),
        switches=(*laid.switches, *best.switches),
        multiplexers=(*laid.multiplexers, best.multiplexer),
    )


class _Standing:
    """A multiplexer at one of its points, with the wires that it takes there."""

    def __init__(self, site: Site, stand: Stand, source: Port, switches: Sequence[Switch]) -> None:
        face, network = site.face(source.face), site.job.network
        self.stand = stand
        self.multiplexer = WiredMultiplexer(site, stand, network.wire(face, stand.at) or NOWHERE, source)
        self.switches = [WiredSwitch(site, switch, self._tree(site, switch), stand) for switch in switches]
        back = multiplexer_return(site.job, stand.at)
        self.back = None if back is None or back.name in {way.name for way in site.ways_of("return")} else back
        """The return that it brings; None where it needs none or one is there already."""
        self.run = (
            cost_of(self.multiplexer).wire_run
            + sum(cost_of(wired).wire_run for wired in self.switches)
            + (cost_of(self.back).wire_run if self.back else 0)
        )

    def _tree(self, site: Site, switch: Switch) -> Run:
        points = tuple(dict.fromkeys(switch.at))
        return Trees(site.job.network, points, (self.stand.at,)).tree(points, self.stand.at) or NOWHERE

"""A plan as it is wired, in which one load draws more: how far it can go, and what breaks then."""

from collections.abc import Iterable, Iterator
from dataclasses import replace

from portloom.base.figures import amperes
from portloom.base.fuses import STEPS, carries
from portloom.job.as_wired import as_it_is, drawing, feeds, grown
from portloom.job.bundles import Bundles
from portloom.job.consumers import Consumer
from portloom.job.laid import Laid
from portloom.job.wired import WiredOutput
from portloom.margins.bearing import company, fed_loads, own_peak, own_wire
from portloom.margins.rooms import Rooms
from portloom.rules.book import broken_rows, output_clashes, place_clashes, rules_of, wired_clashes
from portloom.rules.clash import Clash

MOST = STEPS[-1]
"""The largest main fuse: no load grows by more."""


class Growing:
    """A plan in which one load at a time draws more, all else as it is wired."""

    def __init__(self, laid: Laid) -> None:
        """Take a plan that passed its check; its later loads do not count."""
        self._laid = as_it_is(laid)
        self._rules = rules_of(laid.site.job)
        self._rooms = Rooms(self._laid, self._rules)
        self._bundles = Bundles(self._laid)
        self._room: dict[str, int] = {}

    def room(self, load: Consumer) -> int:
        """Return by how many mA a load can grow by all that is linear."""
        if load.name not in self._room:
            self._room[load.name] = max(0, min([MOST, *self._rooms.of(load)]))
        return self._room[load.name]

    def sound(self, load: Consumer, by: int) -> bool:
        """Tell whether a load can draw ``by`` mA more."""
        return by <= self.room(load) and next(self._unfit(load, self._grown(load, by)), None) is None

    def breaks(self, load: Consumer, by: int) -> Clash | None:
        """Return what breaks with ``by`` mA more, or None where nothing does; judged by the whole book."""
        laid = as_it_is(self._grown(load, by))
        for broken in broken_rows(self._rules, laid):
            return Clash(broken.rule.slug, broken.row.subject, broken.budget.sentence(broken.row, broken.found))
        return next(self._whole(load, laid), None)

    def _grown(self, load: Consumer, by: int) -> Laid:
        return grown(self._laid, drawing(self._laid.site.job, load, by))

    def _unfit(self, load: Consumer, laid: Laid) -> Iterator[Clash]:
        """Return what a load breaks but for what is linear: on its own outputs, beside them, while cranking."""
        own = [wired for wired in laid.outputs if feeds(wired, load)]
        yield from self._outputs(laid, own)
        yield from company(laid, self._laid, self._bundles)
        starting = [case for case in laid.site.job.cranking if laid.site.job.on(load, case)]
        if starting:
            on = [wired for wired in laid.outputs if any(laid.site.job.circuit_on(wired.circuit, c) for c in starting)]
            yield from self._outputs(laid, as_it_is(replace(laid, outputs=tuple(on))).outputs)
            yield from place_clashes(self._rules, laid.site)

    def _whole(self, load: Consumer, laid: Laid) -> Iterator[Clash]:
        yield from self._outputs(laid, [wired for wired in laid.outputs if feeds(wired, load)])
        yield from _fuse_too_small(laid)
        yield from self._outputs(laid, laid.outputs)
        yield from fed_loads(laid)
        yield from place_clashes(self._rules, laid.site)
        yield from company(laid, self._laid, self._bundles)

    def _outputs(self, laid: Laid, outputs: Iterable[WiredOutput]) -> Iterator[Clash]:
        for wired in outputs:
            if clash := next(output_clashes(self._rules, laid.site.job, wired.circuit, wired.output), None):
                yield from own_peak(wired)
                yield clash
            if not wired.serving:
                yield from own_wire(wired)
            yield from wired_clashes(self._rules, wired)


def _fuse_too_small(laid: Laid) -> Iterator[Clash]:
    fuse, worst = laid.site.main_fuse, laid.site.job.worst
    if fuse is not None and not carries(fuse, worst):
        sentence = f"{amperes(worst)} in the worst case are more than the main fuse of {amperes(fuse)} carries for good"
        yield Clash("main-fuse", "feed", sentence)

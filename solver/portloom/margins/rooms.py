"""How far a load can grow by all that is linear in its current: worked out at once, exact.

Sums and the main fuse, what others lose on the feed, returns and earth points that it shares with them, and the
highest trip and the peak of its own output.
"""

from collections.abc import Iterable, Iterator, Sequence

from portloom.base.fuses import peak_of
from portloom.job.as_wired import as_wired, at_each_trip, drawing, feeds, with_load
from portloom.job.bundles import Bundles
from portloom.job.consumers import Consumer
from portloom.job.laid import Laid
from portloom.job.wired import WiredOutput
from portloom.margins.bearing import bears
from portloom.margins.shared import Shared
from portloom.rules.shapes import Key, Rule

Pairs = Sequence[tuple[WiredOutput, WiredOutput]]
"""The circuits of a load, as they are and with a mA more."""


class Rooms:
    """A plan, and how far its sums, its main fuse and its outputs let a load grow."""

    def __init__(self, laid: Laid, rules: Sequence[Rule]) -> None:
        """Take a plan as it is wired, and the rules in force."""
        self._laid = laid
        self._shared = Shared(laid)
        self._trip_judged = any(rule.slug == "trip" for rule in rules)
        self._budgets = [budget for rule in rules if rule.budgets for budget in rule.budgets(laid.site)]
        self._sums: dict[int, dict[Key, int]] = {}
        self._highest: dict[str, int] = {}
        self._bundles = Bundles(laid)

    def of(self, load: Consumer) -> Iterator[int]:
        """Return by how many mA each lets a load grow."""
        more = drawing(self._laid.site.job, load, 1)
        pairs = [
            (wired, as_wired(wired.site, wired.losses, wired, with_load(wired.circuit, more)))
            for wired in self._laid.outputs
            if feeds(wired, load)
        ]
        yield from self._main_fuse(load)
        yield from self._budget_rows(pairs)
        yield from self._shared.rooms(load)
        yield from self._outputs(pairs) if self._trip_judged else ()

    def _main_fuse(self, load: Consumer) -> Iterator[int]:
        """The main fuse carries 1.25 x what flows in each case."""
        job, fuse = self._laid.site.job, self._laid.site.main_fuse
        for case in job.cases if fuse is not None else ():
            if times := job.on(load, case):
                yield (4 * (fuse or 0) // 5 - job.unit_current(case)) // times

    def _budget_rows(self, pairs: Pairs) -> Iterator[int]:
        """A sum grows by the same with every mA."""
        for number, budget in enumerate(self._budgets):
            more: dict[Key, int] = {}
            for wired, one_more in pairs:
                before = dict(budget.output(wired))
                for key, amount in budget.output(one_more):
                    more[key] = more.get(key, 0) + amount - before.get(key, 0)
            for key, each in more.items():
                if each:
                    yield (budget.rows[key].at_most - self._sums_of(number)[key]) // each

    def _sums_of(self, number: int) -> dict[Key, int]:
        if number not in self._sums:
            self._sums[number] = self._budgets[number].sums(self._laid)
        return self._sums[number]

    def _outputs(self, pairs: Pairs) -> Iterator[int]:
        """A trip is 1.25 x the steady current, and one that the wire bears; the peak holds the inrush."""
        for wired, one_more in pairs:
            circuit = wired.circuit
            yield 4 * self._highest_trip(wired) // 5 - circuit.current
            if each := one_more.circuit.inrush.height - circuit.inrush.height:
                yield (1000 * peak_of(wired.output) - circuit.inrush.height) // each

    def _highest_trip(self, wired: WiredOutput) -> int:
        """Return the highest trip that a circuit's wire bears as it is."""
        name = wired.output.name
        if name not in self._highest:
            tries = at_each_trip(wired.site, wired.losses, wired, wired.circuit)
            borne: Iterable[int] = (one.trip for one in tries if one.serving and bears(one, self._bundles))
            self._highest[name] = max(borne, default=0)
        return self._highest[name]

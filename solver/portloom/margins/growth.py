"""The load that can grow least: how much more it may draw with the bike as it is wired, and what breaks then.

What is linear in the current (sums, drops of others, the main fuse) gives at once how far each load can grow.
Whether its own output and the wires let it, the rules of the book judge; where they do not, bisection on whole
milliamperes finds how far: nothing gets better with more current. A load that can grow as far as the least so
far is not looked at any closer.
"""

from collections.abc import Iterable, Iterator, Sequence
from dataclasses import replace

from portloom.base.figures import amperes
from portloom.base.fuse_steps import STEPS
from portloom.base.quantities import MilliAmps
from portloom.base.values import dataclass
from portloom.job.as_wired import as_it_is, as_wired, drawing, feeds, grown, with_load
from portloom.job.consumers import Consumer
from portloom.job.fixed_wires import FixedWire
from portloom.job.laid import Laid
from portloom.job.loading import LOADED, Bundles
from portloom.job.wired import WiredOutput
from portloom.rules.book import broken_rows, output_clashes, rules_of, wired_clashes
from portloom.rules.clash import Clash
from portloom.rules.facts import on_outputs
from portloom.rules.growth import Pairs, Saying
from portloom.rules.shapes import Key, Rule

MOST = STEPS[-1]
"""The largest main fuse: no load grows by more."""


# --- how far, by what is linear


class LinearHeadroom:
    """How far the sums of a plan, and all else that is linear in its current, let a load grow."""

    def __init__(self, laid: Laid, rules: Sequence[Rule]) -> None:
        """Take a plan as it is wired, and the rules in force."""
        self._laid = laid
        self._of_rules = [rule.growth.headroom(laid) for rule in rules if rule.growth.headroom]
        self._budgets = [budget for rule in rules if rule.budgets for budget in rule.budgets(laid.site)]
        self._sums: dict[int, dict[Key, int]] = {}

    def of(self, load: Consumer) -> Iterator[int]:
        """Return by how many mA each lets a load grow."""
        more = drawing(self._laid.site.job, load, 1)
        pairs = [
            (wired, as_wired(wired.site, wired.losses, wired, with_load(wired.circuit, more)))
            for wired in self._laid.outputs
            if feeds(wired, load)
        ]
        yield from self._budget_rows(pairs)
        for rooms in self._of_rules:
            yield from rooms(load, pairs)

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


# --- a plan in which a load draws more


class Growing:
    """A plan in which one load at a time draws more, all else as it is wired."""

    def __init__(self, laid: Laid) -> None:
        """Take a plan that passed its check; its later loads do not count."""
        self._laid = as_it_is(laid)
        self._rules = rules_of(laid.site.job)
        self._headroom = LinearHeadroom(self._laid, self._rules)
        self._bundles = Bundles(self._laid)
        self._room: dict[str, int] = {}

    def room(self, load: Consumer) -> int:
        """Return by how many mA a load can grow by all that is linear."""
        if load.name not in self._room:
            self._room[load.name] = max(0, min([MOST, *self._headroom.of(load)]))
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
        yield from self._beside(laid)
        starting = [case for case in laid.site.job.cranking if laid.site.job.on(load, case)]
        if starting:
            on = [wired for wired in laid.outputs if any(laid.site.job.circuit_on(wired.circuit, c) for c in starting)]
            yield from self._outputs(laid, as_it_is(replace(laid, outputs=tuple(on))).outputs)
            yield from self._shared(laid)

    def _whole(self, load: Consumer, laid: Laid) -> Iterator[Clash]:
        yield from self._outputs(laid, [wired for wired in laid.outputs if feeds(wired, load)])
        for rule in self._rules:
            yield from _clashes(rule, rule.growth.unit(laid.site) if rule.growth.unit else ())
        yield from self._outputs(laid, laid.outputs)
        yield from self._shared(laid)
        yield from self._beside(laid)

    def _shared(self, laid: Laid) -> Iterator[Clash]:
        for rule in self._rules:
            yield from _clashes(rule, rule.growth.shared(laid) if rule.growth.shared else ())

    def _outputs(self, laid: Laid, outputs: Iterable[WiredOutput]) -> Iterator[Clash]:
        for wired in outputs:
            if clash := next(output_clashes(self._rules, laid.site.job, wired.circuit, wired.output), None):
                for rule in self._rules:
                    yield from _clashes(rule, rule.growth.port(wired) if rule.growth.port else ())
                yield clash
            for rule in self._rules if not wired.serving else ():
                yield from _clashes(rule, rule.growth.wire(wired) if rule.growth.wire else ())
            yield from wired_clashes(self._rules, wired)

    def _beside(self, laid: Laid) -> Iterator[Clash]:
        """Return which wires do not carry what they must; judged are those about which something has changed.

        If a wire has become a loaded one, at an ampere, all are judged.
        """
        planned = self._laid
        changed = [(old, new) for old, new in zip(planned.outputs, laid.outputs, strict=True) if new is not old]
        same = all((before >= LOADED) == (now >= LOADED) for before, now in _currents(planned, laid, changed))
        bundles = self._bundles if same else Bundles(laid)
        for wired in [new for _, new in changed] if same else laid.outputs:
            yield from self._wire_beside(laid, wired, bundles)
        backs = {back for _, new in changed for back in new.circuit.returns}
        for wire in laid.site.fixed_wires:
            if not same or (wire.kind == "return" and wire.back in backs):
                yield from self._wire_beside(laid, wire, bundles)

    def _wire_beside(self, laid: Laid, wire: WiredOutput | FixedWire, bundles: Bundles) -> Iterator[Clash]:
        for rule in self._rules:
            yield from _clashes(rule, rule.growth.beside(laid, wire, bundles) if rule.growth.beside else ())


def _clashes(rule: Rule, sayings: Iterable[Saying]) -> Iterator[Clash]:
    return (Clash(rule.slug, subject, sentence) for subject, sentence in sayings)


def _currents(
    planned: Laid, laid: Laid, changed: Sequence[tuple[WiredOutput, WiredOutput]]
) -> Iterator[tuple[MilliAmps, MilliAmps]]:
    """Return what flows in every wire in which more may flow, before and now."""
    for old, new in changed:
        for leg, flows in old.flows.items():
            yield from zip(flows, new.flows[leg], strict=True)
    before, now = planned.site.job, laid.site.job
    for case in before.steady:
        yield before.unit_current(case), now.unit_current(case)
        for wire in planned.site.fixed_of("return"):
            yield before.returned(wire.back, case), now.returned(wire.back, case)


# --- the least


@dataclass(frozen=True)
class Growth:
    """How much more a load may draw, and the rule that a milliampere more breaks."""

    load: str
    current: MilliAmps
    by: MilliAmps
    rule: str
    sentence: str


def grows_least(laid: Laid) -> Growth | None:
    """Return the load on the unit that can grow least, the first of equal ones; None where nothing is on the unit.

    Counted are the loads of the file that the unit feeds, not those on a relay or a fuse, nor their relays' coils.
    """
    growing = Growing(laid)
    named = {load.name for load in laid.site.job.bike.loads}
    loads = [load for load in on_outputs(laid.site.job) if load.name in named]
    by = min((growing.room(load) for load in loads), default=0)
    least: Consumer | None = None
    for load in loads:
        if not growing.sound(load, by + 1):
            if not growing.sound(load, by):
                by, least = _most(growing, load, by), load
            least = least or load
    return None if least is None else _told(growing, least, by)


def _most(growing: Growing, load: Consumer, too_much: int) -> int:
    """Return the most mA by which a load can grow, less than ``too_much``."""
    low, high = 0, too_much
    while high - low > 1:
        middle = (low + high) // 2
        low, high = (middle, high) if growing.sound(load, middle) else (low, middle)
    return low


def _told(growing: Growing, load: Consumer, by: int) -> Growth | None:
    clash = growing.breaks(load, by + 1)
    if clash is None:
        return None
    now, then = amperes(load.current), amperes(MilliAmps(load.current + by))
    grows = f"from {now} by {amperes(MilliAmps(by))} to {then}; above that" if by else f"none; above its {now}"
    sentence = f"{load.name} has the least headroom: {grows}, {clash.sentence}"
    return Growth(load.name, load.current, MilliAmps(by), clash.rule, sentence)

"""Margins of voltages: what each load loses, what is left while cranking, how far a switch's earth is lifted."""

from collections.abc import Iterator
from fractions import Fraction

from solver.electrics.drop import MicroVolts
from solver.electrics.fuses import fuse_for
from solver.explaining.near.as_wired import as_it_is
from solver.explaining.near.margins import Margin, volts_spare
from solver.job.consumers import Consumer
from solver.job.cranking import Cranking
from solver.job.fixed import conductor_of, fed_drop, fed_load
from solver.job.laid import Laid
from solver.job.wired import WiredOutput
from solver.rules.shapes import Rule
from solver.words.figures import limit_volts, listed, volts, volts_left

# --- lost on the whole path


def drops(laid: Laid, rule: Rule) -> Iterator[Margin]:
    """Return what each load loses against its limit; loads of a circuit that lose the same of the same, together.

    Counted with the wire that the load has; feed and returns at their first sizes, as in the plan.
    """
    for wired in laid.outputs:
        for (lost, limit), names in _alike(wired).items():
            thicker = wired.drawn.size != wired.serving[0].size
            has = f" with the {wired.drawn.size.label} that is laid" if thicker else ""
            yield _drop(rule, listed(names), f"{listed(names)} on {wired.output.name}", lost, limit, has)
    for way in laid.site.ways_of("fed load"):
        load = fed_load(laid.site, way).consumer
        fuse = fuse_for(load.current)
        if fuse is not None and laid.losses.ever_on(load):
            lost = fed_drop(laid.site, way, conductor_of(laid.site, way), fuse)
            yield _drop(rule, load.name, f"{load.name}, fed from the battery", lost, load.drop_limit, "")


def _alike(wired: WiredOutput) -> dict[tuple[MicroVolts, MicroVolts], tuple[str, ...]]:
    lost = wired.drops(wired.drawn)
    names: dict[tuple[MicroVolts, MicroVolts], tuple[str, ...]] = {}
    for load in wired.circuit.loads:
        if load.at is not None and wired.losses.ever_on(load):
            key = (lost[load.name], load.drop_limit)
            names[key] = (*names.get(key, ()), load.name)
    return names


def _drop(rule: Rule, subject: str, told: str, lost: MicroVolts, limit: MicroVolts, has: str) -> Margin:
    left = MicroVolts(limit - lost)
    sentence = f"{told}: {volts(lost)} of {limit_volts(limit)} lost on the whole path{has}, {volts_spare(left)}"
    return Margin(rule.slug, subject, lost, limit, left, lost / limit, sentence)


# --- while cranking


def cranking(laid: Laid, rule: Rule) -> Iterator[Margin]:
    """Return what reaches the unit, and each load that must work then, against the lowest at which it works."""
    reached = Cranking(laid.site, laid.losses)
    lowest = laid.site.job.unit.feed.lowest
    if not reached.cases:
        return
    if lowest is not None:
        at_unit = _reached(rule, "the unit", "the unit", reached.at_unit(), MicroVolts(Fraction(1000 * lowest)))
        yield at_unit.at(laid.site.own_name)
    for wired in as_it_is(laid).outputs:
        for load in wired.circuit.loads:
            yield from _reached_at(rule, wired, load, reached)


def _reached_at(rule: Rule, wired: WiredOutput, load: Consumer, reached: Cranking) -> Iterator[Margin]:
    there = reached.at_load(wired, load)
    if there is not None and load.lowest is not None:
        told = f"{load.name} on {wired.output.name}"
        yield _reached(rule, load.name, told, there, MicroVolts(Fraction(1000 * load.lowest)))


def _reached(rule: Rule, subject: str, told: str, there: MicroVolts, lowest: MicroVolts) -> Margin:
    left = MicroVolts(there - lowest)
    sentence = (
        f"{told}: {volts_left(there)} left while cranking, it works down to {limit_volts(lowest)}, {volts_spare(left)}"
    )
    return Margin(rule.slug, subject, there, lowest, left, lowest / there, sentence)


# --- earth


def earth_lifts(laid: Laid, rule: Rule) -> Iterator[Margin]:
    """Return for each point with switches to earth how far what flows in the joint return lifts it."""
    limit = MicroVolts(Fraction(1000 * laid.site.job.assume["switch earth lift"]))
    for point in dict.fromkeys(p for s in laid.site.job.bike.inputs if s.signal == "earth" for p in s.at):
        lift = MicroVolts(max(laid.losses.behind(point)))
        left = MicroVolts(limit - lift)
        told = f"switches at {point}"
        sentence = (
            f"{told}: the joint return lifts their earth by {volts(lift)}, "
            f"they are sure to be read up to {limit_volts(limit)}, {volts_spare(left)}"
        )
        yield Margin(rule.slug, told, lift, limit, left, lift / limit, sentence)

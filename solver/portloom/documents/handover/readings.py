"""Readings of a bench test judged against the plan, the likely fault named.

What a wrong reading usually means is common practice, no source.
"""

from collections.abc import Iterator, Mapping, Sequence

from portloom.base.figures import amperes, limit_volts, listed, volts_left, with_verb
from portloom.base.quantities import MilliAmps, MilliVolts
from portloom.base.values import dataclass
from portloom.documents.handover.steps import BenchTest, Step, VoltageRange, range_said
from portloom.inputs.bench_readings import Reading
from portloom.inputs.problems import Flaw

DEAD = MilliVolts(1000)
"""Below this nothing has reached a load."""
NEARLY_ALL = 80
"""Percent of the supply from which a load has its voltage, though it may draw nothing."""
NOTHING = MilliAmps(20)
"""A current that a clamp meter shows with nothing on; a meter in line, in the battery's negative lead, shows none."""


@dataclass(frozen=True)
class Finding:
    """A step with what was read of it: right, or what is wrong and what that usually means."""

    step: Step
    right: bool
    said: str


def unknown_steps(test: BenchTest, readings: Sequence[Reading]) -> Iterator[Flaw]:
    """Return each reading of a step that the sheet does not have, or that lacks the supply voltage it is judged by."""
    for reading in readings:
        if not 1 <= reading.step <= len(test.steps):
            yield Flaw(reading.line, 1, f"the sheet has no step {reading.step}", f"1 to {len(test.steps)}")
        elif reading.supply is None and _needs_supply(test.steps[reading.step - 1], reading):
            yield Flaw(reading.line, 1, f"step {reading.step} has no supply_v", "the voltage at the battery meanwhile")


def _needs_supply(step: Step, reading: Reading) -> bool:
    return reading.current is not None or (reading.voltage is not None and step.within is None)


def judge(test: BenchTest, readings: Sequence[Reading]) -> tuple[Finding, ...]:
    """Judge every reading of a step of which the plan expects a figure, in the order of the sheet.

    The readings must name steps of the sheet (see ``unknown_steps``).
    """
    in_order = sorted(readings, key=lambda one: one.step)
    live = dict(_live(test, in_order))
    judged = (_finding(test, test.steps[one.step - 1], one, live) for one in in_order)
    return tuple(finding for finding in judged if finding is not None)


def _live(test: BenchTest, readings: Sequence[Reading]) -> Iterator[tuple[str, Step]]:
    """Return each port that drew what it should in some step, with that step."""
    for reading in readings:
        step = test.steps[reading.step - 1]
        if step.port and step.expected is not None and step.expected.draws and reading.supply and reading.current:
            lowest, highest = step.expected.current(reading.supply)
            if lowest <= reading.current <= highest:
                yield step.port, step


def _finding(test: BenchTest, step: Step, reading: Reading, live: Mapping[str, Step]) -> Finding | None:
    """Judge one reading; give None where the plan expects no figure, or none was read."""
    if step.within is not None:
        return None if reading.voltage is None else _within(step, reading.voltage, step.within)
    has_current = reading.current is not None and step.expected is not None
    has_voltage = reading.voltage is not None and step.loses is not None
    if reading.supply is None or not (has_current or has_voltage):
        return None
    wrong = list(_wrong(test, step, reading, reading.supply))
    if wrong and step.expected and step.port in live and reading.current is not None and reading.current <= NOTHING:
        other = live[step.port]
        drawn = f"{amperes(MilliAmps(0))}, expected {range_said(step.expected, reading.supply)}"
        sound = f"in step {other.number} {step.port} drew what it should, so wire and load are good"
        wrong = [f"{drawn}: {sound}; check the switch, its wire, its earth"] if step.expected.draws else wrong
    right = f"as expected: {_range(step, reading.supply) or f'{step.reached(reading.supply)} or more'}"
    return Finding(step, not wrong, "; ".join(wrong) or right)


def _within(step: Step, voltage: MilliVolts, wanted: VoltageRange) -> Finding:
    if wanted.least <= voltage <= wanted.most:
        return Finding(step, right=True, said=f"as expected: {wanted.said}")
    means = wanted.below if voltage < wanted.least else wanted.above
    return Finding(step, right=False, said=f"{limit_volts(1000 * voltage)}, expected {wanted.said}: {means}")


def _wrong(test: BenchTest, step: Step, reading: Reading, supply: MilliVolts) -> Iterator[str]:
    if reading.current is not None and step.expected is not None:
        lowest, highest = step.expected.current(supply)
        if reading.current > max(highest, NOTHING if step.port else 0):
            yield _too_much(test, step, reading.current, supply)
            return
        if reading.current < lowest:
            yield _too_little(test, step, reading, supply)
            return
    voltage = None if step.loses is None else reading.voltage
    if voltage is not None and 1000 * (supply - voltage) > step.most_lost(reading.current):
        yield _lost(supply, voltage, step, reading.current)


def _too_much(test: BenchTest, step: Step, current: MilliAmps, supply: MilliVolts) -> str:
    if step.part == "last" or (step.expected is not None and not step.expected.draws):
        told = f"{amperes(current)}, {_range(step, supply)} expected"
        return f"{told}: something is on that should be off, or there is a leak to earth"
    told = f"{amperes(current)}, more than the {_range(step, supply)} expected"
    other = _draws_so(test, step, current, supply)
    if other:
        return f"{told}: {other}"
    return f"{told}: a second load on the wire, a stronger lamp, or a short on the way"


def _too_little(test: BenchTest, step: Step, reading: Reading, supply: MilliVolts) -> str:
    current = MilliAmps(reading.current or 0)
    told = f"{amperes(current)}, less than the {_range(step, supply)} expected"
    unit = step.expected.unit if step.expected else MilliAmps(0)
    if current <= unit + NOTHING:
        return f"{told}: {_nothing_flows(reading.voltage, supply)}"
    dead = _one_missing(step, current, supply)
    if dead:
        return f"{told}: right without {dead}, so that one is dead: its lamp, its wire or its return is open"
    voltage = None if step.loses is None else reading.voltage
    if voltage is not None and 1000 * (supply - voltage) > step.most_lost(current):
        return f"{told}: {_lost(supply, voltage, step, current)}"
    other = _draws_so(test, step, current, supply)
    if other:
        return f"{told}: {other}"
    return f"{told}: a weaker lamp, or a corroded joint; read the voltage at the load"


def _nothing_flows(voltage: MilliVolts | None, supply: MilliVolts) -> str:
    if voltage is None:
        return "an open wire, an open return, or the wrong port; read the voltage at the load"
    if voltage < DEAD:
        return (
            "nothing reaches it between feed and return: read from its feed to the battery's negative pole; full "
            "voltage there means an open return, none means an open wire or the wrong port"
        )
    if 100 * voltage >= NEARLY_ALL * supply:
        return "the voltage is there and nothing flows: the load itself is open (a lamp, a fuse in it)"
    return "a joint that is nearly open"


def _lost(supply: MilliVolts, voltage: MilliVolts, step: Step, current: MilliAmps | None) -> str:
    lost, most = supply - voltage, step.most_lost(current)
    return (
        f"{volts_left(1000 * lost)} voltage drop, the plan allows {volts_left(most)} at most: "
        "a corroded joint, a loose terminal, or a wire thinner than planned"
    )


def _range(step: Step, supply: MilliVolts) -> str:
    return range_said(step.expected, supply) if step.expected else ""


def _one_missing(step: Step, current: MilliAmps, supply: MilliVolts) -> str:
    """Return the one load without which the current would be right, where there are several."""
    if step.expected is None or len(step.expected.draws) < 2:
        return ""
    names = dict.fromkeys(draw.name for draw in step.expected.draws)
    fitting = []
    for name in names:
        lowest, highest = step.expected.without(name).current(supply)
        if lowest <= current <= highest:
            fitting.append(name)
    return " or ".join(fitting)


def _draws_so(test: BenchTest, step: Step, current: MilliAmps, supply: MilliVolts) -> str:
    """Say who else on the bike draws such a current by itself, the one of whom it is known best."""
    fitting = []
    for other in test.steps:
        if other.port not in ("", step.port) and other.expected is not None and other.expected.draws:
            lowest, highest = other.expected.current(supply)
            if lowest <= current <= highest:
                fitting.append((highest - lowest, other.number, other))
    if not fitting:
        return ""
    other = min(fitting)[-1]
    names = listed([draw.name for draw in other.expected.draws]) if other.expected else ""
    return f"{with_verb(names, 'draws')} that on {other.port}, so a wire may be on the wrong port"

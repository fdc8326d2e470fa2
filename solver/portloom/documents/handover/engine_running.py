"""Bench steps with the engine: cranked without a spark, started, what is on only then, charging, and what stops it.

A charging battery has 95 to 106 % of the planning voltage, at idle 12.0 V or more: common practice, no source.
"""

from collections.abc import Iterator
from itertools import chain

from portloom.base.figures import capital, listed
from portloom.base.parts.loads import FUEL_PUMP, load_part
from portloom.base.quantities import MilliVolts
from portloom.base.vocabulary import START
from portloom.documents.energy import ampere_hours, energy_of, watts
from portloom.documents.handover.coming_on import OperatingSteps
from portloom.documents.handover.cranked import CrankingSteps
from portloom.documents.handover.displays import DisplaySteps
from portloom.documents.handover.groups import in_order, loads_of
from portloom.documents.handover.heads import cuts_spark_and_fuel
from portloom.documents.handover.measured import MeasuredSteps
from portloom.documents.handover.steps import Step, TestPart, VoltageRange
from portloom.job.consumers import Consumer
from portloom.job.laid import Laid
from portloom.job.wired import WiredOutput
from portloom.rules.practice import drives_engine

PART: TestPart = "engine running"
CHARGING = (95, 106)
"""Least and most of the voltage of the charging battery, in percent of the planning voltage: at 14.0 V, 13.3 to 14.8 V.
"""
AT_IDLE = MilliVolts(12_000)
"""Below this the battery is going flat."""
CHARGED_AT_IDLE = MilliVolts(12_800)
"""From this on the battery is not giving."""
NOT_CHARGING = "the battery is not charging; check the alternator's plug, the regulator, its fuse and its earth"
NOT_LIMITING = "the regulator is not limiting it; stop the engine, or battery and electronics will be damaged"


class RunningSteps:
    """The steps for one plan."""

    def __init__(self, laid: Laid, working: OperatingSteps, measured: MeasuredSteps) -> None:
        """Take the plan as it lies, what makes its loads come on, and what reads them."""
        self._measured = measured
        self._laid = laid
        self._job = laid.site.job
        self._working = working
        self._starters = [wired for wired in laid.outputs if START in wired.circuit.modes]

    def steps(self) -> Iterator[Step]:
        """Return cranking, the start, what waited for it, lamps and charging, and what stops the engine."""
        cranked = CrankingSteps(self._job, self._working, self._starters)
        yield from chain(cranked.steps(), (self._start(),), self._late())
        yield from DisplaySteps(self._laid, self._working).steps(PART)
        yield from chain(self._lamps(), self._charging(), (_shaken(),), self._stopping())

    # --- start

    def _start(self) -> Step:
        off = cuts_spark_and_fuel(self._laid)
        plug = f"Key off; plug in {listed(off)}. " if off else ""
        plug += "Its own stop switch to run. " * (self._job.bike.ignition == "own")
        buttons = [self._working.how(wired.circuit.members) for wired in self._starters]
        how = f"{capital(self._working.may_start())}: {listed(buttons) if buttons else 'start it'}"
        return Step(
            PART,
            "Start",
            f"{plug}{how}; let it idle.",
            "see",
            "the engine runs, the starter lets go" if buttons else "the engine runs",
            "no start: spark, fuel, a lock-out; the starter turns on: key off, and once the engine stands battery off"
            if buttons
            else "no start: spark or fuel",
        )

    def _late(self) -> Iterator[Step]:
        """What is on only with the engine running."""
        others = (wired for wired in self._laid.outputs if START not in wired.circuit.modes)
        for one in in_order((*others, *self._job.loads.fed)):
            if not self._working.needs_engine(loads_of(one)):
                continue
            if isinstance(one, WiredOutput):
                yield self._measured.output_on(one, PART, self._working.how(one.circuit.members))
            else:
                yield self._measured.fed_on(one, PART)

    # --- idling

    def _lamps(self) -> Iterator[Step]:
        names = [load.name for load in self._job.loads.wired if _is_seen(load)]
        if names:
            yield Step(
                PART,
                "Every lamp, from outside",
                f"Idling, walk around the bike: {listed(names)}, each by its own switch.",
                "see",
                "each lights where it should, none dim, no other with it",
                "dim, or another glows with it: a bad earth; wrong one: a wrong port or plug",
            )

    def _charging(self) -> Iterator[Step]:
        supply = self._job.bike.supply
        if supply.charging is None:
            return
        least, most = (MilliVolts(supply.running * share // 10_000 * 100) for share in CHARGING)
        worst = max(energy_of(self._laid).riding, key=lambda line: line.drawn)
        keeps_up = worst.idle is not None and not worst.ten_minutes
        told = (
            f"less than at speed: {watts(worst.drawn)} drawn, {watts(worst.idle or 0)} supplied, "
            f"{ampere_hours(worst.ten_minutes)} of the battery's in ten minutes"
        ) * bool(worst.ten_minutes)
        yield Step(
            PART,
            "Charging at idle",
            "Idling, lamps on. Read the volts at the battery.",
            "voltage",
            told,
            "lower: not charging at all, or the battery is weak",
            within=VoltageRange(CHARGED_AT_IDLE if keeps_up else AT_IDLE, most, NOT_CHARGING, NOT_LIMITING),
        )
        yield Step(
            PART,
            "Charging at speed",
            "Engine well above idle, lamps on. Read the volts at the battery.",
            "voltage",
            "never more",
            "less: not charging; more: stop the engine",
            within=VoltageRange(least, most, NOT_CHARGING, NOT_LIMITING),
        )

    # --- what stops it

    def _stopping(self) -> Iterator[Step]:
        """Return what stops the running engine, each by itself, after each a start."""
        if self._job.bike.ignition == "own":
            yield Step(
                PART,
                "Its own stop wire stops the engine",
                "Idling: its own stop switch to stop.",
                "see",
                "the engine stops at once",
                "fuel off, and do not ride it: the stop wire earths the magneto, check it and its switch",
            )
        if not any(drives_engine(wired.circuit) for wired in self._laid.outputs):
            return
        yield _stop("Key off stops the engine", "Idling: key off", self._pump())
        for switch in self._working.telling("engine stop"):
            yield _stop(
                f"{capital(switch.name)} stops the engine", f"Start it again: {switch.name} to stop", self._pump()
            )
        for switch in self._working.telling("side stand"):
            again = "Start it again"
            if self._working.told("neutral"):
                title, do = "Side stand down in neutral", "Start it again. In neutral, side stand down."
                yield Step(PART, title, do, "see", "the engine runs on", "it stops: neutral is not told, or not set")
                again = "Side stand up"
            gear = "in gear, clutch pulled" if self._job.bike.clutch == "lever" else "in gear"
            yield _stop(f"{capital(switch.name)} stops the engine", f"{again}; {gear}; side stand down")

    def _pump(self) -> str:
        pumps = [load.name for load in self._job.loads.on_unit if load.part == FUEL_PUMP.name]
        return f", and {listed(pumps)} with it: listen" if pumps else ""


def _is_seen(load: Consumer) -> bool:
    """Tell whether a load is a lamp that is seen from outside."""
    part = load_part(load.part)
    on_the_road = part is not None and (part.beam or part.drop_class not in ("other", "engine"))
    return load.kind != "relay coil" and (on_the_road or load.kind == "filament")


def _stop(title: str, how: str, also: str = "") -> Step:
    wrong = "do not ride it: pull the low-voltage plug of the coil; check switch, wire and setting"
    return Step(PART, title, f"{how}.", "see", f"the engine stops at once{also}", wrong)


def _shaken() -> Step:
    return Step(
        PART,
        "Lock to lock",
        "Idling, bars slowly from lock to lock, twice; then shake each loom by hand, away from chain and exhaust.",
        "see",
        "no stall, no stumble, no lamp flickers",
        "a wire is too short or broken inside, or a plug is loose: find it by shaking less and less of the loom",
    )

"""Bench steps with one circuit plugged in at a time, on a small fuse: what stops the spark, then what each draws.

Dead is below 1 V, and with no load to draw a current what is live keeps within 0.2 V of the battery: common practice,
no source.
"""

from collections.abc import Iterator, Sequence
from fractions import Fraction

from portloom.base.bike import Switch
from portloom.base.figures import amperes, capital, listed
from portloom.base.parts.loads import RUNNING_ENGINE
from portloom.base.quantities import MilliVolts
from portloom.base.vocabulary import START
from portloom.documents.fail_safe import stops_when_open
from portloom.documents.handover.coming_on import OperatingSteps
from portloom.documents.handover.first_power import FIRST_FUSE, unit_alone
from portloom.documents.handover.groups import BRAKE, group_of, in_order
from portloom.documents.handover.lock_outs import LockOutSteps
from portloom.documents.handover.measured import MeasuredSteps, alone, drawing
from portloom.documents.handover.steps import Step, TestPart, VoltageRange
from portloom.job.consumers import Consumer, FedLoad
from portloom.job.laid import Laid
from portloom.job.wired import WiredOutput
from portloom.rules.practice import drives_engine

PART: TestPart = "one circuit at a time"
UNLOADED = Fraction(200_000)
"""Microvolts that may be missing where nothing draws."""
DEAD = VoltageRange(
    MilliVolts(-1000),
    MilliVolts(1000),
    "the meter's leads are swapped, or the plug is wired the wrong way round",
    "it still has power: do not start this engine; check that the switch is set as the sheet of settings says",
)


class OneCircuitSteps:
    """The steps for one plan."""

    def __init__(self, laid: Laid, working: OperatingSteps, measured: MeasuredSteps) -> None:
        """Take the plan as it lies, what makes its loads come on, and what reads them."""
        self._laid = laid
        self._measured = measured
        self._job = laid.site.job
        self._working = working

    def steps(self) -> Iterator[Step]:
        """Return the unit alone, what stops the spark, each output, what keeps the starter still, and own feeds."""
        yield from unit_alone(self._laid)
        yield from self._spark()
        for wired in in_order(self._early()):
            yield from self._on(wired) if isinstance(wired, WiredOutput) else ()
        yield from LockOutSteps(self._laid, self._working, self._measured).steps()
        for fed in in_order(self._job.loads.fed):
            if isinstance(fed, FedLoad) and not self._working.needs_engine((fed.consumer,)):
                yield self._measured.fed_on(fed, PART)

    def _early(self) -> list[WiredOutput]:
        """Return the circuits that are on before the engine runs; the starter's is tried by itself."""
        return [
            wired
            for wired in self._laid.outputs
            if START not in wired.circuit.modes and not self._working.needs_engine(wired.circuit.members)
        ]

    def _spark(self) -> Iterator[Step]:
        """Return what the engine runs by: live, then dead by each thing that must stop it."""
        sparking = [wired for wired in self._early() if drives_engine(wired.circuit)]
        if not sparking:
            return
        runners = [_runner(wired) for wired in sparking]
        names, plugs = listed([load.name for load in runners]), listed(list(map(_plug, runners)))
        key_on = ", ".join(("Key on", *self._working.may_run()))
        again = "plugs; write the highest" if len(runners) > 1 else "plug"
        yield Step(
            PART,
            f"{capital(names)}: live",
            f"{amperes(FIRST_FUSE)} fuse; no load plugged in. {key_on}. Volts in {plugs}.{_never_earthed(sparking)}",
            "supply and voltage",
            "the battery's own voltage",
            "nothing: open, or the unit is not set as the sheet of settings says",
            loses=UNLOADED,
        )
        for who, how in self._stopping():
            yield Step(
                PART,
                f"{who} stops {names}",
                f"{how}. Volts in the same {again}.",
                "voltage",
                "dead",
                "do not start this engine: check switch, wire and setting",
                within=DEAD,
            )

    def _stopping(self) -> Iterator[tuple[str, str]]:
        """Return each thing that must stop the engine, and how it is made to, by itself."""
        gear = "in gear, clutch pulled" if self._job.bike.clutch == "lever" else "in gear"
        for switch in self._working.telling("engine stop"):
            yield switch.name, f"Key on, {switch.name} to stop" + _open_wire(switch, "back to run")
        run = "".join(f"{switch.name} to run, " for switch in self._working.telling("engine stop"))
        for switch in self._working.telling("side stand"):
            yield switch.name, capital(f"{run}{gear}, side stand down") + _open_wire(switch, "stand up")
        for switch in self._working.telling("fallen"):
            yield switch.name, capital(f"{run}in neutral, {switch.name} tipped over")
        for switch in self._working.telling("key"):
            yield switch.name, capital(f"{run}key off") + _open_wire(switch, "key on")

    def _on(self, wired: WiredOutput) -> Iterator[Step]:
        """Return the step in which an output is on; a brake lamp is tried by each of its switches."""
        members = wired.circuit.members
        if not drawing(wired):
            return
        switches = self._working.switches(members) if group_of(wired) == BRAKE else []
        for switch in switches:
            names = listed([load.name for load in wired.circuit.loads])
            how = f"{alone(wired)} Operate {switch.name} by itself"
            yield self._measured.output_on(wired, PART, how, f"{names}, by {switch.name}")
        if not switches:
            runs = self._working.may_run() if drives_engine(wired.circuit) else ()
            how = capital(", ".join((self._working.how(members), *runs)))
            yield self._measured.output_on(wired, PART, f"{alone(wired)} {how}")


def _runner(wired: WiredOutput) -> Consumer:
    """Return the load of a circuit without which the engine stops."""
    return next(load for load in wired.circuit.members if load.part in RUNNING_ENGINE)


def _plug(load: Consumer) -> str:
    return f"the {'low-voltage ' * (load.switched_by is not None)}plug of {load.name}"


def _never_earthed(sparking: Sequence[WiredOutput]) -> str:
    coils = [load for wired in sparking for load in wired.circuit.members if load.switched_by]
    return "".join(f" {load.name}: {load.other_end}, never to earth." for load in coils)


def _open_wire(switch: Switch, otherwise: str) -> str:
    """Say that the switch's plug is pulled, where an open wire stops the engine."""
    return f"; then {otherwise}, its plug pulled" if stops_when_open(switch) else ""

"""What a powered step expects of its load, and the steps that read it.

This is the one place that says what a step's current and voltage should be: those of its own case, on the wires that
are cut. A circuit by itself has the fuse that its step names in place of the main fuse; the unit's own current, some
tens of milliamperes, loses next to nothing and is left out. With the engine running all flows that is on by itself.
"""

from collections.abc import Iterable, Iterator, Sequence
from fractions import Fraction

from portloom.base.drop import MicroVolts, fuse_drop
from portloom.base.figures import amperes, capital, listed
from portloom.base.fuses import SMALL_FUSE, fuse_for
from portloom.base.quantities import MilliAmps, MilliVolts
from portloom.documents.handover.coming_on import OperatingSteps
from portloom.documents.handover.steps import PRINTED_FOR, Expected, Step, TestPart, draw_of
from portloom.documents.notes import as_sentences, notes_of_loads
from portloom.documents.wiring.lines import relay_name
from portloom.job.cases import Case
from portloom.job.consumers import Consumer, FedLoad
from portloom.job.drops import Drops
from portloom.job.flow import Draws, drawn_at
from portloom.job.job import Job
from portloom.job.laid import Laid
from portloom.job.wired import WiredOutput

POINTS = "points"
WRONG = "more: a short; none: open, or the wrong port; fewer volts: a bad joint"
NO_VOLTS = WRONG.partition("; fewer")[0]
RUNNING: TestPart = "engine running"


def driven(load: Consumer) -> bool:
    """Tell whether a box or controller drives a coil, which then draws nothing while the engine stands."""
    return load.switched_by not in (None, POINTS)


def drawing(wired: WiredOutput) -> list[Consumer]:
    """Return the loads of a circuit that draw while the engine stands."""
    return [load for load in wired.circuit.loads if not driven(load)]


def expected_of(job: Job, loads: Sequence[Consumer]) -> Expected:
    """Return the current that loads draw together."""
    return Expected(tuple(draw_of(load, job.bike.supply.running) for load in loads))


def least_fuse(trip: MilliAmps) -> MilliAmps:
    """Return the least fuse that is above an output's trip: a fault that the output passes blows it."""
    return fuse_for(MilliAmps(0), trip) or trip


def alone(wired: WiredOutput) -> str:
    """Say that a circuit is tried by itself, and on which fuse."""
    these = "this" if len(drawing(wired)) == 1 else "these"
    return f"{amperes(least_fuse(wired.trip))} fuse; plug in {these} alone."


class MeasuredSteps:
    """The steps that read the loads of one plan."""

    def __init__(self, laid: Laid, working: OperatingSteps) -> None:
        """Take the plan as it lies, and what makes its loads come on."""
        self._job = laid.site.job
        self._working = working
        self._main_fuse = laid.site.main_fuse
        self._standing = Drops(laid, _without_driven(drawn_at(self._job, PRINTED_FOR)))
        self._riding = Drops(laid, drawn_at(self._job, self._job.bike.supply.running))

    # --- steps

    def output_on(self, wired: WiredOutput, part: TestPart, how: str, title: str = "") -> Step:
        """Return the step in which an output is on: its current, and the voltage that reaches its farthest load."""
        running = part == RUNNING
        loads = wired.circuit.loads if running else drawing(wired)
        lost = self.lost(wired, part)
        farthest = max(lost, key=lambda name: lost[name])
        at = "the load" if len(loads) == 1 else farthest
        return Step(
            part,
            title or listed([load.name for load in loads]),
            f"{capital(how)}. {_amperes_of(wired)}, volts at {at}.{_of_coils(loads)}{self._noted(loads)}",
            "current and voltage",
            if_not=WRONG,
            port=wired.output.name,
            expected=expected_of(self._job, loads),
            loses=lost[farthest],
            supply=self._job.bike.supply.running if running else PRINTED_FOR,
        )

    def fed_on(self, fed: FedLoad, part: TestPart) -> Step:
        """Return the step in which a load that is fed past the unit is on."""
        load, running = fed.consumer, part == RUNNING
        fuse = amperes(fuse_for(load.current) or MilliAmps(0))
        relay = f", {relay_name(load.name)} in its socket" if fed.by == "relay" else ""
        plug = "" if running else f"{fuse} fuse in its own holder{relay}; plug in this alone. "
        drops = self._riding if running else self._standing
        return Step(
            part,
            load.name,
            f"Bypasses the unit. {plug}{capital(self._working.how((load,)))}. "
            f"Amperes in its wire, volts at the load.{self._noted([load])}",
            "current and voltage",
            if_not=WRONG,
            expected=expected_of(self._job, [load]),
            loses=drops.of(load, self._case((load,), part)),
            supply=self._job.bike.supply.running if running else PRINTED_FOR,
        )

    def _noted(self, loads: Iterable[Consumer]) -> str:
        return as_sentences(notes_of_loads(self._job.bike, (load.name for load in loads)))

    # --- what is lost on the way, in the case of a step

    def lost(self, wired: WiredOutput, part: TestPart) -> dict[str, Fraction]:
        """Return what is lost on the way to each load of an output in its step, in microvolts.

        What a diode feeds as well is no place to read: the diode takes 0.7 V more.
        """
        members = wired.circuit.members
        case = self._case(members, part)
        if part == RUNNING:
            return {load.name: self._riding.on_output(wired, load, case) for load in members}
        draws = _without_driven(drawn_at(self._job, PRINTED_FOR))
        more = self._more_on_small_fuse(wired, MilliAmps(sum(map(draws, wired.circuit.loads))))
        return {load.name: self._standing.on_output(wired, load, case) + more for load in members if not driven(load)}

    def _case(self, members: Sequence[Consumer], part: TestPart) -> Case:
        """Return what is on in a step: these loads alone, or with all that is on by itself with the engine running."""
        names = [load.name for load in members]
        if part != RUNNING:
            return self._job.case_with(names, "key on")
        state = "day" if any("day" in load.when for load in members) else "night"
        return self._job.case_with(dict.fromkeys((*names, *self._on_by_itself(state, members))), state)

    def _on_by_itself(self, state: str, members: Sequence[Consumer]) -> Iterator[str]:
        """Return what is on in a state with no hand at a switch, and is not put out by these loads."""
        out = {load.name for load in members}
        for load in (*self._job.loads.on_unit, *(fed.consumer for fed in self._job.loads.fed)):
            if load.name not in out and self._working.on_by_itself(load, state):
                yield load.name

    def _more_on_small_fuse(self, wired: WiredOutput, current: MilliAmps) -> Fraction:
        """Return what the fuse of the step loses more than the main fuse would: a smaller fuse loses more."""
        fuse, assume = least_fuse(wired.trip), self._job.assume
        at_rating = MilliVolts(assume["small fuse drop" if fuse <= SMALL_FUSE else "fuse drop"])
        main = MicroVolts(Fraction(0))
        if self._main_fuse is not None:
            main = fuse_drop(MilliVolts(assume["main fuse drop"]), self._main_fuse, current)
        return fuse_drop(at_rating, fuse, current) - main


def _without_driven(draws: Draws) -> Draws:
    """Return what loads draw while the engine stands."""
    return lambda load: MilliAmps(0) if driven(load) else draws(load)


def _amperes_of(wired: WiredOutput) -> str:
    flashes = ", while it is lit" if "flash" in wired.circuit.modes else ""
    full = ", set to 100 % for this" if "dim" in wired.circuit.modes else ""
    return f"Amperes in the wire of {wired.output.name}{flashes}{full}"


def _of_coils(loads: Sequence[Consumer]) -> str:
    """Say how coils that points switch are read: with the engine still they cook."""
    if not any(load.switched_by == POINTS for load in loads):
        return ""
    return " Key off as soon as it is read, or it cooks. No current: key off, turn the engine a little."

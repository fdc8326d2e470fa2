"""Bench steps with everything plugged in, on the main fuse of the plan; the engine still cannot start."""

from collections.abc import Iterator

from portloom.base.figures import amperes, listed, with_verb
from portloom.base.parts.loads import DISPLAYS, RUNNING_ENGINE, TAIL_LAMP
from portloom.base.quantities import MilliAmps
from portloom.documents.energy import on_asleep
from portloom.documents.handover.coming_on import OperatingSteps
from portloom.documents.handover.displays import DisplaySteps
from portloom.documents.handover.groups import BRAKE, HORN, SIDES
from portloom.documents.handover.heads import kept_unplugged
from portloom.documents.handover.steps import Step, TestPart
from portloom.documents.wiring.lines import coils
from portloom.job.laid import Laid

PART: TestPart = "everything plugged in"


class PluggedInSteps:
    """The steps for one plan."""

    def __init__(self, laid: Laid, working: OperatingSteps) -> None:
        """Take the plan as it lies, and what makes its loads come on."""
        self._laid = laid
        self._job = laid.site.job
        self._working = working

    def steps(self) -> Iterator[Step]:
        """Return the main fuse; what must work though the engine is stopped; hazard; what dashes show."""
        yield self._main_fuse()
        yield from self._engine_stopped()
        yield from self._hazard()
        yield from DisplaySteps(self._laid, self._working).steps(PART)

    def _main_fuse(self) -> Step:
        fuse = amperes(self._laid.site.main_fuse or MilliAmps(0))
        asleep = [load.name for load in on_asleep(self._job)]
        off = kept_unplugged(self._laid)
        return Step(
            PART,
            "Main fuse",
            f"Battery off. Plug everything in{f' but {listed(off)}' * bool(off)}. Fit every fuse, the main fuse of "
            f"{fuse} last. Battery on, key off.",
            "see",
            f"nothing{f' but {listed(asleep)}' * bool(asleep)} comes on by itself, nothing gets warm",
            "battery off; find what is live before you go on",
        )

    def _engine_stopped(self) -> Iterator[Step]:
        """What shows the rider must not go out with the engine."""
        shows = (*BRAKE, TAIL_LAMP.name, *SIDES, *HORN)
        relays = coils(self._job)
        names = [load.name for load in self._job.loads.wired if load.part in shows and load.name not in relays]
        for switch in self._working.telling("engine stop"):
            if names:
                yield Step(
                    PART,
                    f"Works with {switch.name} at stop",
                    f"Key on, {switch.name} to stop. Try {listed(names)}, the brakes one by one.",
                    "see",
                    f"all work{''.join(self._dark())}",
                    "it hangs on the engine's switch: never ride so; check output and setting",
                )

    def _dark(self) -> Iterator[str]:
        """Say which display goes dark with the engine, for it shares with what runs it."""
        for wired in self._laid.outputs:
            engine = [load.name for load in wired.circuit.members if load.part in RUNNING_ENGINE]
            dark = [load.name for load in wired.circuit.members if load.part in DISPLAYS]
            if engine and dark:
                yield f"; {with_verb(listed(dark), 'is')} dark, sharing {wired.output.name} with {listed(engine)}"

    def _hazard(self) -> Iterator[Step]:
        """A switch that works both sides; the current of each side was read before."""
        for switch in self._working.switches(self._job.loads.on_unit):
            works = [load for load in self._job.loads.wired if load.name in switch.operates]
            if {load.part for load in works}.issuperset(SIDES):
                names = listed([load.name for load in works])
                yield Step(
                    PART,
                    f"All indicators, by {switch.name}",
                    f"Operate {switch.name}.",
                    "see",
                    f"{names} flash",
                    "one side only, or nothing: check the switch's setting",
                )

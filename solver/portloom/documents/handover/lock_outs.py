"""Bench steps by which the starter must click, and must not: its motor's cable is off, so that nothing turns.

In neutral, or in gear with the clutch pulled and the side stand up; where neither is told, with a brake on; never with
the engine stop at stop. Of each only what the bike has a switch for. Common practice, no source.
"""

from collections.abc import Iterator

from portloom.base.figures import amperes, capital, listed
from portloom.base.vocabulary import START
from portloom.documents.handover.coming_on import OperatingSteps
from portloom.documents.handover.measured import MeasuredSteps, least_fuse
from portloom.documents.handover.steps import Step, TestPart
from portloom.job.laid import Laid
from portloom.job.wired import WiredOutput
from portloom.rules.practice import wanted_to_crank
from portloom.rules.shapes import BRAKES

PART: TestPart = "one circuit at a time"


class LockOutSteps:
    """The steps for one plan."""

    def __init__(self, laid: Laid, working: OperatingSteps, measured: MeasuredSteps) -> None:
        """Take the plan as it lies, what makes its loads come on, and what reads them."""
        self._measured = measured
        self._outputs = [wired for wired in laid.outputs if START in wired.circuit.modes]
        self._working = working
        self._told = frozenset(wanted_to_crank(laid.site.job.bike))
        self._brakes = [] if {"neutral", "clutch"} & self._told else [one for one in BRAKES if working.told(one)]
        """Where neither neutral nor clutch is told, as with an automatic, a brake allows a start."""
        self._up = ", side stand up" * ("side stand" in self._told)

    def steps(self) -> Iterator[Step]:
        """Return each state that allows a start, each that forbids it, and the first of those that allow it again."""
        for wired in self._outputs:
            yield self._cable_off(wired)
            allowed = list(self.allowed())
            for state in allowed:
                do, title = f"{state}: {self._button(wired)}", f"Must click: {_short(state)}"
                yield self._measured.output_on(wired, PART, do, title)
            for title, state in self._forbidden(allowed[0]):
                yield self._seen(wired, f"Must not click: {title}", state, "stays still; no click")
            yield self._seen(wired, f"Must click again: {_short(allowed[0])}", allowed[0], "clicks as before")

    def _cable_off(self, wired: WiredOutput) -> Step:
        stop = "".join(f", {switch.name} to run" for switch in self._working.telling("engine stop"))
        return Step(
            PART,
            "Starter motor's cable off",
            "Battery off. Take the starter motor's thick cable off, insulate its end, tie it back. "
            f"{amperes(least_fuse(wired.trip))} fuse; plug in {_names(wired)}. Battery on, key on{stop}.",
            "see",
            "the cable touches nothing, and nothing clicks by itself",
            "it clicks by itself: battery off; its button or its output is live",
        )

    def allowed(self) -> Iterator[str]:
        """Return each state in which the unit lets the engine be cranked, as people set it."""
        neutral, clutch = "neutral" in self._told, "clutch" in self._told
        if neutral:
            yield "in neutral" + (", clutch let out" if clutch else self._up)
        if clutch:
            yield f"in gear, clutch pulled{self._up}"
        if not neutral and not clutch:
            states = [f"{brake} on{self._up}" for brake in self._brakes]
            yield from states or [self._up.removeprefix(", ") or "with all that allows a start"]

    def _forbidden(self, allowed: str) -> Iterator[tuple[str, str]]:
        """Return each state in which one thing is amiss and the others are as they should be."""
        stand = "side stand" in self._told
        if "clutch" in self._told:
            yield "clutch let out", f"in gear, clutch let out{self._up}"
        elif "neutral" in self._told:
            yield "in gear", f"in gear{self._up}"
        elif self._brakes:
            yield "no brake on", f"no brake on{self._up}"
        if stand:
            how = "in gear, clutch pulled" if "clutch" in self._told else allowed.removesuffix("side stand up")
            yield "side stand down", ", ".join(filter(None, (how.removesuffix(", "), "side stand down")))
        for switch in self._working.telling("engine stop"):
            yield f"{switch.name} to stop", f"{allowed}, {switch.name} to stop"

    def _seen(self, wired: WiredOutput, title: str, state: str, must: str) -> Step:
        wrong = "it clicks: do not start this bike; check switch, wire and setting"
        if "again" in title:
            wrong = "it does not: something stayed locked out, so the steps before proved nothing"
        run = "".join(f", {switch.name} to run" for switch in self._working.telling("engine stop")) * ("again" in title)
        do = f"{capital(state)}{run}: {self._button(wired)}."
        return Step(PART, title, do, "see", f"{_names(wired)} {must}", wrong, wired.output.name)

    def _button(self, wired: WiredOutput) -> str:
        return self._working.how(wired.circuit.members)


def _names(wired: WiredOutput) -> str:
    return listed([load.name for load in wired.circuit.loads])


def _short(state: str) -> str:
    return state.removesuffix(", side stand up").removesuffix(", clutch let out")

"""Bench steps with power: first through a small fuse with every output off, then one thing at a time."""

from collections.abc import Iterable, Iterator, Sequence

from solver.electrics.fuses import fuse_for
from solver.handover.drafts import Draft
from solver.handover.expected import Expected, draw_of
from solver.handover.steps import Part
from solver.job.circuits import OutputCircuit
from solver.job.consumers import Consumer
from solver.job.laid import Laid
from solver.job.wired import WiredOutput
from solver.rules.engine_stop import drives_engine
from solver.words.bike import Part as LoadPart
from solver.words.bike import Switch
from solver.words.figures import amperes, listed
from solver.words.quantities import MilliAmps

FIRST: Part = "first power"
ONE: Part = "one at a time"
FIRST_FUSE = MilliAmps(5000)
"""The fuse for first power: it blows before a loom with a fault burns. Source: common practice, no source."""
LAMPS: tuple[LoadPart, ...] = ("dipped beam", "main beam", "daytime lamp", "position lamp", "tail lamp", "plate lamp")
INDICATORS: tuple[LoadPart, ...] = ("left indicator", "right indicator")


class Powered:
    """The steps with power for one plan."""

    def __init__(self, laid: Laid) -> None:
        """Take the plan as it lies."""
        self._laid = laid
        self._job = laid.site.job
        self._running = self._job.bike.supply.running
        self._awake = MilliAmps(-(-(self._job.unit.feed.awake or 0) // 1000))

    def steps(self) -> Iterator[Draft]:
        """Give first power, then engine stop, brake lamp, lamps, indicators, horn, the rest, start, charging, rest."""
        yield from self._first_power()
        circuits = list(self._laid.outputs)
        for group in (drives_engine, _brake, _lamps, _indicators, _horn, _anything):
            here = [wired for wired in circuits if group(wired.circuit)]
            circuits = [wired for wired in circuits if wired not in here]
            if group is drives_engine:
                yield from self._engine_stop(here)
            elif group is _brake:
                yield from (step for wired in here for step in self._by_each_switch(wired))
            else:
                yield from (self._on(wired) for wired in here if "start" not in wired.circuit.modes)
            if group is _indicators:
                yield from self._hazard(here)
        yield from self._fed()
        yield from self._starting()
        yield from self._charging()
        yield self._at_rest()

    def _expected(self, loads: Iterable[Consumer]) -> Expected:
        return Expected(tuple(draw_of(load, self._running) for load in loads))

    # --- first power

    def _first_power(self) -> Iterator[Draft]:
        fuse = amperes(FIRST_FUSE)
        yield Draft(
            FIRST,
            "Unit alone",
            f"A {fuse} fuse in place of the main fuse, every output off, key off. Plug the unit in, then the battery: "
            "positive lead first, negative last. Read the current in the negative lead.",
            "current",
            f"{_milli(self._job.unit.feed.standby)} asleep; if the {fuse} fuse blows, there is a short in the feed",
        )
        yield Draft(
            FIRST,
            "Unit awake",
            "Turn the key on, every output still off. Read the current in the negative lead.",
            "current",
            expected=Expected((), self._awake),
        )
        fuse_of_plan = amperes(self._laid.site.main_fuse or MilliAmps(0))
        yield Draft(
            FIRST,
            "Main fuse",
            f"Battery off. Plug in what was unplugged. Fit the main fuse of {fuse_of_plan}; battery on again.",
            "see",
            "nothing comes on by itself, nothing gets warm",
        )

    # --- one at a time

    def _on(self, wired: WiredOutput, how: str | None = None, title: str = "") -> Draft:
        loads = wired.circuit.loads
        flashes = ", while it is lit" if "flash" in wired.circuit.modes else ""
        return Draft(
            ONE,
            title or listed([load.name for load in loads]),
            f"{how or self._how(wired.circuit)}. Read the current in the wire of {wired.output.name}{flashes}.",
            "current and voltage",
            port=wired.output.name,
            expected=self._expected(loads),
            loses=max(wired.first_drops().values()),
        )

    def _how(self, circuit: OutputCircuit) -> str:
        switches = _working_least(self._job.bike.inputs, [load.name for load in circuit.members])
        if switches:
            return f"Work {' or '.join(switches)}"
        when = [state for state in ("key on", "day", "night") if any(state in x.when for x in circuit.members)]
        return "Turn the key on" if "key on" in when else "Let the engine run" if when else "Let it come on"

    def _by_each_switch(self, wired: WiredOutput) -> Iterator[Draft]:
        for switch in self._job.bike.inputs:
            if any(load.name in switch.operates for load in wired.circuit.members):
                name = listed([load.name for load in wired.circuit.loads])
                yield self._on(wired, f"Work {switch.name} by itself", f"{name}, by {switch.name}")

    def _engine_stop(self, running: Sequence[WiredOutput]) -> Iterator[Draft]:
        """Of what keeps the engine running, first that it stops, then what it draws."""
        for switch in self._telling("engine stop"):
            yield from (_dead(wired, f"{switch.name} stops", f"Key on, {switch.name} to stop") for wired in running)
        for switch in self._telling("side stand"):
            how = "Engine running on the rear stand, wheel free, clutch pulled, in gear: side stand down"
            yield from (_dead(wired, f"{switch.name} stops", how) for wired in running)
        for wired in running:
            yield self._on(wired, "Engine stop to run; let it come on as it does when the engine starts")

    def _hazard(self, sides: Sequence[WiredOutput]) -> Iterator[Draft]:
        """A switch that works both sides; the current of each side was read before."""
        loads = [load for wired in sides for load in wired.circuit.members]
        for switch in self._job.bike.inputs:
            works = [load for load in loads if load.name in switch.operates]
            if {load.part for load in works}.issuperset(INDICATORS):
                names = listed([load.name for load in works])
                yield Draft(ONE, f"All indicators, by {switch.name}", f"Work {switch.name}.", "see", f"{names} flash")

    def _fed(self) -> Iterator[Draft]:
        for fed in self._job.loads.fed:
            fuse = amperes(fuse_for(fed.consumer.current) or MilliAmps(0))
            by = "let its relay pull" if fed.by == "relay" else "work its own switch, if it has one"
            yield Draft(
                ONE,
                fed.consumer.name,
                f"Fed past the unit through a fuse of {fuse}: {by}. Read the current in its wire.",
                "current",
                expected=self._expected([fed.consumer]),
            )

    # --- start, charging, rest

    def _starting(self) -> Iterator[Draft]:
        for wired in self._laid.outputs:
            if "start" in wired.circuit.modes:
                button = self._how(wired.circuit).removeprefix("Work ")
                yield from self._may_not_start(wired, button)
                neutral = "In neutral" if any(self._telling("neutral")) else "With all that allows a start"
                yield self._on(wired, f"{neutral}, {button} worked; the starter turns as well", "Start, as it should")

    def _may_not_start(self, wired: WiredOutput, button: str) -> Iterator[Draft]:
        ways: tuple[tuple[str, str], ...] = (
            ("clutch", "In gear, side stand up, clutch let out"),
            ("side stand", "In gear, clutch pulled, side stand down"),
        )
        for told, how in ways:
            if any(self._telling(told)):
                yield Draft(
                    ONE,
                    f"No start: {told}",
                    f"On the rear stand, wheel free. {how}: work {button}.",
                    "see",
                    f"{listed([load.name for load in wired.circuit.members])} must stay dead",
                    wired.output.name,
                )

    def _telling(self, what: str) -> Iterator[Switch]:
        return (switch for switch in self._job.bike.inputs if what in switch.tells)

    def _charging(self) -> Iterator[Draft]:
        if self._job.bike.supply.charging is not None:
            yield Draft(
                ONE,
                "Charging",
                "Engine running well above idle, nothing on that need not be. Read the voltage at the battery.",
                "voltage",
                f"about {self._running / 1000:g} V, never above 15 V (common practice, no source)",
            )

    def _at_rest(self) -> Draft:
        asleep = [load.name for load in self._job.loads.on_unit if "asleep" in self._job.states_of(load)]
        more = f", with {listed(asleep)} live" if asleep else ""
        return Draft(
            ONE,
            "Key off",
            f"Last: key off, wait until the unit sleeps{more}. Read the current in the negative lead.",
            "current",
            f"{_milli(self._job.unit.feed.standby)} for the unit" + (" and what is live" if asleep else ""),
        )


def _dead(wired: WiredOutput, who: str, how: str) -> Draft:
    """Give a step in which an output must be off."""
    names = listed([load.name for load in wired.circuit.loads])
    do = f"{how}. Read the current in the wire of {wired.output.name}."
    return Draft(ONE, f"{who} {names}", do, "current", "dead", wired.output.name, Expected(()))


def _milli(micro: int | None) -> str:
    return "what its maker says" if micro is None else f"about {micro / 1000:g} mA"


def _working_least(switches: Sequence[Switch], loads: Sequence[str]) -> list[str]:
    """Give the switches that work any of some loads, those only that work the fewest loads beside them."""
    working = [switch for switch in switches if set(loads) & set(switch.operates)]
    least = min((len(switch.operates) for switch in working), default=0)
    return [switch.name for switch in working if len(switch.operates) == least]


# --- groups, in the order in which they are tested


def _brake(circuit: OutputCircuit) -> bool:
    return any(load.part == "brake lamp" for load in circuit.members)


def _lamps(circuit: OutputCircuit) -> bool:
    return any(load.part in LAMPS for load in circuit.members)


def _indicators(circuit: OutputCircuit) -> bool:
    return any(load.part in INDICATORS for load in circuit.members)


def _horn(circuit: OutputCircuit) -> bool:
    return any(load.part == "horn" for load in circuit.members)


def _anything(circuit: OutputCircuit) -> bool:
    return bool(circuit.members)

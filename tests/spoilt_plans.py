"""Ways to spoil a plan of the Harbour Trail, one thing at a time, and the rule that tells each."""

from collections.abc import Callable
from dataclasses import dataclass, replace
from typing import TypeVar

from outcomes import reseated
from portloom.base.quantities import Micrometres, MilliAmps
from portloom.base.sizes import parse_size
from portloom.job.assignment import Assignment, OnInput, OnMultiplexer, OnOutput, OnWay, Room
from portloom.job.fixed_wires import FixedWire
from portloom.job.goal import Cost
from portloom.job.network import Run

Line = TypeVar("Line", OnInput, OnOutput, FixedWire)
Change = Callable[[Assignment], Assignment]


@dataclass(frozen=True)
class Spoilt:
    """What is done to a plan, and the rule that must tell it."""

    about: str
    rule: str
    change: Change

    def __str__(self) -> str:
        return f"{self.about}: {self.rule}"


def named(line: OnInput | OnOutput | FixedWire) -> str:
    """Return the first load or switch of a line, or the name of a wire that no plan changes."""
    match line:
        case OnOutput():
            return line.loads[0]
        case OnInput():
            return line.switches[0]
        case FixedWire():
            return line.name


def one(plan: Assignment, name: str) -> OnOutput:
    """Return the output whose first load is ``name``."""
    return next(line for line in plan.outputs if named(line) == name)


def changed(lines: tuple[Line, ...], name: str, change: Callable[[Line], tuple[Line, ...]]) -> tuple[Line, ...]:
    """Put what ``change`` gives in the place of the line called ``name``, which must be there."""
    assert any(named(line) == name for line in lines)
    return tuple(new for line in lines for new in (change(line) if named(line) == name else (line,)))


def left_out(_: object) -> tuple[()]:
    """Leave a line out."""
    return ()


def output(name: str, change: Callable[[OnOutput], tuple[OnOutput, ...]]) -> Change:
    """Change one output."""
    return lambda plan: reseated(plan, outputs=changed(plan.outputs, name, change))


def input_(name: str, change: Callable[[OnInput], tuple[OnInput, ...]]) -> Change:
    """Change one input."""
    return lambda plan: reseated(plan, inputs=changed(plan.inputs, name, change))


def fixed(name: str, change: Callable[[FixedWire], tuple[FixedWire, ...]]) -> Change:
    """Change one wire that no plan changes."""
    return lambda plan: replace(plan, fixed_wires=changed(plan.fixed_wires, name, change))


ALSO = OnWay("engine stop switch", Run(Micrometres(450_000), (2,)))


def box(change: Callable[[OnMultiplexer], OnMultiplexer]) -> Change:
    """Change the one multiplexer."""
    return lambda plan: reseated(plan, multiplexers=tuple(change(line) for line in plan.multiplexers))


def swapped(name: str, other: str) -> Change:
    """Let two circuits change places."""

    def swap(plan: Assignment) -> Assignment:
        ports = {name: one(plan, other).port, other: one(plan, name).port}
        lines = (replace(line, port=ports.get(named(line), line.port)) for line in plan.outputs)
        return reseated(plan, outputs=tuple(lines))

    return swap


def switched(name: str, other: str) -> Change:
    """Let two switches change places."""

    def swap(plan: Assignment) -> Assignment:
        port = {named(line): line.port for line in plan.inputs}
        ports = {name: port[other], other: port[name]}
        lines = (replace(line, port=ports.get(named(line), line.port)) for line in plan.inputs)
        return reseated(plan, inputs=tuple(lines))

    return swap


def legs(run: Run, *numbers: int) -> Run:
    """Return a run with other legs, as long as before."""
    return Run(run.length, tuple(sorted(numbers)))


def room(*rooms: tuple[str, str]) -> Change:
    """Return other room for later loads: the load, and the first load of the output or a port's own name."""

    def change(plan: Assignment) -> Assignment:
        ports = {named(line): line.port for line in plan.outputs}
        return reseated(plan, room_for=tuple(Room(load, ports.get(port, port)) for load, port in rooms))

    return change


def also_lit(plan: Assignment) -> Assignment:
    """Hang the brake lamp on the small lamps' output, its own wire taken away."""
    lines = tuple(line for line in plan.outputs if named(line) != "brake lamp")
    joined = changed(lines, "position lamp", lambda line: (replace(line, loads=(*line.loads, "brake lamp")),))
    return reseated(plan, outputs=joined)


SPOILT = (
    Spoilt("a place that is not there", "cover", lambda plan: reseated(plan, place="under the tank bag")),
    Spoilt("turned round, the wires left", "cover", lambda plan: reseated(plan, turned=not plan.only.turned)),
    Spoilt("a main fuse a step too large", "main-fuse", lambda plan: reseated(plan, main_fuse=MilliAmps(50_000))),
    # Circuits and outputs.
    Spoilt("a circuit left out", "cover", output("fuel pump", left_out)),
    Spoilt("a load left out", "cover", output("position lamp", lambda line: (replace(line, loads=line.loads[:-1]),))),
    Spoilt(
        "a tell-tale left out",
        "cover",
        output("front left indicator", lambda line: (replace(line, loads=line.loads[:2]),)),
    ),
    Spoilt(
        "a load named twice",
        "cover",
        output("ignition coil", lambda line: (replace(line, loads=("ignition coil",) * 2),)),
    ),
    Spoilt(
        "a load that is not there", "cover", output("ignition coil", lambda line: (replace(line, loads=("fog lamp",)),))
    ),
    Spoilt(
        "a load on two outputs", "cover", output("ignition coil", lambda line: (line, replace(line, port="out 10")))
    ),
    Spoilt(
        "an output that is not there", "outputs", output("ignition coil", lambda line: (replace(line, port="out 12"),))
    ),
    Spoilt("an output used twice", "outputs", output("ignition coil", lambda line: (line, line))),
    Spoilt("indicators on an output that can't flash", "mode", swapped("front left indicator", "position lamp")),
    Spoilt("the brake lamp beside others", "share", also_lit),
    Spoilt("a trip too high", "wire", output("ignition coil", lambda line: (replace(line, trip=MilliAmps(8000)),))),
    Spoilt("a trip too low", "wire", output("dipped beam", lambda line: (replace(line, trip=MilliAmps(5000)),))),
    Spoilt(
        "a wire too thick", "wire", output("ignition coil", lambda line: (replace(line, size=parse_size("1 mm2")),))
    ),
    Spoilt(
        "a wire too thin", "wire", output("ignition coil", lambda line: (replace(line, size=parse_size("0.35 mm2")),))
    ),
    # Their wires.
    Spoilt(
        "a leg torn out",
        "cover",
        output("position lamp", lambda line: (replace(line, run=legs(line.run, *line.run.legs[1:])),)),
    ),
    Spoilt("a leg too many", "cover", output("main beam", lambda line: (replace(line, run=legs(line.run, 0, 12)),))),
    Spoilt(
        "legs in a ring", "cover", output("main beam", lambda line: (replace(line, run=legs(line.run, 0, 3, 7, 8)),))
    ),
    Spoilt(
        "a length a micrometre off",
        "cover",
        output(
            "ignition coil", lambda line: (replace(line, run=Run(Micrometres(line.run.length + 1), line.run.legs)),)
        ),
    ),
    # Inputs.
    Spoilt("a switch left out", "cover", input_("engine stop switch", left_out)),
    Spoilt(
        "one of two switches left out",
        "cover",
        input_("dip switch", lambda line: (replace(line, switches=("dip switch",)),)),
    ),
    Spoilt(
        "a switch on two inputs",
        "cover",
        input_("engine stop switch", lambda line: (line, replace(line, port="in 10"))),
    ),
    Spoilt(
        "an input that is not there",
        "inputs",
        input_("engine stop switch", lambda line: (replace(line, port="in 15"),)),
    ),
    Spoilt("an input used twice", "inputs", input_("engine stop switch", lambda line: (line, line))),
    Spoilt(
        "a switch that is not there",
        "inputs",
        input_("engine stop switch", lambda line: (replace(line, switches=("fob",)),)),
    ),
    Spoilt(
        "a switch on an input and on a multiplexer", "cover", box(lambda line: replace(line, ways=(*line.ways, ALSO)))
    ),
    # Multiplexers.
    Spoilt("a switch off its multiplexer", "cover", box(lambda line: replace(line, ways=line.ways[:-1]))),
    Spoilt("a multiplexer that stands nowhere", "multiplexer", box(lambda line: replace(line, at="tail"))),
    Spoilt("a multiplexer on an input in use", "inputs", box(lambda line: replace(line, port="in 13"))),
    Spoilt("a multiplexer with nothing on it", "multiplexer", box(lambda line: replace(line, ways=()))),
    Spoilt("a multiplexer twice", "multiplexer", lambda plan: reseated(plan, multiplexers=plan.multiplexers * 2)),
    Spoilt("a multiplexer's return left out", "cover", fixed("headstock", left_out)),
    Spoilt("a multiplexer left out", "cover", lambda plan: reseated(plan, multiplexers=())),
    Spoilt(
        "a multiplexer on a wire that leads elsewhere",
        "cover",
        box(lambda line: replace(line, run=legs(line.run, 0))),
    ),
    Spoilt("a pulse on an input that counts none", "signal", switched("engine speed signal", "neutral switch")),
    Spoilt(
        "a switch's leg torn out",
        "cover",
        input_("side stand switch", lambda line: (replace(line, run=legs(line.run, *line.run.legs[:-1])),)),
    ),
    # Wires that no plan changes.
    Spoilt("a return left out", "cover", fixed("tail", left_out)),
    Spoilt(
        "a return to no earth",
        "cover",
        fixed("tail", lambda wire: (replace(wire, ends=("tail", "tail"), run=Run(Micrometres(0), ())),)),
    ),
    Spoilt(
        "a return too many",
        "cover",
        fixed(
            "tail",
            lambda wire: (
                wire,
                replace(wire, name="tank", ends=("tank", "tray"), run=Run(Micrometres(390_000), (5, 6))),
            ),
        ),
    ),
    Spoilt(
        "a feed that stops short",
        "cover",
        fixed("feed", lambda wire: (replace(wire, run=legs(wire.run, *wire.run.legs[1:])),)),
    ),
    Spoilt("a feed to another point", "cover", fixed("feed", lambda wire: (replace(wire, ends=("battery", "tail")),))),
    Spoilt("a feed laid twice", "cover", fixed("feed", lambda wire: (wire, wire))),
    Spoilt("a hose laid twice", "cover", fixed("clutch cable", lambda wire: (wire, wire))),
    Spoilt("no feed", "cover", fixed("feed", left_out)),
    Spoilt("no wire to the horn", "cover", fixed("horn", left_out)),
    # 220 + 400 + 420 mm is shorter than the way round, and goes above the engine.
    Spoilt(
        "a wire where it must not be",
        "cover",
        fixed("fan", lambda wire: (replace(wire, run=Run(Micrometres(1_040_000), (7, 9, 13))),)),
    ),
    Spoilt("a hose forgotten", "cover", fixed("clutch cable", left_out)),
    # Later loads and the cost.
    Spoilt("room on an output in use", "outputs", room(("heated grips", "brake lamp"))),
    Spoilt(
        "one output for two later loads", "outputs", room(("heated grips", "out 10"), ("auxiliary lamps", "out 10"))
    ),
    Spoilt(
        "room for a dimmed load where nothing dims",
        "mode",
        lambda plan: room(("heated grips", one(plan, "ignition coil").port))(plan),
    ),
    Spoilt("room for a load that nobody wants", "cover", room(("sound system", "out 10"))),
    Spoilt("room on an output that is not there", "cover", room(("heated grips", "out 12"))),
    Spoilt("room that is not told", "goal", room()),
    Spoilt("a micrometre too dear", "goal", lambda plan: replace(plan, cost=Micrometres(plan.cost + 1))),
    Spoilt("a micrometre too cheap", "goal", lambda plan: replace(plan, cost=Micrometres(plan.cost - 1))),
    Spoilt(
        "wire told as spare-port loss",
        "goal",
        lambda plan: replace(plan, costs=plan.costs + Cost(Micrometres(-1), Micrometres(1))),
    ),
)

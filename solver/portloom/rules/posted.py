"""A plan that somebody posted, as rules see it, and what each looks at in it."""

from collections.abc import Callable, Iterable, Mapping, Sequence
from typing import Literal

from portloom.base.bike import Part
from portloom.base.figures import listed
from portloom.base.quantities import MilliAmps
from portloom.base.sizes import WireSize
from portloom.base.unit import Output
from portloom.base.values import dataclass
from portloom.job.circuits import OutputCircuit
from portloom.job.job import Job
from portloom.job.laid import Laid
from portloom.job.site import Site
from portloom.rules.as_posted import AsPosted
from portloom.rules.clash import Clash

LAST = 99
"""The rank of a rule that is told in the order of the book."""


@dataclass(frozen=True)
class Doubt:
    """A line of a post that is not clear, and the port that it is about, if that is."""

    line: int
    port: str | None = None


@dataclass(frozen=True)
class PostedPlan:
    """Who is on which port, as far as a post says it, and what its outputs are set to and wired with."""

    job: Job
    site: Site | None
    """The first place at which the unit may sit; None where there is no bike's file."""
    outputs: Mapping[str, Sequence[str]]
    inputs: Mapping[str, Sequence[str]]
    trips: Mapping[str, MilliAmps]
    sizes: Mapping[str, WireSize]
    main_fuse: MilliAmps | None
    kept_off: Sequence[tuple[str, str]]
    """Ports with what no output may feed, and what that is."""
    unplaced: Sequence[str]
    """What stands on a port that is not known."""
    no_fuse: bool = False
    """Whether the post says that there is no main fuse."""
    doubts: Sequence[Doubt] = ()
    """The lines that are not clear."""
    past: Sequence[str] = ()
    """The loads on outputs that the bike's file feeds past the unit; they are judged as they are posted."""

    def unclear(self, *ports: str) -> str:
        """Say which lines are not clear that may bear on these ports, or on any where none is given; else ''."""
        lines = sorted({doubt.line for doubt in self.doubts if not ports or doubt.port in (None, *ports)})
        numbers = listed([str(line) for line in lines])
        return f"{'lines' if len(lines) > 1 else 'line'} {numbers} may say more, and can't be read" if lines else ""

    @property
    def used(self) -> list[str]:
        """The outputs with loads on them."""
        return [port for port, held in self.outputs.items() if held]

    @property
    def missing(self) -> list[str]:
        """The loads of the bike that need an output and are on none."""
        on = self.ports
        return [load.name for load in self.job.loads.on_unit if load.name not in on]

    @property
    def unread_switches(self) -> list[str]:
        """The switches of the bike that are on no input."""
        told = {name for held in self.inputs.values() for name in held}
        return [switch.name for switch in self.job.inputs if switch.name not in told]

    @property
    def left_open(self) -> list[str]:
        """The switches that are on no input, and the multiplexers with switches on them that are on none."""
        told = {name for held in self.inputs.values() for name in held}
        boxes = [box.name for box in self.job.bike.multiplexers if self.inputs.get(box.name)]
        return [*self.unread_switches, *(name for name in boxes if name not in told)]

    def drives(self) -> list["PostedOutput"]:
        """Return each output with its circuit."""
        known = {output.name: output for output in self.job.unit.outputs}
        return [PostedOutput(self.circuit(self.outputs[port]), known[port], None, None, None) for port in self.used]

    def names(self, *parts: Part) -> list[str]:
        """Return the loads that are these parts and need an output."""
        return [load.name for load in self.job.loads.on_unit if load.part in parts]

    @property
    def ports(self) -> dict[str, str]:
        """The output of each load that is on one."""
        return {name: port for port, held in self.outputs.items() for name in held}

    def circuit(self, names: Iterable[str]) -> OutputCircuit:
        """Return the circuit of the loads of these names, with all that is fed from them."""
        held = set(names)
        return self.job.circuit(load for load in self.job.loads.on_unit if load.name in held)


@dataclass(frozen=True)
class PostedOutput:
    """A circuit on its output, with the trip and the wire size that are posted of it, if any."""

    circuit: OutputCircuit
    output: Output
    trip: MilliAmps | None
    size: WireSize | None
    wired: AsPosted | None
    """The circuit with its wire; None where there is no bike's file."""


State = Literal["right", "wrong", "look again", "not judged"]


@dataclass(frozen=True)
class PostFinding:
    """One thing that is looked at first: how it stands, and why."""

    what: str
    state: State
    why: str


@dataclass(frozen=True)
class FirstLook:
    """What somebody who is asked whether a plan is sound looks at first, by one rule.

    Source: common practice, no source.
    """

    number: int
    """Which of all that it is, from 1."""
    look: Callable[[PostedPlan, Sequence[Clash]], PostFinding]
    """Take the plan, and all that is wrong with it."""


Wiring = Literal["exists", "none", "not known"]
"""Whether there is some way to wire the switches that a post leaves open, so that nothing posted is wrong."""
Wanted = Literal["inputs", "trips", "sizes", "main fuse"]
"""What a post may tell beside who is on which output."""


@dataclass(frozen=True)
class OfPosts:
    """How a rule judges a plan that somebody posted, beside what it says of every plan."""

    needs: str = ""
    """What of the bike it needs to know, if a post by itself says nothing of it."""
    first: int = LAST
    """Its rank among the rules about the same concern, 1 being told first; then comes the order of the book."""
    plan: Callable[[PostedPlan], Iterable[Clash]] | None = None
    """What it says of the plan as a whole, in place of its sums."""
    output: Callable[[PostedOutput], Iterable[str]] | None = None
    """What it says of a circuit whose trip or wire is posted."""
    alone: Callable[[Job, PostedOutput], Iterable[str]] | None = None
    """What it says of a circuit on its output where there is no bike's file."""
    output_only: bool = False
    """Whether that stands for all that it says of such a circuit."""
    fuse: Callable[[PostedPlan, Laid | None, MilliAmps], Iterable[tuple[str, str]]] | None = None
    """What it says of a posted main fuse, in place of what it says of circuits: subjects and sentences."""
    look: FirstLook | None = None
    wants: tuple[Wanted, ...] = ()
    """What a post must tell for it to be called kept."""
    judged: Callable[[PostedPlan], bool] | None = None
    """Whether there is anything in a post that it judges; None where any load on an output is."""
    unfused: Callable[[PostedPlan], Iterable[tuple[str, str]]] | None = None
    """What it says where a post has no main fuse: subjects and sentences."""


JUDGED_ALIKE = OfPosts()
"""A posted plan is judged like any other."""

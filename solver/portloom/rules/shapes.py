"""The three shapes of a rule, fit, budget and link, and what a broken one says.

A rule is one small module with one ``RULE``: a slug, what it protects, where its figure comes
from, and the functions that judge. It fills in only the shapes that it has.
"""

from collections.abc import Callable, Hashable, Iterable, Iterator, Mapping, Sequence
from dataclasses import replace

from portloom.base.bike import Multiplexer, Switch
from portloom.base.figures import with_verb
from portloom.base.nearest import or_list
from portloom.base.parts.shapes import LoadPart, SwitchPart
from portloom.base.quantities import MilliAmps
from portloom.base.unit import Output, Port
from portloom.base.values import dataclass
from portloom.base.vocabulary import Concern, Told
from portloom.job.cases import Case
from portloom.job.circuits import InputCircuit, OutputCircuit
from portloom.job.consumers import Consumer
from portloom.job.fixed_wires import FixedWire
from portloom.job.job import Job
from portloom.job.kinds import PortDirection
from portloom.job.laid import Laid, WiredInput, WiredMultiplexer, WiredSwitch
from portloom.job.site import Site
from portloom.job.sizing import Sized
from portloom.job.wired import WiredOutput
from portloom.rules.cures import Cures
from portloom.rules.facts import At, Fact, FactKey, OnPorts
from portloom.rules.growth import UNTOUCHED, OfGrowth
from portloom.rules.margins import LimitMargin
from portloom.rules.posted import JUDGED_ALIKE, OfPosts

Said = str | None
"""A sentence with the figures in it, or None where the rule is kept."""
Key = Hashable
Addend = tuple[Key, int]


@dataclass(frozen=True)
class BudgetRow:
    """One sum of a budget: what it is of, and the capacity that it stays within."""

    subject: str
    at_most: int
    at_least: int = 0
    fixed: int = 0
    """What no assignment changes."""
    fact: FactKey | None = None
    """The fact that sets the capacity; without it there is none."""
    case: Case | None = None
    """The case in which it is drawn, where it is a sum of currents."""

    @property
    def when(self) -> str:
        """Say when it is drawn, where it is a sum of currents."""
        return self.case.said if self.case else ""


def nothing(_: object) -> Iterable[Addend]:
    """Add nothing to any row."""
    return ()


@dataclass(frozen=True)
class Budget:
    """Sums over the plan: the rows, and what each circuit adds to which row."""

    rows: Mapping[Key, BudgetRow]
    sentence: Callable[[BudgetRow, int], str]
    """Say that a row's sum breaks its capacity."""
    output: Callable[[WiredOutput], Iterable[Addend]] = nothing
    input: Callable[[WiredInput], Iterable[Addend]] = nothing
    switch: Callable[[WiredSwitch], Iterable[Addend]] = nothing
    multiplexer: Callable[[WiredMultiplexer], Iterable[Addend]] = nothing
    back: Callable[[FixedWire], Iterable[Addend]] = nothing
    """Of the return that only a multiplexer needs, while it is not settled whether it is used."""
    fuse: Callable[[Site], Iterable[Addend]] = nothing
    """Of a unit with one of its main fuses, while it is not settled which; nothing once it is."""
    summed: Callable[[Laid, BudgetRow], str] | None = None
    """Say the same of a plan, with each share in the sum; where it is None, ``sentence`` says it."""

    def of(self, unit: Site) -> "Budget":
        """Return the same sums of what is on one unit, where the bike has several."""
        return replace(
            self,
            output=lambda wired: self.output(wired) if wired.site.shares(unit) else (),
            input=lambda wired: self.input(wired) if wired.site.shares(unit) else (),
            fuse=lambda site: self.fuse(site) if site.shares(unit) else (),
        )

    def sums(self, laid: Laid) -> dict[Key, int]:
        """Return the sums over a plan, row by row."""
        sums = {key: row.fixed for key, row in self.rows.items()}
        for key, amount in self._entries(laid):
            sums[key] = sums.get(key, 0) + amount
        return sums

    def _entries(self, laid: Laid) -> Iterator[Addend]:
        for wired in (*laid.outputs, *laid.later):
            yield from self.output(wired)
        for switches in laid.inputs:
            yield from self.input(switches)
        for switch in laid.switches:
            yield from self.switch(switch)
        for box in laid.multiplexers:
            yield from self.multiplexer(box)


@dataclass(frozen=True)
class Capacity:
    """What some outputs give together at most, in every case."""

    fact: FactKey
    limit: MilliAmps
    outputs: frozenset[str]


@dataclass(frozen=True)
class Capacities:
    """Limits of what outputs give together, for proofs by adding up alone."""

    of: Callable[[Job], Iterable[Capacity]]
    said: Callable[[Sequence[Capacity], int], str]
    """Say what several give together, of so many units that are counted as one: 'the unit passes 36 A'."""


@dataclass(frozen=True)
class CommonNeed:
    """What all of a crowd need of their ports alike, and who on the bike needs that."""

    said: str
    others: tuple[str, ...]


@dataclass(frozen=True)
class Need:
    """What a circuit on its output needs of the inputs, and the sentence said where it lacks."""

    met_by: Callable[[InputCircuit, Port | None], bool]
    """Do these switches on this input meet it; None where they are on a multiplexer's ways."""
    sentence: str
    what: str
    """What the unit must be told, or the input that an output follows."""
    alike: Hashable = None
    """Needs that are alike are met by the same inputs; None is like no other."""
    fact: str = ""
    """What asks for it, as a fact that a person can see."""
    at: At | None = None
    """Where that is written; None where it is the input that tells it, or else the load."""
    hint: str = ""
    """What may be done about it beside the fixes that are tried."""


def told(what: Told, circuit: OutputCircuit, why: str, otherwise: str = "") -> Need:
    """Return the need of a circuit that an input tells the unit ``what``, and ``why``, after its name.

    ``otherwise`` is what the bike's file may say where there is no such switch.
    """

    def tells_it(switches: InputCircuit, port: Port | None) -> bool:
        return any(what in switch.tells for switch in switches.switches)

    return Need(
        tells_it,
        f"{circuit.said} {why}, and no input tells the unit '{what}'",
        what,
        alike=("told", what),
        fact=with_verb(circuit.said, f"needs an input that tells the unit '{what}'"),
        hint=f"a switch or sensor that 'tells: [{what}]'{f'; {otherwise}' if otherwise else ''}",
    )


BRAKES: tuple[Told, ...] = ("front brake", "rear brake")


def told_either(what: Sequence[Told], circuit: OutputCircuit, why: str, of: str) -> Need:
    """Return the need of a circuit that an input tells the unit any of these, and ``why``, after its name.

    ``of`` says them together: 'the brake'.
    """
    return Need(
        lambda switches, _: any(each in switch.tells for switch in switches.switches for each in what),
        f"{circuit.said} {why}, and no input tells the unit of it",
        " or ".join(what),
        fact=with_verb(circuit.said, f"needs an input that tells the unit of {of}"),
        hint="a switch that " + or_list(f"'tells: [{each}]'" for each in what),
    )


@dataclass(frozen=True)
class Rule:
    """One rule. Every function gives a sentence where the rule is broken."""

    slug: str
    protects: str
    source: str
    right: str = ""
    """What sets a plan right that breaks it, as 'portloom rules NAME' tells it."""
    about: Concern | None = None
    """What a clash with it is about; None where that hangs on the loads and switches that it speaks of."""
    by_part: bool = False
    """Whether it judges by what a load is, and so can't judge one of which the file does not say it."""
    of_load: Callable[[LoadPart], bool] | None = None
    """Whether it holds for a load by what that is; None where it asks the same of every load, or of none."""
    of_switch: Callable[[SwitchPart], bool] | None = None
    """Whether it holds for a switch by what that is."""
    pair: Callable[[Consumer, Consumer], Said] | None = None
    """Fit: may these two loads share an output."""
    input_pair: Callable[[Switch, Switch], Said] | None = None
    """Fit: may these two switches share an input."""
    output_fit: Callable[[Job, OutputCircuit, Output], Said] | None = None
    """Fit: may this circuit go on this output, wherever the unit sits."""
    unlaid_fit: Callable[[Job, OutputCircuit, Output], Said] | None = None
    """Fit: what ``wired_fit`` refuses wherever the wire may run; a shortcut, its sentence is told to nobody."""
    wired_fit: Callable[[WiredOutput], Said] | None = None
    """Fit: may this circuit go on this output with this wire."""
    input_fit: Callable[[InputCircuit, Port], Said] | None = None
    """Fit: may these switches go on this input."""
    switch_fit: Callable[[Job, Switch, Multiplexer], Said] | None = None
    """Fit: may this switch go through this multiplexer."""
    multiplexer_fit: Callable[[Multiplexer, Port], Said] | None = None
    """Fit: may this multiplexer go on this input."""
    place_fit: Callable[[Site], Said] | None = None
    """Fit: may the unit sit here."""
    whole: Callable[[Sized], Iterable[tuple[str, str]]] | None = None
    """Fit: a whole plan with its true sizes: subjects and sentences."""
    budgets: Callable[[Site], Iterable[Budget]] | None = None
    """Sums at a site; of each unit for itself, but for those of the whole bike."""
    capacities: Capacities | None = None
    """Which of its sums are of what outputs give together."""
    by_signal: bool = True
    """Whether what it says of a switch on an input hangs on the switch's signal."""
    of_whole_bike: bool = False
    """Whether its sums are of all units together, where the bike has several."""
    link: Callable[[Job, OutputCircuit, Output], Iterable[Need]] | None = None
    """Link: what this circuit on this output needs of the inputs."""
    margins: Callable[[Laid], Iterable[LimitMargin]] | None = None
    """How close a plan comes to each limit that this rule keeps."""
    of_looms: bool = False
    """Whether its margins are those of looms, leg by leg."""
    growth: OfGrowth = UNTOUCHED
    """What it says where a load draws more, with the bike as it is wired."""
    posts: OfPosts = JUDGED_ALIKE
    """How it judges a plan that somebody posted."""
    common_need: Callable[[Job, PortDirection, Sequence[str]], CommonNeed | None] | None = None
    """What it asks of the ports of several loads, or switches, alike."""
    place_in_short: Callable[[Site, str], str] | None = None
    """Say in fewer words that the unit may not sit here; takes the site and the sentence."""
    facts: Callable[[Job], Iterable[Fact]] | None = None
    """What a person can see or change of what this rule judges by."""
    eased: Callable[[Job, str], str] | None = None
    """What the bike's file may say of a load or a switch, by its name, that this rule keeps off every port; '' where
    nothing that it may say helps."""
    breaks: Callable[[Job, OnPorts], Iterable[FactKey]] | None = None
    """Which of its facts that the builder has decided a plan breaks, by what is on which port."""
    hint: Callable[[Job], str] | None = None
    """What may be done where this rule refuses, beside the fixes that are tried; nothing where that is no help."""
    cures: Callable[[Job], Iterable[Cures]] | None = None
    """What may lift a conflict that this rule has a part in; each is tried on its facts."""

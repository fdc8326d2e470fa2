"""The choice of two units together: the columns of both side by side, and what holds them together.

A switch is on an input of each unit that wants it and of no other; indicators keep together, and so does what
runs the engine. All sums and links of the rules are as with one unit, each of its own unit or of the whole bike.
"""

from collections import Counter
from collections.abc import Iterator, Sequence
from dataclasses import replace

from portloom.base.bike import Switch
from portloom.job.circuits import OutputCircuit
from portloom.job.job import Job
from portloom.job.site import Site
from portloom.rules.shapes import Rule
from portloom.rules.two_units import together, wants
from portloom.search.columns import Column, InputColumn, Link, OutputColumn, SumRow
from portloom.search.levels import Levels
from portloom.search.pairs.seats import SeatChoices
from portloom.search.tableau import NO_LOWER_BOUND, Tableau, tableau_of


class Wanted:
    """The switches that a unit wants for a circuit, whichever unit it is; worked out once for each circuit."""

    def __init__(self, rules: Sequence[Rule], job: Job) -> None:
        """Take the rules in force, and the bike's job with either unit."""
        self._rules = rules
        self._job = job
        self._known: dict[tuple[str, ...], tuple[str, ...]] = {}

    def by(self, circuit: OutputCircuit) -> tuple[str, ...]:
        """Return the names of the switches, in the order of the file."""
        key = tuple(load.name for load in circuit.members)
        if key not in self._known:
            job, output = self._job, self._job.unit.outputs[0]  # on whichever output, it wants the same
            wanted = (switch for switch in job.inputs if wants(self._rules, job, circuit, output, switch))
            self._known[key] = tuple(switch.name for switch in wanted)
        return self._known[key]


def joint_choice(rules: Sequence[Rule], wanted: Wanted, one: SeatChoices, other: SeatChoices) -> Tableau:
    """Set up the choice of two units: the main fuses of the first, those of the second, then all circuits.

    Units are held together by what each wants of the switches, and groups by flags (C4).
    """
    columns = (*one.fuses, *other.fuses, *one.circuits, *other.circuits)
    choice = tableau_of(one.site.beside(other.site), rules, columns)
    wiring = _Wiring(wanted, choice)
    grouped = Levels(replace(choice, rows=(*choice.rows, *wiring.rows()), links=(*choice.links, *wiring.links())))
    _group(grouped)
    return grouped.tableau()


def _group(levels: Levels) -> None:
    """Put the loads of each group on one unit: a flag for the first, and each load as often there as the flag says."""
    choice = levels.choice
    job = choice.site.job
    for group in together(job):
        name = ("together", *(load.name for load in group))
        first = levels.new_flag(*name)
        for alike, count in Counter(job.alike[load.name] for load in group).items():
            here = [
                (number, amount)
                for number, column in enumerate(choice.columns)
                if isinstance(column, OutputColumn) and not column.later and column.wired.site.shares(choice.site)
                for amount in [sum(job.alike[load.name] == alike for load in column.wired.circuit.members)]
                if amount
            ]
            levels.at_most([*here, (first, -count)], 0, *name)
            levels.at_most([*((number, -amount) for number, amount in here), (first, count)], 0, *name)


class _Wiring:
    """Which columns make a unit want a switch, and which put it on one of its inputs."""

    def __init__(self, wanted: Wanted, choice: Tableau) -> None:
        self._choice = choice
        self._wanting: dict[tuple[str, str], list[int]] = {}
        self._wired: dict[tuple[str, str], list[int]] = {}
        for number, column in enumerate(choice.columns):
            for switch in _switches_of(column):
                self._wired.setdefault((switch.name, _place(column)), []).append(number)
            if isinstance(column, OutputColumn) and not column.later:
                for name in wanted.by(column.wired.circuit):
                    self._wanting.setdefault((name, _place(column)), []).append(number)

    def _ever_wanted(self, switch: Switch) -> bool:
        return any((switch.name, unit.place.name) in self._wanting for unit in self._choice.site.units)

    def rows(self) -> Iterator[SumRow]:
        """A switch that nothing wants is on one input; a unit that wants one has it on one of its inputs."""
        for switch in self._choice.site.job.inputs:
            if not self._ever_wanted(switch):
                entries = [(n, 1) for unit in self._choice.site.units for n in self._on(switch, unit)]
                yield SumRow(tuple(entries), NO_LOWER_BOUND, 1, name=("one input", switch.name))
                continue
            for unit in self._choice.site.units:
                yield from self._brought(switch, unit)

    def _brought(self, switch: Switch, unit: Site) -> Iterator[SumRow]:
        """Return a row for each load that wants a switch: where it sits on the unit, so is the switch on an input."""
        job = unit.job
        on = [(number, -1) for number in self._on(switch, unit)]
        by_load: dict[int, list[tuple[int, int]]] = {}
        for number in self._wanting.get((switch.name, unit.place.name), ()):
            column = self._choice.columns[number]
            members = column.wired.circuit.members if isinstance(column, OutputColumn) else ()
            for alike, count in Counter(job.alike[load.name] for load in members).items():
                by_load.setdefault(alike, []).append((number, count))
        for alike, entries in by_load.items():
            most = sum(own == alike for own in job.alike.values())
            yield SumRow(
                (*entries, *((number, most * amount) for number, amount in on)),
                NO_LOWER_BOUND,
                0,
                name=("wanted", switch.name),
            )

    def links(self) -> Iterator[Link]:
        """A switch that something wants is on no unit that does not want it."""
        for switch in self._choice.site.job.inputs:
            for unit in self._choice.site.units if self._ever_wanted(switch) else ():
                wanting = tuple(self._wanting.get((switch.name, unit.place.name), ()))
                yield from (Link(number, wanting) for number in self._on(switch, unit))

    def _on(self, switch: Switch, unit: Site) -> Sequence[int]:
        return self._wired.get((switch.name, unit.place.name), ())


def _place(column: Column) -> str:
    return column.wired.site.place.name if isinstance(column, OutputColumn | InputColumn) else ""


def _switches_of(column: Column) -> Sequence[Switch]:
    return column.wired.circuit.switches if isinstance(column, InputColumn) else ()

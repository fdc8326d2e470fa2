"""A plan near a known one: who may go where is only who does there, and what has no output yet is seated among them.

Of bikes that are much alike, most plans of one are nearly plans of the other: few columns are set up for it, and what
comes of them is asked of the same model as ever. That there is no plan among them says nothing (FORMULATION.md, X7).
"""

from collections import Counter
from collections.abc import Iterator, Sequence
from dataclasses import replace

from portloom.base.quantities import MilliAmps
from portloom.base.values import dataclass
from portloom.job.circuits import OutputCircuit
from portloom.job.job import Job
from portloom.job.kinds import OutputKind, output_kinds
from portloom.rules.book import output_clashes
from portloom.rules.shapes import Rule
from portloom.search.candidates import (
    NO_WAYS,
    Candidates,
    Ways,
    alike_loads,
    candidates,
    input_circuits,
    may_share,
)
from portloom.search.columns import FuseColumn, OutputColumn
from portloom.search.feasibility import Possible
from portloom.search.matching import Seating

Names = tuple[str, ...]


@dataclass(frozen=True)
class Seats:
    """Where the unit sits in a plan, its main fuse, and the loads of each circuit with an output of its kind."""

    site: str
    fuse: MilliAmps
    circuits: tuple[tuple[Names, str], ...]


def seats_of(plan: Possible) -> Seats:
    """Return who is where in a plan."""
    used = (column for column, times in zip(plan.choice.columns, plan.chosen, strict=True) if times)
    fuse = next(column.fuse for column in used if isinstance(column, FuseColumn))
    return Seats(plan.choice.site.label, fuse, tuple(_circuits(plan)))


def _circuits(plan: Possible) -> Iterator[tuple[Names, str]]:
    """Of loads that nothing but their names tells apart each is named once, in the order of the file."""
    job = plan.choice.site.job
    waiting = {job.alike[group[0].name]: [load.name for load in reversed(group)] for group in alike_loads(job)}
    for column, times in zip(plan.choice.columns, plan.chosen, strict=True):
        if isinstance(column, OutputColumn) and not column.later:
            for _ in range(times):
                names = tuple(waiting[job.alike[load.name]].pop() for load in column.wired.circuit.members)
                yield names, column.kind.ports[0].name


def near(seats: Seats, job: Job, rules: Sequence[Rule], ways: Ways = NO_WAYS) -> Candidates | None:
    """Return who goes where, as far as can be as in another plan, with all inputs; None where a load finds no output.

    Loads that are not there any more are left out; those that are new get outputs of their own.
    """
    kinds = output_kinds(job.unit)
    numbers = {port.name: number for number, kind in enumerate(kinds) for port in kind.ports}
    allowed = _Allowed(job, rules, kinds)
    seating = Seating(allowed.kinds, [len(kind.ports) for kind in kinds])
    there = dict.fromkeys(load.name for load in job.loads.on_unit)
    for names, port in seats.circuits:
        left = tuple(name for name in names if name in there)
        number = numbers.get(port)
        if left and number is not None and allowed.on(left, number) and seating.put(left, number):
            for name in left:
                del there[name]
    if not all(seating.seat((name,)) for name in there):
        return None
    seated = ((allowed.circuit(names), kinds[number]) for number, some in seating.on.items() for names in some)
    pairs = {(id(circuit), id(kind)): (circuit, kind) for circuit, kind in seated}
    rest = candidates(job, rules, (), input_circuits(job, rules), ways)
    return replace(rest, outputs=tuple(pairs.values()))


class _Allowed:
    """What the rules allow of loads together, wherever the unit sits."""

    def __init__(self, job: Job, rules: Sequence[Rule], kinds: Sequence[OutputKind]) -> None:
        self._job = job
        self._rules = rules
        self._kinds = kinds
        self._alike = {job.alike[group[0].name]: group for group in alike_loads(job)}
        self._known: dict[tuple[tuple[int, int], ...], OutputCircuit] = {}

    def circuit(self, names: Names) -> OutputCircuit:
        """Return the circuit of loads; of identical ones the first stand for all."""
        counts = Counter(self._job.alike[name] for name in names)
        key = tuple(sorted(counts.items()))
        if key not in self._known:
            members = (load for nature, count in key for load in self._alike[nature][:count])
            self._known[key] = self._job.circuit(tuple(members))
        return self._known[key]

    def on(self, names: Names, number: int) -> bool:
        """Tell whether loads may share an output of the kind of this number."""
        circuit = self.circuit(names)
        if not may_share(self._rules, circuit.members):
            return False
        return next(output_clashes(self._rules, self._job, circuit, self._kinds[number].ports[0]), None) is None

    def kinds(self, names: Names) -> Sequence[int]:
        """Return the numbers of the kinds of outputs that take loads together."""
        return [number for number in range(len(self._kinds)) if self.on(names, number)]

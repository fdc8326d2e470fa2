"""The shortest wire of every circuit from every face point that the unit may meet."""

from collections.abc import Iterable, Sequence

from portloom.job.circuits import InputCircuit, OutputCircuit
from portloom.job.job import Job
from portloom.job.network import NOWHERE, Run, Trees


class Runs:
    """Shortest trees, worked out for all subsets of a group at once and kept."""

    def __init__(self, job: Job, roots: Iterable[str]) -> None:
        """Take the ``roots``: every frame point that a face of the unit, or a multiplexer, may meet."""
        self._network = job.network
        self._roots = tuple(dict.fromkeys(roots))
        self._trees: dict[tuple[frozenset[int], tuple[str, ...]], Trees] = {}
        self._known: dict[tuple[str, tuple[str, ...], frozenset[str]], Run | None] = {}
        self._families: dict[tuple[str | None, frozenset[str]], tuple[str, ...]] = {}

    def learn(self, circuits: Sequence[OutputCircuit]) -> None:
        """Note which points are joined by circuits of one share group, so that one table serves them all."""
        for circuit in circuits:
            key = (circuit.members[0].share, circuit.avoid)
            known = self._families.get(key, ())
            self._families[key] = tuple(dict.fromkeys((*known, *circuit.points)))

    def of_output(self, circuit: OutputCircuit, root: str) -> Run | None:
        """Return a circuit's shortest tree from ``root``, or None where no way leads to a load."""
        family = self._families[circuit.members[0].share, circuit.avoid] if len(circuit.points) > 1 else ()
        return self._tree(circuit.points, root, circuit.avoid, family)

    def of_input(self, circuit: InputCircuit, root: str) -> Run | None:
        """Return the shortest tree from ``root`` through switches."""
        return self._tree(circuit.points, root, frozenset(), circuit.points)

    def to_face(self, point: str, face: str) -> Run | None:
        """Return the shortest way from a point to one that a face of the unit meets."""
        return self._tree((point,), face, frozenset(), ())

    def _tree(self, points: tuple[str, ...], root: str, avoid: frozenset[str], family: tuple[str, ...]) -> Run | None:
        key = (root, points, avoid)
        if key not in self._known:
            self._known[key] = self._shortest(points, root, self._network.numbers_of(avoid), family)
        return self._known[key]

    def _shortest(
        self, points: tuple[str, ...], root: str, closed: frozenset[int], family: tuple[str, ...]
    ) -> Run | None:
        if len(points) < 2:
            return self._network.wire(root, points[0], closed) if points else NOWHERE
        table = (closed, family)
        if table not in self._trees:
            self._trees[table] = Trees(self._network, family, self._roots, closed)
        return self._trees[table].tree(points, root)

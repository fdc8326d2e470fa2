"""Where things stand in a file, for what is told about them later."""

from collections.abc import Sequence
from dataclasses import dataclass

from solver.reading.tree import Keyed, Listed, Node

Step = str | int
Path = Sequence[Step]


def find(node: Node, path: Path) -> Node | None:
    """Return the node at ``path``, or None; a single word may stand for a list of one."""
    for step in path:
        below = _below(node, step)
        if below is None:
            return None
        node = below
    return node


def nearest_node(node: Node, path: Path) -> Node:
    """Return the node at ``path``, or at the longest beginning of it that the file has."""
    for step in path:
        below = _below(node, step)
        if below is None:
            return node
        node = below
    return node


def _below(node: Node, step: Step) -> Node | None:
    if isinstance(step, str):
        if not isinstance(node, Keyed):
            return None
        return node.values.get(step, node.values.get(step.rstrip("_")))
    if isinstance(node, Listed):
        return node.items[step] if 0 <= step < len(node.items) else None
    return node if step == 0 else None


@dataclass(frozen=True)
class Source:
    """A file that was read: its name, and where in it each thing stands.

    A path is the keys and the list positions (from 0) that lead to a thing: ``("loads", 3, "current")``.
    In a unit, positions count outputs and inputs after ``names`` is written out, as the typed unit does.
    """

    file: str
    root: Keyed

    def at(self, path: Path) -> tuple[int, int]:
        """Return the line and column, from 1, of the thing at ``path``, or of the nearest thing round it."""
        node = nearest_node(self.root, path)
        return node.line, node.column

    def says(self, path: Path) -> bool:
        """Whether the file itself says what is at ``path``; if not, it is a default."""
        return find(self.root, path) is not None

    def where(self, path: Path) -> str:
        """Return ``FILE:LINE`` of the thing at ``path``, or 'default' if the file does not say it."""
        return f"{self.file}:{self.at(path)[0]}" if self.says(path) else "default"

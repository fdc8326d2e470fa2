"""Values do not change once they are made: nobody sets what belongs to another class, or copies it by reflection."""

import ast
from collections.abc import Iterator

import pytest

from calls import ROOT

MAKES_CLASSES = ROOT / "solver" / "portloom" / "base" / "values.py"
"""Puts methods into frozen classes; tests/test_frozen_classes.py holds what they do."""
FILES = sorted(set((ROOT / "solver").rglob("*.py")) - {MAKES_CLASSES})
OF_LIBRARIES = frozenset({
    # ortools takes models and settings as messages with attributes, and its callback as one of the public solver.
    ("search", "settings"),
    ("search", "self.settings"),
    ("search", "goal"),
    ("search", "named"),
    ("search", "self._solver"),
})  # fmt: skip
"""Rooms with objects of libraries, and what those are called there."""
OWN_COPIES = frozenset({
    ("bike.py", "known._as_read"),
    ("bike.py", "known._shown_by"),
    ("unit.py", "known._decided"),
})  # fmt: skip
"""What a class sets of a copy of its own that nobody has yet: pydantic copies with no private value changed."""
REFLECTION = frozenset({"vars", "setattr", "delattr"})
UNDER = frozenset({"__dict__", "__setattr__", "__delattr__"})
ALLOWED = frozenset({
    ("cli/main.py", "setattr(sys, name, Path(os.devnull).open('w', encoding='utf-8'))"),  # Python's own streams
})  # fmt: skip


def changed_from_outside(tree: ast.AST, room: str, file: str = "") -> Iterator[str]:
    """Return what is assigned to, or taken from, anything but ``self``."""
    for node in ast.walk(tree):
        outside = isinstance(node, ast.Attribute) and not isinstance(node.ctx, ast.Load)
        if isinstance(node, ast.Attribute) and outside:
            owner = ast.unparse(node.value)
            own_copy = (file, ast.unparse(node)) in OWN_COPIES
            if owner != "self" and (room, owner) not in OF_LIBRARIES and not own_copy:
                yield f"{node.lineno}: {ast.unparse(node)}"


def reflected(tree: ast.AST, file: str) -> Iterator[str]:
    """Return where attributes are read or set by reflection."""
    for node in ast.walk(tree):
        if isinstance(node, ast.Call) and isinstance(node.func, ast.Name) and node.func.id in REFLECTION:
            if (file, ast.unparse(node)) not in ALLOWED:
                yield f"{node.lineno}: {ast.unparse(node)}"
        elif isinstance(node, ast.Attribute) and node.attr in UNDER:
            yield f"{node.lineno}: {ast.unparse(node)}"


def test_no_attribute_is_assigned_from_outside() -> None:
    """In the whole package an attribute is set by its own class alone."""
    wrong = {
        str(path.relative_to(ROOT)): list(
            changed_from_outside(ast.parse(path.read_text("utf-8")), path.parent.name, path.name)
        )
        for path in FILES
    }
    assert len(wrong) > 100
    assert {path: lines for path, lines in wrong.items() if lines} == {}


def test_nothing_is_copied_by_reflection() -> None:
    """Nobody reads or writes all attributes of an object at once, or writes past a frozen class."""
    wrong = {
        str(path.relative_to(ROOT)): list(reflected(ast.parse(path.read_text("utf-8")), "/".join(path.parts[-2:])))
        for path in FILES
    }
    assert {path: lines for path, lines in wrong.items() if lines} == {}


@pytest.mark.parametrize(
    "line",
    ["site.whole = same", "a.b, site.first = 1, 2", "job.added += more", "self.site.units = ()", "del site.feed"],
)
def test_each_way_to_set_one_is_seen(line: str) -> None:
    """Plain, among others, added to, by way of something of one's own, and deleted."""
    assert list(changed_from_outside(ast.parse(line), "job"))


@pytest.mark.parametrize("line", ["vars(job).update(more)", "job.__dict__", "object.__setattr__(site, 'first', {})"])
def test_each_way_to_reflect_is_seen(line: str) -> None:
    """The ways round a frozen class."""
    assert list(reflected(ast.parse(line), "job/job.py"))

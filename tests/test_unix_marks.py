"""Whatever a test needs that Windows lacks, it bears the mark that skips it there; found by the syntax of all tests.

No outside source: which functions are there on Unix only, the documentation of Python's library says ('Availability').
"""

import ast
import re
from collections.abc import Iterator, Mapping
from collections.abc import Set as AbstractSet

import pytest

from calls import ROOT
from unix import MARKS

IMPORTED: Mapping[str, str] = {
    "opened": "terminal", "on_a_screen": "terminal", "Terminal": "terminal", "Asked": "terminal", "used": "usage",
    "SIGINT": "signals", "SIGKILL": "signals", "SIGTERM": "signals",
}  # fmt: skip
"""Names that are imported of what only Unix has, and the mark that says so."""
NAMED: Mapping[str, str] = {
    "openpty": "terminal", "killpg": "signals", "SIGINT": "signals", "SIGKILL": "signals", "SIGTERM": "signals",
    "send_signal": "signals", "preexec_fn": "forks", "os.fork": "forks", "mkfifo": "links", "symlink_to": "links",
    "os.link": "links", "chmod": "links", "getrusage": "usage", "sched_setaffinity": "linux",
    "sched_getaffinity": "linux", "sh": "shell", "bash": "shell",
}  # fmt: skip
"""Attributes, keys of a call and the programs that it begins with."""
FROM = ("unix", "terminal", "asked_in_terminal", "signal")
"""Where these names are imported from; elsewhere they may be anything."""
MODULES = {"fcntl", "pty", "termios", "resource"}
"""What can't even be imported there."""
MENTIONED = re.compile(rf"^from ({'|'.join(FROM)}) import|\b(" + "|".join(map(re.escape, NAMED)) + r")\b", re.MULTILINE)
LOADED = re.compile(rf"^(import|from) ({'|'.join(MODULES)})\b", re.MULTILINE)


@pytest.fixture(scope="module")
def texts() -> Mapping[str, str]:
    """Return the text of each module of tests."""
    return {path.name: path.read_text("utf-8") for path in sorted((ROOT / "tests").glob("*.py"))}


def _words(node: ast.AST) -> Iterator[str]:
    """Return the names in a piece of code."""
    for part in ast.walk(node):
        match part:
            case ast.Name(id=name) | ast.arg(arg=name):
                yield name


def _marks(node: ast.AST, imported: AbstractSet[str]) -> set[str]:
    """Return the marks that a piece of code needs by itself."""
    found = {IMPORTED[name] for name in _words(node) if name in imported and name in IMPORTED}
    for part in ast.walk(node):
        match part:
            case ast.Attribute(value=ast.Name(id="os"), attr=name) if f"os.{name}" in NAMED:
                found.add(NAMED[f"os.{name}"])
            case ast.Attribute(attr=name) | ast.keyword(arg=str(name)) if name in NAMED:
                found.add(NAMED[name])
            case ast.List(elts=[ast.Constant(value=str(name)), ast.Constant(value="-c"), *_]) if name in NAMED:
                found.add(NAMED[name])
    return found


def _top(tree: ast.Module) -> dict[str, ast.AST]:
    """Return what a module defines at its top, by name: functions, classes, constants."""
    found: dict[str, ast.AST] = {}
    for node in tree.body:
        match node:
            case ast.FunctionDef(name=name) | ast.ClassDef(name=name):
                found[name] = node
            case ast.Assign(targets=[ast.Name(id=name)]) | ast.AnnAssign(target=ast.Name(id=name)):
                found[name] = node
    return found


def _needs(tree: ast.Module) -> dict[str, set[str]]:
    """Return the marks that each thing of a module needs: by what it names, and by what that needs in turn."""
    from_there = [node for node in tree.body if isinstance(node, ast.ImportFrom) and node.module in FROM]
    imported = {alias.name for node in from_there for alias in node.names}
    names = {name: set(_words(node)) - {name} for name, node in _top(tree).items()}
    needs = {name: _marks(node, imported) for name, node in _top(tree).items()}
    before = -1
    while (now := sum(map(len, needs.values()))) != before:
        before = now
        for name, words in names.items():
            needs[name] |= {mark for word in words & needs.keys() for mark in needs[word]}
    return needs


def _marked(node: ast.AST, tree: ast.Module) -> set[str]:
    """Return the marks that a test bears, those of its whole module among them."""
    decorators = list(node.decorator_list) if isinstance(node, ast.FunctionDef) else []
    whole = [value for name, value in _top(tree).items() if name == "pytestmark"]
    found = [part for each in (*decorators, *whole) for part in ast.walk(each) if isinstance(part, ast.Attribute)]
    return {part.attr for part in found if isinstance(part.value, ast.Name) and part.value.id == "unix"}


def _lacking(tree: ast.Module) -> dict[str, set[str]]:
    needs = _needs(tree)
    tests = {name: node for name, node in _top(tree).items() if name.startswith("test_")}
    return {name: lacks for name, node in tests.items() if (lacks := needs[name] - _marked(node, tree))}


def test_what_windows_lacks_is_marked(texts: Mapping[str, str]) -> None:
    """A test that needs any of it says which, so that it is skipped there by name."""
    trees = {name: ast.parse(text) for name, text in texts.items() if MENTIONED.search(text)}
    assert len(trees) > 20
    assert {name: lacks for name, tree in trees.items() if (lacks := _lacking(tree))} == {}


def test_a_mark_that_is_left_out_is_missed() -> None:
    """The reading above sees what a helper of a helper needs, and nothing that is marked."""
    tree = ast.parse(
        "def a(): os.mkfifo('x')\ndef b(): a()\ndef test_c(): b()\n@unix.shell\ndef test_d(): run(['sh', '-c', 'x'])\n"
    )
    needs = _needs(tree)
    assert (needs["test_c"], needs["test_d"]) == ({"links"}, {"shell"})
    assert _marked(_top(tree)["test_d"], tree) == {"shell"}
    assert {*IMPORTED.values(), *NAMED.values()} == set(MARKS)


def test_every_module_can_be_loaded_there(texts: Mapping[str, str]) -> None:
    """What only Unix has is imported where it is asked first whether this is Windows."""
    assert [name for name, text in texts.items() if LOADED.search(text)] == []
    assert LOADED.search("import os\nimport pty\n")

"""A rule owns all that is said of it: outside the rules' room nothing names a rule, its module or a kind of its facts.

Every module is parsed. Who walks the book may use no word that is a rule's slug or a kind of fact, but for keys of
dictionaries (keys of the files and of JSON) and the two sides of a unit; nobody compares a rule or a fact with one.
"""

import ast
import pkgutil
import re
from collections.abc import Iterator
from importlib import import_module
from pathlib import Path
from typing import get_args

import pytest

from portloom import rules as room
from portloom.job.kinds import PortDirection
from portloom.rules.book import RULES
from portloom.rules.fact_kinds import FACT_KINDS

PACKAGE = Path(room.__path__[0]).parent
MODULES = {
    module.name
    for module in pkgutil.iter_modules(room.__path__)
    if hasattr(import_module(f"{room.__name__}.{module.name}"), "RULE")
}
WORDS = {rule.slug for rule in RULES} | {kind.name for kind in FACT_KINDS}
SIDES = set(get_args(PortDirection))
ALLOWED = {
    ("inputs/rule_slugs.py", None): "the list of slugs that a bike's file may set aside, which the schema gives out",
    ("base/parts/loads.py", None): "by which rule the mode of a part is fixed",
    ("base/vocabulary.py", "engine-run"): "a mode",
    ("documents/by_part.py", "share"): "a key of the bike's file",
    ("documents/by_part.py", "kind"): "a key of the bike's file",
    ("documents/by_part.py", "mode"): "a key of the bike's file",
    ("documents/catalogue.py", "load"): "a sort of part",
    ("documents/catalogue.py", "switch"): "a sort of part",
    ("documents/catalogue.py", "wire"): "how a switch finds earth, in the words of the file",
    ("documents/wiring/parts_list.py", "wire"): "a group of the parts list",
    ("inputs/parts/questions.py", "engine-run"): "a rule that a bike's file sets aside asks nothing",
    ("explaining/fixes/loads.py", "fuse"): "what feeds a load, in the words of the file",
    ("explaining/fixes/loads.py", "load"): "whose entry of the file a change is made to",
    ("explaining/fixes/looms.py", "load"): "whose entry of the file a change is made to",
    ("explaining/fixes/looms.py", "opening"): "a key of a leg's entry, and what a change settles",
    ("explaining/fixes/ports.py", "multiplexer"): "what is fitted",
    ("review/matching.py", "load"): "what a name that is not clear would name",
    ("review/matching.py", "multiplexer"): "what a name that is not clear would name",
    ("review/matching.py", "switch"): "what a name that is not clear would name",
    ("review/structured.py", "main-fuse"): "a key of posts, in the spelling of some",
    ("verify/relaid.py", "wire"): "how a switch finds earth, in the words of the file",
}
"""Words in modules that are neither a rule's name nor a kind of fact there, though they read like one, and why."""


def knows_rules(tree: ast.Module) -> bool:
    """Tell whether a module imports anything of the rules' room."""
    return any(isinstance(node, ast.ImportFrom) and _in_room(node.module or "") for node in ast.walk(tree))


def _in_room(name: str) -> bool:
    return name == room.__name__ or name.startswith(f"{room.__name__}.")


def named(source: str) -> Iterator[tuple[int, str]]:
    """Return the line and the word of each thing by which a module names a rule."""
    tree = ast.parse(source)
    yield from _imported(tree)
    yield from _compared(tree)
    everything = knows_rules(tree)
    for line, word in _words(tree):
        if everything or re.search("[- ]", word):
            yield line, word


def _imported(tree: ast.Module) -> Iterator[tuple[int, str]]:
    for node in ast.walk(tree):
        if isinstance(node, ast.ImportFrom) and _in_room(node.module or ""):
            whole_room = node.module == room.__name__
            names = [alias.name for alias in node.names if whole_room or alias.name == "RULE"]
            names.append((node.module or "").rpartition(".")[2])
        elif isinstance(node, ast.Import):
            names = [alias.name.rpartition(".")[2] for alias in node.names if _in_room(alias.name)]
        else:
            continue
        yield from ((node.lineno, name) for name in names if name in MODULES or name == "RULE")


def _compared(tree: ast.Module) -> Iterator[tuple[int, str]]:
    """Return the words that a rule, a slug or the kind of a fact is compared with."""
    for node in ast.walk(tree):
        if isinstance(node, ast.Compare):
            sides = [node.left, *node.comparators]
            if any(_is_of_rule(side) for side in sides):
                yield from ((node.lineno, word) for side in sides for word in _strings(side) if word in WORDS)


def _is_of_rule(side: ast.expr) -> bool:
    if isinstance(side, ast.Attribute):
        return side.attr in ("rule", "slug")
    first = isinstance(side, ast.Subscript) and isinstance(side.slice, ast.Constant) and side.slice.value == 0
    return first and isinstance(side, ast.Subscript) and re.search("key|fact", ast.unparse(side.value)) is not None


def _strings(node: ast.AST) -> Iterator[str]:
    return (part.value for part in ast.walk(node) if isinstance(part, ast.Constant) and isinstance(part.value, str))


def _words(tree: ast.Module) -> Iterator[tuple[int, str]]:
    """Return each text that is a slug or a kind of fact, but for keys of dictionaries and the sides of a unit."""
    keys = {id(key) for node in ast.walk(tree) if isinstance(node, ast.Dict) for key in node.keys}
    for node in ast.walk(tree):
        if isinstance(node, ast.Constant) and node.value in WORDS - SIDES and id(node) not in keys:
            yield node.lineno, node.value


def outside() -> list[Path]:
    """Return every module that is not in the rules' room."""
    inside = PACKAGE / "rules"
    return sorted(path for path in PACKAGE.rglob("*.py") if inside not in path.parents)


def allowed(path: str, word: str) -> bool:
    """Tell whether a word means something else there."""
    return (path, word) in ALLOWED or (path, None) in ALLOWED


def test_nothing_outside_names_a_rule() -> None:
    """No module beside the rules imports one of theirs, or has a slug or a kind of fact in it."""
    paths = {path.relative_to(PACKAGE).as_posix(): path.read_text("utf-8") for path in outside()}
    assert len(paths) > 200
    found = [f"{path}:{line}: {word}" for path, source in paths.items() for line, word in named(source)
             if not allowed(path, word)]  # fmt: skip
    assert found == []


def test_what_is_allowed_is_there() -> None:
    """No exception has outlived what it was made for."""
    for path, word in ALLOWED:
        words = {found for _, found in named((PACKAGE / path).read_text("utf-8"))}
        assert (word in words) if word else words


@pytest.mark.parametrize(
    "source",
    [
        "from portloom.rules import trip",
        "from portloom.rules.main_fuse import RULE",
        "import portloom.rules.wire",
        "from portloom.rules.wire import carries",
        "from portloom.rules.clash import Clash\nclash = Clash('wire', 'horn', 'is thin')",
        "from portloom.rules.facts import FactKey\nkey: FactKey = ('opening', 'yoke')",
        "MARGINS = {1: 'main-fuse'}",
        "FIGURES = ('load lowest',)",
        "wrong = [clash for clash in clashes if clash.rule == 'bank']",
        "wrong = [clash for clash in clashes if clash.rule in ('outputs', 'inputs')]",
        "ports = [key[1] for key in keys if key[0] == 'outputs']",
        "judged = [rule for rule in rules if rule.slug != 'cover']",
    ],
)
def test_each_way_to_name_a_rule_is_found(source: str) -> None:
    """A module, a slug or a kind of fact is found wherever it stands."""
    assert list(named(source))


@pytest.mark.parametrize(
    "source",
    [
        "from portloom.rules.book import RULES\nslugs = {rule.slug for rule in RULES}",
        "document = {'wire': size.label, 'inputs': [], 'signal': kind}",
        "kinds = {'outputs': output_kinds}['outputs']",
        "from portloom.rules.fact_kinds import LOAD\nkey = LOAD.key('horn')",
        "word = 'mode'",
    ],
)
def test_other_words_are_left_alone(source: str) -> None:
    """Keys of files and of JSON, the sides of a unit, and words of who knows no rule are no names."""
    assert not list(named(source))

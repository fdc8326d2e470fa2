"""There is one list of parts: no name of a part, and no other words for one, stand anywhere else in the package.

Whatever speaks of a part takes its name from the catalogue, so that a part more is one entry there.
"""

import ast
from collections.abc import Iterator
from pathlib import Path
from typing import get_args

import pytest

import portloom
from portloom.base.events import EVENTS
from portloom.base.parts.loads import LOAD_PARTS
from portloom.base.parts.others import AMBIGUOUS, OTHER_WORDS
from portloom.base.parts.switches import SWITCH_PARTS
from portloom.base.vocabulary import DropClass, Kind, SwitchedBy, Told
from portloom.documents.wiring.wire import EndKind

PACKAGE = Path(portloom.__file__).parent
CATALOGUE = "base/parts/"
NAMES = {part.name for part in LOAD_PARTS} | {part.name for part in SWITCH_PARTS} | {word.name for word in OTHER_WORDS}
ALSO = {
    word
    for words in (
        *(part.also for part in LOAD_PARTS), *(part.also for part in SWITCH_PARTS),
        *(word.also for word in OTHER_WORDS), *(ambiguous.words for ambiguous in AMBIGUOUS),
    )
    for word in words
    if " " in word
}  # fmt: skip
"""Other words for parts; those of one word, such as 'key' and 'field', mean other things too."""
OTHER_LISTS = {*EVENTS, *get_args(Kind), *get_args(Told), *get_args(DropClass), *get_args(SwitchedBy)}
"""Words that are kinds, events, what a switch tells, classes of drop or what switches a coil, as well as parts."""
WHERE_THEY_ARE = ("base/vocabulary.py", "base/events.py")
ENDS = set(get_args(EndKind))
OF_WIRES = ("documents/", "report/")
"""The rooms that speak of the ends of wires, one of which is a dash, whatever part that is."""
ALLOWED = {
    ("report/svg/symbols.py", "horn"): "a sign of the circuit diagram",
    ("report/svg/symbols.py", "ignition coil"): "a sign of the circuit diagram",
    ("report/svg/symbols.py", "regulator"): "a sign of the circuit diagram",
    ("report/svg/circuit.py", "regulator"): "a sign of the circuit diagram",
    ("base/events.py", "high beam"): "what people write for an event",
    ("base/events.py", "full beam"): "what people write for an event",
    ("base/events.py", "fan"): "what people write for an event",
}
"""Words that are no part where they stand, and why."""


def words_of(source: str) -> Iterator[tuple[int, str]]:
    """Return the line and the text of each string of a module; docstrings are aside, f-strings not."""
    tree = ast.parse(source)
    asides = {id(node.value) for node in ast.walk(tree) if isinstance(node, ast.Expr)}
    for node in ast.walk(tree):
        if isinstance(node, ast.Constant) and isinstance(node.value, str) and id(node) not in asides:
            yield node.lineno, node.value


def listed_again(path: str, source: str) -> Iterator[str]:
    """Return each name of a part, or other words for one, that a module has of its own."""
    for line, word in words_of(source):
        elsewhere = word in OTHER_LISTS and path in WHERE_THEY_ARE
        means_other = word in OTHER_LISTS - NAMES or (word in ENDS and path.startswith(OF_WIRES))
        if word in NAMES | ALSO and not elsewhere and not means_other and (path, word) not in ALLOWED:
            yield f"{path}:{line}: {word}"


def test_no_other_list_of_parts() -> None:
    """Outside the catalogue no module spells a part; what is a kind or an event too stands with those."""
    modules = {path.relative_to(PACKAGE).as_posix(): path for path in sorted(PACKAGE.rglob("*.py"))}
    outside = {name: path.read_text("utf-8") for name, path in modules.items() if not name.startswith(CATALOGUE)}
    assert len(outside) > 200
    assert len(modules) - len(outside) >= 5
    assert [found for name, source in outside.items() for found in listed_again(name, source)] == []


def test_what_is_allowed_is_there() -> None:
    """No exception outlives what it is for."""
    for path, word in ALLOWED:
        assert word in {text for _, text in words_of((PACKAGE / path).read_text("utf-8"))}, (path, word)


@pytest.mark.parametrize(
    "line", ["PART = 'dipped beam'", "if load.part == 'fan': go()", "LIST = ('x', 'high beam')", "said = {'horn': 1}"]
)
def test_each_way_to_spell_one_is_seen(line: str) -> None:
    """A constant, a comparison, a list and a key."""
    assert list(listed_again("rules/made_up.py", line))


def test_a_docstring_may_speak_of_parts() -> None:
    """What is told of the code is no list."""
    assert list(listed_again("rules/made_up.py", '"""horn"""\n')) == []

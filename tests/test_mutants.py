"""The mutation run: what it changes, and that it tells what tests notice from what they don't.

The package here is made up: so small that it can be said by hand what each change does.
"""

import ast
import re
from itertools import islice
from pathlib import Path
from textwrap import dedent

import pytest

from calls import ROOT
from mutants.changes import changes
from mutants.copies import Copy, Project
from mutants.entered import Statements, entered
from mutants.figures import LookedAt, looked_at, told
from mutants.left_out import LEFT_OUT
from mutants.rooms import ROOMS, Mutant, drawn
from mutants.trying import KILLED, SURVIVED, entering, tried
from referee.record import Finding, Judged
from slices import first_of


@pytest.mark.parametrize(
    ("code", "after"),
    [
        ("a < b", ["a <= b"]),
        ("a < b == c", ["a <= b == c", "a < b != c"]),
        ("a is None", ["a is not None"]),
        ("a + b", ["a - b"]),
        ("a // b", ["a * b"]),
        ("a + 'words'", []),
        ("int | None", []),
        ("'words'", []),
        ("f'{1}'", []),
        ("[1]", ["[(2)]", "[(0)]"]),
        ("True", ["False"]),
        ("-a", ["a"]),
        ("not a", ["a"]),
        ("a and b or c", ["a and b and c", "(a or b) or c"]),
        ("b = any(a)", ["b = all(a)"]),
        ("c = max(a, b)", ["c = min(a, b)"]),
        ("a if b else c", ["a if (not (b)) else c"]),
        ("[a for a in b if a]", ["[a for a in b if (True)]"]),
        ("a[b] = c", ["pass"]),
        ("a = b", []),
        ("a += b", ["pass", "a -= b"]),
        ("a()", ["pass"]),
        ("raise a", ["pass"]),
        ("if a:\n    b", ["if (not (a)):\n    b", "if (False):\n    b"]),
        ("while a:\n    break", ["while (not (a)):\n    break", "while a:\n    pass"]),
        ("def f():\n    return a", ["def f():\n    return None"]),
        ("def f(a: int = 0) -> None:\n    return", ["def f(a: int = (1)) -> None:\n    return",
                                                    "def f(a: int = (-1)) -> None:\n    return"]),
        ("if TYPE_CHECKING:\n    a()", []),
    ],
)  # fmt: skip
def test_what_is_changed(code: str, after: list[str]) -> None:
    """Each change that is known is made once; annotations and words stay."""
    made = [change.made(code) for change in changes(code)]
    assert sorted(map(bare, made)) == sorted(map(bare, after))
    assert len(made) == len(set(made))


def bare(code: str) -> str:
    """Return code without the brackets round what was changed."""
    return re.sub("[()]", "", code)


def test_a_change_has_a_name() -> None:
    """The function, before and after, and which of the same changes it is: lines above may come and go."""
    code = "class A:\n    def f(self, ä):\n        return 'ö' if ä < 1 else ä < 1\n"
    names = [change.name for change in changes(code)]
    assert "A.f: ä < 1 -> ä <= 1" in names
    assert "A.f: ä < 1 -> ä <= 1 (2)" in names
    assert len(names) == len(set(names))
    (second,) = (change for change in changes(code) if change.name == "A.f: ä < 1 -> ä <= 1 (2)")
    assert second.made(code) == code.replace("else ä < 1", "else (ä <= 1)")
    assert second.line == 3


@first_of("room", [*ROOMS], 1)
def test_mutants_are_drawn_by_a_seed_alone(room: str) -> None:
    """Every room has mutants by the hundred, each with a name of its own; a seed gives them in one order."""
    package = ROOT / "solver" / "portloom"
    names = [mutant.name for mutant in drawn(room, 1, package)]
    assert len(names) == len(set(names)) > 500
    for mutant in islice(drawn(room, 1, package), 10):
        ast.parse(mutant.change.made((package / mutant.file).read_text("utf-8")))
    others = [mutant.name for mutant in drawn(room, 2, package)]
    assert names == [mutant.name for mutant in drawn(room, 1, package)] != others
    assert sorted(names) == sorted(others)


SPARE = """
    \"\"\"How many amperes are left.\"\"\"

    def spare(limit: int, drawn: int) -> int:
        if drawn > limit:
            return 0
        return limit - drawn


    def unused(limit: int) -> int:
        return limit + 1
    """
TESTS = {
    "spare": "from tiny.spare import spare\n\n\ndef test_spare():\n    assert (spare(5, 3), spare(3, 5)) == (2, 0)\n",
    "nothing": "def test_nothing():\n    pass\n",
    "endless": "def test_endless():\n    while True:\n        pass\n",
}


@pytest.fixture(scope="module")
def tiny(tmp_path_factory: pytest.TempPathFactory) -> Project:
    """Return a project with a package of one module, and three files of tests."""
    root = tmp_path_factory.mktemp("tiny")
    package, tests = root / "solver" / "tiny", root / "tests"
    package.mkdir(parents=True)
    tests.mkdir()
    (package / "__init__.py").write_text("", "utf-8")
    (package / "spare.py").write_text(dedent(SPARE), "utf-8")
    for name in ("spare", "nothing"):
        (tests / f"test_{name}.py").write_text(TESTS[name], "utf-8")
    return Project(root, "tiny")


@pytest.mark.long
def test_a_mutant_is_killed_and_an_equivalent_one_survives(tiny: Project, tmp_path: Path) -> None:
    """By hand: 5 + 3 is not 2; of 3 A drawn from 3 A nothing is left, by either line. Nothing enters the other.

    What a file enters is kept: where neither it nor the package changes it is not run again.
    """
    statements, kept = Statements(tiny), tmp_path / "kept"
    tests = entered(statements, kept, tmp_path / "first")
    assert [(test.name, test.passes) for test in tests] == [
        ("tests/test_nothing.py", True),
        ("tests/test_spare.py", True),
    ]
    assert entered(statements, kept, tmp_path / "never made") == tests
    assert not (tmp_path / "never made").exists()
    copy = Copy(tmp_path / "copy", tiny)
    mutants = {change.name: Mutant("room", "spare.py", change) for change in changes(copy.read("spare.py"))}

    def fate(name: str) -> str:
        return tried(copy, mutants[name], entering(mutants[name], tests, statements), 60).outcome

    assert fate("spare: limit - drawn -> limit + drawn") == KILLED
    assert fate("spare: drawn > limit -> drawn >= limit") == SURVIVED
    assert entering(mutants["unused: limit + 1 -> limit - 1"], tests, statements) == []
    assert copy.read("spare.py") == dedent(SPARE) == (tiny.package / "spare.py").read_text("utf-8")


@pytest.mark.long
def test_what_never_ends_is_ended(tiny: Project, tmp_path: Path) -> None:
    """A run that takes more of a core than it may has no exit code."""
    (tiny.root / "tests" / "endless.py").write_text(TESTS["endless"], "utf-8")
    assert Copy(tmp_path / "copy", tiny).run(["tests/endless.py"], 1).code is None


def test_figures_tell_what_was_looked_at() -> None:
    """Of five mutants one is equivalent: three of four others are killed, 75 %; one is not looked at yet."""
    fates = {"a": KILLED, "b": KILLED, "c": "killed by never ending", "d": SURVIVED, "e": SURVIVED}
    every = [Judged(f"job: {name}", "1", (Finding(fate, ("3 of 3 files of tests",)),)) for name, fate in fates.items()]
    assert list(told(every, ["job"], {"job: d": LookedAt(equivalent=True, reason="by hand")}))[2:] == [
        "| job | 2 | 1 | 1 | 0 | 1 | 75.0 % |",
        "| all | 2 | 1 | 1 | 0 | 1 | 75.0 % |",
        "SURVIVED job: e, after 3 of 3 files of tests",
    ]


def test_every_survivor_that_was_looked_at_is_a_mutant() -> None:
    """Each is named as it is drawn, and has a reason."""
    names = {mutant.name for room in ROOMS for mutant in drawn(room, 0, ROOT / "solver" / "portloom")}
    assert [name for name in looked_at() if name not in names] == []
    assert all(one.reason.endswith(".") for one in looked_at().values())


def test_no_test_of_golden_texts_is_tried() -> None:
    """Each file of tests that can write its expected texts anew is left out."""
    paths = (ROOT / "tests").glob("test_*.py")
    golden = {
        path.relative_to(ROOT).as_posix() for path in paths if re.search(r"\brewrite: bool", path.read_text("utf-8"))
    }
    assert len(golden) > 3
    assert golden - set(LEFT_OUT) == set()
    assert [name for name in LEFT_OUT if not (ROOT / name).exists()] == []

"""Which statements of the package each file of tests enters, and how long it takes.

Found by running each once on a copy of the package in which every statement first notes that it was entered; the note
is kept in a file that all processes of a run share.
"""

import ast
import json
from collections.abc import Iterator
from dataclasses import dataclass
from hashlib import sha256
from pathlib import Path

from .copies import OURS, Copy, Project, side_by_side
from .left_out import LEFT_OUT

MODULE = "entered_statements"
NOTES = "entered.bin"
NO_TESTS = 5
"""The exit code of pytest where all tests of a file are long."""
LONGEST = 400.0
"""Seconds of a core that a file of tests may take to be of use."""
SOURCE = f"""from mmap import mmap
from pathlib import Path

with Path(__file__).with_name({NOTES!r}).open("r+b") as file:
    ENTERED = mmap(file.fileno(), 0)
"""


@dataclass(frozen=True)
class TestFile:
    """A file of tests: the seconds of a core that it takes, whether it passes, and the statements that it enters."""

    __test__ = False
    name: str
    of: str
    """The digest of the package and of the file."""
    seconds: float
    passes: bool
    entered: frozenset[int]


class Statements:
    """Every statement of a project's package, numbered."""

    def __init__(self, project: Project = OURS) -> None:
        """Number them, file by file."""
        self.project = project
        self._numbers: dict[tuple[str, int], int] = {}
        self.marked: dict[str, str] = {}
        """The files with each statement marked."""
        for path in sorted(project.package.rglob("*.py")):
            file = path.relative_to(project.package).as_posix()
            self.marked[file] = self._marked(file, path.read_text("utf-8"))

    def __len__(self) -> int:
        return len(self._numbers)

    def digest(self, test: str) -> str:
        """Return what tells whether the package, or a file of tests, has changed since."""
        return sha256("\0".join([test, self.text(test), *self.marked.values()]).encode()).hexdigest()

    def text(self, test: str) -> str:
        """Return the text of a file of tests."""
        return (self.project.root / test).read_text("utf-8")

    def number(self, file: str, line: int) -> int:
        """Return the number of the statement that begins in a line."""
        return self._numbers[file, line]

    def _marked(self, file: str, source: str) -> str:
        tree = ast.parse(source)
        for node in ast.walk(tree):
            for name in ("body", "orelse", "finalbody"):
                block = getattr(node, name, None)
                if isinstance(block, list):
                    setattr(node, name, list(self._block(file, block)))
        after = next((index for index, node in enumerate(tree.body) if not _stays_first(node)), len(tree.body))
        tree.body.insert(after, ast.parse(f"from {MODULE} import ENTERED as _entered").body[0])
        return ast.unparse(ast.fix_missing_locations(tree))

    def _block(self, file: str, block: list[ast.stmt]) -> Iterator[ast.stmt]:
        for node in block:
            number = self._numbers.setdefault((file, node.lineno), len(self._numbers))
            if not _stays_first(node):
                yield ast.parse(f"_entered[{number}] = 1").body[0]
            yield node


def _stays_first(node: ast.stmt) -> bool:
    """Tell whether nothing may stand before a statement: a docstring, or what is from the future."""
    words = isinstance(node, ast.Expr) and isinstance(node.value, ast.Constant)
    return words or (isinstance(node, ast.ImportFrom) and node.module == "__future__")


def files_of_tests(project: Project) -> tuple[str, ...]:
    """Return the files of tests that a change may be noticed by."""
    every = (path.relative_to(project.root).as_posix() for path in (project.root / "tests").rglob("test_*.py"))
    return tuple(sorted(name for name in every if name not in LEFT_OUT and not name.startswith("tests/browser/")))


def entered(statements: Statements, kept: Path, scratch: Path, processes: int = 1) -> tuple[TestFile, ...]:
    """Return what each file of tests enters: what is kept in a file, and the others run now, and kept there."""
    known = {test.of: test for test in _read(kept)}
    wanted = {name: statements.digest(name) for name in files_of_tests(statements.project)}
    if lacking := [name for name, digest in wanted.items() if digest not in known]:
        marked = [_Marked(scratch / f"marked-{number}", statements) for number in range(processes)]
        with kept.open("a", encoding="utf-8") as file:
            for test in side_by_side(marked, _Marked.run, lacking):
                known[test.of] = test
                file.write(_line_of(test))
                file.flush()
    return tuple(known[digest] for digest in wanted.values())


class _Marked:
    """A copy of the package that notes what is entered."""

    def __init__(self, folder: Path, statements: Statements) -> None:
        self._copy = Copy(folder, statements.project)
        self._notes = folder / "solver" / NOTES
        self._statements = statements
        (folder / "solver" / f"{MODULE}.py").write_text(SOURCE, "utf-8")
        for file, text in statements.marked.items():
            self._copy.write(file, text)

    def stop(self) -> None:
        """End what is run on it."""
        self._copy.stop()

    def run(self, name: str) -> TestFile:
        """Run a file of tests."""
        self._notes.write_bytes(bytes(len(self._statements)))
        ran = self._copy.run([name], LONGEST)
        noted = frozenset(index for index, byte in enumerate(self._notes.read_bytes()) if byte)
        passes = ran.code in (0, NO_TESTS)
        if not passes:
            print(f"{name} fails without any change:", ran.printed[-2000:], sep="\n", flush=True)
        return TestFile(name, self._statements.digest(name), round(ran.seconds, 2), passes, noted)


def _line_of(test: TestFile) -> str:
    bits = sum(1 << number for number in test.entered)
    return json.dumps([test.name, test.of, test.seconds, test.passes, f"{bits:x}"]) + "\n"


def _read(kept: Path) -> Iterator[TestFile]:
    for line in kept.read_text("utf-8").splitlines() if kept.exists() else ():
        name, of, seconds, passes, bits = json.loads(line)
        digits = f"{int(bits, 16):b}"[::-1]
        yield TestFile(
            name, of, seconds, passes, frozenset(number for number, digit in enumerate(digits) if digit == "1")
        )

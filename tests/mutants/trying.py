"""Whether tests notice a change: those that enter its statement."""

from collections.abc import Iterable, Iterator, Sequence

from referee.record import Finding

from .copies import Copy
from .entered import Statements, TestFile
from .rooms import Mutant

KILLED, ENDLESS, SURVIVED = "killed", "killed by never ending", "survived"
NO_SUCH_TESTS = 4
"""The exit code of pytest where it was called wrongly."""
FIRST_GROUP = 3
SLOWER = 4
"""How many times as long as without a change tests may take before they are said never to end."""
SPARE = 30.0
"""Seconds of a core on top of that."""


def entering(mutant: Mutant, tests: Iterable[TestFile], statements: Statements) -> list[TestFile]:
    """Return the files of tests that pass and enter a mutant's statement.

    One that names its module is the most likely about it, and comes as early as if it took a fifth of its time.
    """
    number = statements.number(mutant.file, mutant.change.line)
    module = f"{statements.project.name}.{mutant.file.removesuffix('.py').replace('/', '.')} import"
    found = (test for test in tests if test.passes and number in test.entered)
    naming = {test.name for test in tests if module in statements.text(test.name)}
    return sorted(found, key=lambda test: (test.seconds / (5 if test.name in naming else 1), test.name))


def tried(copy: Copy, mutant: Mutant, tests: Sequence[TestFile], most: float) -> Finding:
    """Run tests, in this order, on a mutant, until one fails or they take ``most`` seconds of a core without it."""
    chosen = list(_within(tests, most))
    source = copy.read(mutant.file)
    copy.write(mutant.file, mutant.change.made(source))
    try:
        for group in _groups(chosen):
            names = [test.name for test in group]
            ran = copy.run(names, SLOWER * sum(test.seconds for test in group) + SPARE)
            if ran.code is None:
                return Finding(ENDLESS, tuple(names))
            if ran.code == NO_SUCH_TESTS:
                raise RuntimeError(ran.printed)
            if ran.code:
                return Finding(KILLED, (_failed(ran.printed),))
    finally:
        copy.write(mutant.file, source)
    return Finding(SURVIVED, (f"{len(chosen)} of {len(tests)} files of tests",))


def _within(tests: Iterable[TestFile], most: float) -> Iterator[TestFile]:
    """Return the first tests that take no more seconds than these, and one at least."""
    for number, test in enumerate(tests):
        most -= test.seconds
        if number and most < 0:
            return
        yield test


def _groups(tests: Sequence[TestFile]) -> Iterator[Sequence[TestFile]]:
    """Return tests in groups that are run in one process each: few first, as few are wanted for most mutants."""
    begin, size = 0, FIRST_GROUP
    while begin < len(tests):
        yield tests[begin : begin + size]
        begin, size = begin + size, 2 * size


def _failed(printed: str) -> str:
    """Return what pytest says of the first test that failed."""
    said = [line for line in printed.splitlines() if line.startswith(("FAILED", "ERROR"))]
    return said[0][:200] if said else printed[-200:]

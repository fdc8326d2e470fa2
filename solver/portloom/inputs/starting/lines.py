"""The lines of a file that is made of answers: what goes where, in the order of files."""

from collections.abc import Iterable, Iterator, Sequence

from portloom.base.values import dataclass
from portloom.inputs.editing.splicing import Plain, inline, key

LONGEST = 90
"""Letters of a line after which its comment stands where it ends, and not below the others of its list."""
ITEM = "-"
"""The last step of a path that leads to a list: one more entry of it."""


@dataclass(frozen=True)
class Line:
    """A value, and the keys that lead to it; the last step may be ``ITEM``."""

    path: tuple[str, ...]
    value: Plain
    comment: str = ""


def file_of(lines: Iterable[Line], order: Sequence[str]) -> str:
    """Return the text of a file: its top keys in ``order``, each key once, where its first line stands."""
    ranked = sorted(lines, key=lambda line: order.index(line.path[0]))
    return "".join(f"{text}\n" for text in _written(ranked, 0))


def _written(lines: Sequence[Line], depth: int) -> Iterator[str]:
    indent = "  " * depth
    for name in dict.fromkeys(line.path[depth] for line in lines):
        there = [line for line in lines if line.path[depth] == name]
        if len(there[0].path) == depth + 1:
            start = f"{indent}- " if name == ITEM else f"{indent}{key(name, flow=False)}: "
            yield from _commented([(start + inline(line.value, flow=False), line.comment) for line in there])
        else:
            yield f"{indent}{key(name, flow=False)}:"
            yield from _written(there, depth + 1)


def _commented(lines: Sequence[tuple[str, str]]) -> Iterator[str]:
    """Return lines with their comments below each other."""
    width = max((len(text) for text, comment in lines if comment and len(text) <= LONGEST), default=0)
    yield from (f"{text:<{width}}  # {comment}" if comment else text for text, comment in lines)

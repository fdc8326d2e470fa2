"""Trees written by hand, so to speak: in random styles, with comments and blank lines wherever YAML lets them stand.

What is written is labelled with the path of what it says, so that a test can tell which lines a change may touch.
The styles are those of YAML 1.2.2, chapters 7 and 8, which PyYAML reads as well.
"""

import re
from collections.abc import Sequence
from dataclasses import dataclass, field
from random import Random

Path = tuple[str | int, ...]
Tree = str | list["Tree"] | dict[str, "Tree"]

BARE = re.compile(r"[A-Za-z0-9][A-Za-z0-9 /.%]*(?<! )")
BLOCK_LINE = "  "
"""Begins the line of a block scalar, before the spaces of what holds it."""
NULLS = ("null", "Null", "NULL")


@dataclass
class Scribe:
    """Writes a tree; ``comments`` and ``braced`` say where in the tree each comment and each brace or bracket is."""

    random: Random
    pieces: list[tuple[str, Path]] = field(default_factory=list)
    comments: list[tuple[str, Path]] = field(default_factory=list)
    braced: list[Path] = field(default_factory=list)

    @property
    def text(self) -> str:
        """All that was written."""
        return "".join(piece for piece, _ in self.pieces)

    def lines(self) -> list[tuple[str, list[Path]]]:
        """Return each line, with the path of everything that it says."""
        found: list[tuple[str, list[Path]]] = [("", [])]
        for piece, path in self.pieces:
            for count, part in enumerate(piece.split("\n")):
                if count:
                    found.append(("", []))
                line, paths = found[-1]
                found[-1] = (line + part, [*paths, path] if part or not count else paths)
        return found

    def file(self, tree: dict[str, Tree]) -> None:
        """Write a whole file: mostly in lines, sometimes in braces."""
        self._loose_lines((), (), 0)
        if tree and self._maybe(0.9):
            self._in_lines(tree, (), 0, begun=False)
        else:
            self._in_braces(tree, (), 0)
            self._end_line(())
        self._loose_lines((), (), 0)

    def _maybe(self, chance: float) -> bool:
        return self.random.random() < chance

    def _write(self, text: str, path: Path) -> None:
        self.pieces.append((text, path))

    def _comment(self, path: Path) -> None:
        comment = f"# note {len(self.comments):03}: it's - a {{b: c}}, \t[d"
        self.comments.append((comment, path))
        self._write(comment, path)

    def _end_line(self, path: Path) -> None:
        self._write(self.random.choice(["", "", " "]), path)
        if self._maybe(0.3):
            self._write(self.random.choice([" ", "      "]), path)
            self._comment(path)
        self._write("\n", path)

    def _loose_lines(self, path: Path, before: Path, column: int) -> None:
        """Write comments, which are in ``path``, and blank lines, which belong to the entry ``before`` them."""
        in_block = bool(self.pieces) and self.pieces[-1][0].startswith(BLOCK_LINE)
        while self._maybe(0.25):
            if self._maybe(0.5):
                self._write("\n", before)
                continue
            deeper = 0 if in_block else 3  # it would be more of a block scalar
            self._write(" " * self.random.choice([0, column, column + deeper]), path)
            self._comment(path)
            self._write("\n", path)

    def _in_lines(self, tree: Tree, path: Path, column: int, *, begun: bool) -> None:
        """Write a list or a mapping with a line for each entry; ``begun``: the first goes on in a line."""
        steps: Sequence[str | int] = list(tree) if isinstance(tree, dict) else range(len(tree))
        before = path
        for count, step in enumerate(steps):
            here = (*path, step)
            if count or not begun:
                self._loose_lines(path, before, column)
                self._write(" " * column, here)
            if isinstance(tree, dict):
                self._write(self._word(str(step)) + self.random.choice([":", ":", " :"]), here)
                self._held(tree[str(step)], here, column, dashed=False)
            else:
                self._write("-", here)
                self._held(tree[int(step)], here, column, dashed=True)
            before = here

    def _held(self, tree: Tree, path: Path, column: int, *, dashed: bool) -> None:
        if isinstance(tree, str) and BARE.fullmatch(tree) and self._maybe(0.15):
            self._block_scalar(tree, path, column)
        elif isinstance(tree, str) or not tree or self._maybe(0.5):
            self._write(self.random.choice([" ", " ", "   "]), path)
            self._in_one_go(tree, path, column)
            self._end_line(path)
        elif dashed and self._maybe(0.7):
            space = self.random.choice([1, 1, 3])
            self._write(" " * space, path)
            self._in_lines(tree, path, column + 1 + space, begun=True)
        else:
            self._end_line(path)
            least = 1 if dashed or isinstance(tree, dict) else 0
            self._in_lines(tree, path, column + self.random.choice([least, 2, 4]), begun=False)

    def _block_scalar(self, word: str, path: Path, column: int) -> None:
        self._write(" " + self.random.choice(["|", ">", "|-", ">+"]), path)
        self._end_line(path)
        self._write(BLOCK_LINE + " " * column + word + "\n", path)

    def _in_one_go(self, tree: Tree, path: Path, column: int) -> None:
        if isinstance(tree, str):
            self._write(self._word(tree), path)
        else:
            self._in_braces(tree, path, column)

    def _in_braces(self, tree: Tree, path: Path, column: int) -> None:
        self.braced.append(path)
        opener, closer = "{}" if isinstance(tree, dict) else "[]"
        space = self.random.choice(["", "", " "])
        style = self.random.choice([self._on, self._on, self._wrapped, self._own_line])
        steps: Sequence[str | int] = list(tree) if isinstance(tree, dict) else range(len(tree))
        self._write(opener + space, path)
        if style == self._own_line or self._maybe(0.05):
            self._end_line(path)
            self._write(" " * (column + 2), path)
        for count, step in enumerate(steps):
            here = (*path, step)
            if isinstance(tree, dict):
                self._write(self._word(str(step)) + ": ", here)
            self._in_one_go(tree[step], here, column + 2)  # type: ignore[index]
            if count < len(steps) - 1 or self._maybe(0.2):
                self._write(",", here)
            style(here, column + 2 if count < len(steps) - 1 else column + 1)
        self._write(space + closer, path)

    def _on(self, path: Path, column: int) -> None:
        self._write(" " if column % 2 == 0 else "", path)

    def _wrapped(self, path: Path, column: int) -> None:
        if self._maybe(0.3):
            self._own_line(path, column)
        else:
            self._write(self.random.choice(["", " "]), path)

    def _own_line(self, path: Path, column: int) -> None:
        self._end_line(path)
        if self._maybe(0.1):
            self._write(" " * column, path[:-1])
            self._comment(path[:-1])
            self._write("\n", path[:-1])
        self._write(" " * column, path)

    def _word(self, word: str) -> str:
        if BARE.fullmatch(word) and word not in NULLS and self._maybe(0.8):
            return word
        if word.isprintable() and self._maybe(0.5):
            return "'" + word.replace("'", "''") + "'"
        return '"' + "".join(self._escaped(sign) for sign in word) + '"'

    def _escaped(self, sign: str) -> str:
        if sign in '"\\':
            return "\\" + sign
        return sign if sign.isprintable() else f"\\U{ord(sign):08x}"

"""Small changes of a module's text: what a slip of the hand, or of the thought, would have written there."""

import ast
import copy
from collections import Counter
from collections.abc import Iterator
from dataclasses import dataclass

Text = tuple[ast.AST, str]
"""What is replaced, and by what text."""

COMPARED: dict[type[ast.cmpop], type[ast.cmpop]] = {
    ast.Lt: ast.LtE, ast.LtE: ast.Lt, ast.Gt: ast.GtE, ast.GtE: ast.Gt, ast.Eq: ast.NotEq, ast.NotEq: ast.Eq,
    ast.Is: ast.IsNot, ast.IsNot: ast.Is, ast.In: ast.NotIn, ast.NotIn: ast.In,
}  # fmt: skip
RECKONED: dict[type[ast.operator], type[ast.operator]] = {
    ast.Add: ast.Sub, ast.Sub: ast.Add, ast.Mult: ast.FloorDiv, ast.FloorDiv: ast.Mult, ast.Div: ast.Mult,
    ast.Mod: ast.FloorDiv, ast.Pow: ast.Mult, ast.BitAnd: ast.BitOr, ast.BitOr: ast.BitAnd,
}  # fmt: skip
CALLED = {"any": "all", "all": "any", "min": "max", "max": "min"}
LEFT_OUT = frozenset({"annotation", "returns", "decorator_list", "pattern", "bases"})
"""Fields of nodes in which nothing is changed."""
TOLD = 80
"""The most letters of a text that are told."""


@dataclass(frozen=True)
class Change:
    """One change of a module: where it is, and how it reads before and after."""

    function: str
    """The name of the function or class with those around it, '' at the top of the module."""
    before: str
    after: str
    number: int
    """Which of the same changes in that function, from 1."""
    line: int
    """Where the statement that it is in begins."""
    start: int
    end: int
    text: str
    """What stands from ``start`` to ``end``, both in letters, after the change."""

    @property
    def name(self) -> str:
        """The change as a person tells it."""
        which = f" ({self.number})" if self.number > 1 else ""
        return f"{self.function or 'top'}: {self.before} -> {self.after}{which}"

    def made(self, source: str) -> str:
        """Return the module's text with this change made."""
        return source[: self.start] + self.text + source[self.end :]


def changes(source: str) -> tuple[Change, ...]:
    """Return every change that is known for a module's text, from its top down.

    Annotations, decorators and words are left as they are. A changed expression has brackets, so that each text parses.
    """
    places, counted = _Places(source), Counter[tuple[str, str, str]]()
    found = []
    for function, line, (node, text) in _walk(ast.parse(source), "", 0):
        start, end = places.of(node)
        shown = text[1:-1] if isinstance(node, ast.expr) else text
        key = (function, _short(ast.unparse(node)), _short(shown))
        counted[key] += 1
        found.append(Change(*key, counted[key], line, start, end, text))
    return tuple(found)


def _short(text: str) -> str:
    """Return the beginning of a text, as much of it as is told."""
    line = text.splitlines()[0]
    return line if len(line) <= TOLD else f"{line[:TOLD]}..."


class _Places:
    """Where nodes stand, in letters from the beginning."""

    def __init__(self, source: str) -> None:
        self._lines = source.splitlines(keepends=True)
        self._begins = [0]
        for line in self._lines:
            self._begins.append(self._begins[-1] + len(line))

    def of(self, node: ast.AST) -> tuple[int, int]:
        assert isinstance(node, ast.stmt | ast.expr)
        assert node.end_lineno
        assert node.end_col_offset is not None
        return self._at(node.lineno, node.col_offset), self._at(node.end_lineno, node.end_col_offset)

    def _at(self, line: int, column: int) -> int:
        return self._begins[line - 1] + len(self._lines[line - 1].encode()[:column].decode())


def _walk(node: ast.AST, function: str, line: int) -> Iterator[tuple[str, int, Text]]:
    """Return what may be changed in a node and within it, with the function and the line of the statement it is in."""
    line = node.lineno if isinstance(node, ast.stmt) else line
    for texts in (_of_statement(node), _of_operator(node), _of_value(node)):
        yield from ((function, line, text) for text in texts)
    if isinstance(node, ast.FunctionDef | ast.ClassDef):
        function = f"{function}.{node.name}" if function else node.name
    for child in _children(node):
        yield from _walk(child, function, line)


def _children(node: ast.AST) -> Iterator[ast.AST]:
    """Return what is looked at within a node: no word, no type, no pattern of a match."""
    left_out = LEFT_OUT | ({"keywords"} if isinstance(node, ast.ClassDef) else set())
    if isinstance(node, ast.JoinedStr) or _is_for_types(node):
        return
    for name, value in ast.iter_fields(node):
        for child in value if isinstance(value, list) else [value]:
            if isinstance(child, ast.AST) and name not in left_out:
                yield child


def _is_for_types(node: ast.AST) -> bool:
    return isinstance(node, ast.If) and "TYPE_CHECKING" in ast.unparse(node.test)


def _with(node: ast.AST, **fields: object) -> str:
    """Return the text of a node with other fields."""
    other = copy.copy(node)
    for name, value in fields.items():
        setattr(other, name, value)
    return ast.unparse(other)


def _of_statement(node: ast.AST) -> Iterator[Text]:
    match node:
        case ast.If() | ast.While() if not _is_for_types(node):
            yield node.test, f"(not ({ast.unparse(node.test)}))"
            if isinstance(node, ast.If) and not node.orelse:
                yield node.test, "(False)"
        case ast.Return(value=ast.expr() as value) if ast.unparse(value) != "None":
            yield node, "return None"
        case ast.Expr(value=ast.Call() | ast.Yield() | ast.YieldFrom()) | ast.Raise() | ast.Continue() | ast.Break():
            yield node, "pass"
        case ast.Assign(targets=[ast.Attribute() | ast.Subscript(), *_]):
            yield node, "pass"
        case ast.AugAssign():
            yield node, "pass"
            if type(node.op) in RECKONED:
                yield node, _with(node, op=RECKONED[type(node.op)]())


def _of_operator(node: ast.AST) -> Iterator[Text]:
    match node:
        case ast.Compare():
            for index, op in enumerate(node.ops):
                ops = [*node.ops[:index], COMPARED[type(op)](), *node.ops[index + 1 :]]
                yield node, f"({_with(node, ops=ops)})"
        case ast.BoolOp():
            yield node, f"({_with(node, op=ast.Or() if isinstance(node.op, ast.And) else ast.And())})"
        case ast.UnaryOp(op=ast.Not() | ast.USub()):
            yield node, f"({ast.unparse(node.operand)})"
        case ast.BinOp() if type(node.op) in RECKONED and not _is_words(node):
            yield node, f"({_with(node, op=RECKONED[type(node.op)]())})"


def _of_value(node: ast.AST) -> Iterator[Text]:
    match node:
        case ast.Constant(value=bool()):
            yield node, f"({not node.value})"
        case ast.Constant(value=int() | float() as value):
            yield node, f"({value + 1})"
            yield node, f"({value - 1})"
        case ast.Call(func=ast.Name(id=name)) if name in CALLED:
            yield node, f"({_with(node, func=ast.Name(CALLED[name]))})"
        case ast.IfExp():
            yield node.test, f"(not ({ast.unparse(node.test)}))"
        case ast.comprehension():
            for condition in node.ifs:
                yield condition, "(True)"


def _is_words(node: ast.BinOp) -> bool:
    """Tell whether words are joined, types are named or a known sequence is added to."""
    return any(
        isinstance(side, ast.JoinedStr | ast.Tuple | ast.List | ast.Dict)
        or (isinstance(side, ast.Constant) and isinstance(side.value, str | None))
        for side in (node.left, node.right)
    )

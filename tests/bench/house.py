"""The shape of the code itself, as figures: its files, functions, types, rooms, and what the smallest plan enters.

Run on demand: ``python -m tests.bench.house``. The figures come from the syntax tree and from one plan in this
process; the same tree gives the same table.
"""

import ast
import sys
import threading
from collections import Counter, defaultdict
from collections.abc import Iterable, Iterator, Mapping, Sequence
from contextlib import redirect_stderr, redirect_stdout
from dataclasses import dataclass
from functools import cached_property
from importlib import import_module
from io import StringIO
from pathlib import Path
from tempfile import TemporaryDirectory
from types import FrameType

import portloom as package

ROOT = Path(str(package.__file__)).parent
SHORT = 4
"""A function whose body has fewer lines than this, its docstring left out, is short."""
TINY_BIKE = """\
bike: One lamp
supply: {running: 14.0 V, battery: {capacity: 10 Ah, at: tray}}
frame:
  legs: [{between: [tray, head], length: 600 mm}]
  earth: [tray]
places: [{name: seat, front: tray}]
loads: [{name: lamp, at: head, current: 1 A}]
inputs: [{name: key, at: head, signal: earth, action: latch, tells: key}]
"""
SMALLEST_UNIT = "six-way"

Function = ast.FunctionDef | ast.AsyncFunctionDef
Row = tuple[str, int]


# --- the syntax tree


@dataclass(frozen=True)
class Module:
    """One file of the package: its dotted name, its text, and whether it is a package's ``__init__``."""

    name: str
    text: str
    is_package: bool

    @cached_property
    def tree(self) -> ast.Module:
        """Its syntax tree."""
        return ast.parse(self.text)

    @property
    def room(self) -> str:
        """The subpackage or module right under the top that it is or lies in; the top itself is a room of its own."""
        return ".".join(self.name.split(".")[:2])

    @property
    def functions(self) -> list[Function]:
        """Its top-level functions."""
        return [node for node in self.tree.body if isinstance(node, Function)]

    @property
    def types(self) -> set[str]:
        """The names of its top-level classes and type aliases."""
        return {name for node in self.tree.body for name in _type_names(node)}

    def absolute(self, node: ast.ImportFrom) -> str:
        """Return the dotted name that an import is from, a relative one resolved."""
        if not node.level:
            return node.module or ""
        parts = self.name.split(".")
        base = parts[: len(parts) - node.level + self.is_package]
        return ".".join([*base, *([node.module] if node.module else [])])


def _type_names(node: ast.stmt) -> Iterator[str]:
    """Yield what a statement defines as a type: a class, ``type X = …``, or a capitalised name for a type."""
    if isinstance(node, ast.ClassDef):
        yield node.name
    elif isinstance(node, ast.Assign):
        for target in node.targets:
            if isinstance(target, ast.Name) and _is_type_name(target.id) and _is_type(node.value):
                yield target.id
    elif isinstance(node, ast.AnnAssign) and isinstance(node.target, ast.Name) and _is_alias(node.annotation):
        yield node.target.id


def _is_alias(annotation: ast.expr) -> bool:
    """Tell whether an annotation says that what it stands with is an alias."""
    return isinstance(annotation, ast.Name) and annotation.id == "TypeAlias"


def _is_type_name(name: str) -> bool:
    """Tell whether a name is in capitalised words, as types are, and not in capitals only, as constants are."""
    bare = name.lstrip("_")
    return bare[:1].isupper() and (len(bare) == 1 or not bare.isupper())


def _is_type(value: ast.expr) -> bool:
    """Tell whether an expression can be a type: a name, a subscript, a union of them, or a call of NewType."""
    match value:
        case ast.Name() | ast.Attribute() | ast.Subscript():
            return True
        case ast.BinOp(op=ast.BitOr()):
            return True
        case ast.Call(func=ast.Name(id="NewType" | "TypeVar")):
            return True
    return False


@dataclass(frozen=True)
class House:
    """All modules of the package, and who imports and names what."""

    modules: Mapping[str, Module]

    @cached_property
    def importers(self) -> Mapping[str, set[str]]:
        """The modules that import each module, wherever in it the import stands."""
        found = defaultdict(set)
        for module in self.modules.values():
            for name in _imported(module, self.modules):
                found[name].add(module.name)
        return found

    @cached_property
    def named(self) -> Counter[str]:
        """How often each word is a name or an attribute anywhere; definitions and imports do not count."""
        nodes = (node for module in self.modules.values() for node in ast.walk(module.tree))
        return Counter(
            node.id if isinstance(node, ast.Name) else node.attr
            for node in nodes
            if isinstance(node, ast.Name | ast.Attribute)
        )

    @property
    def functions(self) -> list[tuple[Module, Function]]:
        """Every top-level function with its module."""
        return [(module, function) for module in self.modules.values() for function in module.functions]

    @property
    def used_once(self) -> list[Function]:
        """The top-level functions whose name is named at exactly one place; a name that two share counts for both."""
        return [function for _, function in self.functions if self.named[function.name] == 1]

    @property
    def shared_types(self) -> list[str]:
        """The names of types that stand in two modules or more."""
        counted = Counter(name for module in self.modules.values() for name in module.types)
        return sorted(name for name, many in counted.items() if many > 1)

    @property
    def arrows(self) -> set[tuple[str, str]]:
        """Each pair of rooms of which the first imports from the second."""
        pairs = {
            (self.modules[importer].room, self.modules[other].room)
            for other, importers in self.importers.items()
            for importer in importers
        }
        return {(one, other) for one, other in pairs if one != other and package.__name__ not in (one, other)}

    @property
    def rooms(self) -> list[str]:
        """The top-level subpackages and modules."""
        return sorted({module.room for module in self.modules.values()} - {package.__name__})


def _imported(module: Module, modules: Mapping[str, Module]) -> set[str]:
    """Return the package's modules that a module imports, or names from."""
    found = set()
    for node in ast.walk(module.tree):
        if isinstance(node, ast.ImportFrom):
            source = module.absolute(node)
            inner = [f"{source}.{alias.name}" for alias in node.names]
            found |= {name if name in modules else source for name in inner}
        elif isinstance(node, ast.Import):
            found |= {alias.name for alias in node.names}
    return {name for name in found if name in modules and name != module.name}


def read_house() -> House:
    """Read every file of the package."""
    modules = {}
    for path in sorted(ROOT.rglob("*.py")):
        parts = [package.__name__, *path.relative_to(ROOT).with_suffix("").parts]
        is_package = parts[-1] == "__init__"
        name = ".".join(parts[:-1] if is_package else parts)
        modules[name] = Module(name, path.read_text("utf-8"), is_package)
    return House(modules)


def circles(nodes: Sequence[str], arrows: Iterable[tuple[str, str]]) -> int:
    """Return how many groups of nodes reach each other along arrows, both ways."""
    after = defaultdict(set)
    for one, other in arrows:
        after[one].add(other)
    reach = {node: _reached(node, after) for node in nodes}
    rings = (frozenset(other for other in reach[node] if node in reach[other]) for node in nodes)
    return len({ring for ring in rings if ring})


def _reached(node: str, after: Mapping[str, set[str]]) -> set[str]:
    found: set[str] = set()
    waiting = [node]
    while waiting:
        for other in after.get(waiting.pop(), set()) - found:
            found.add(other)
            waiting.append(other)
    return found


# --- the smallest plan


class Watch:
    """What of the package is entered while it watches, in every thread."""

    def __init__(self) -> None:
        """Begin with nothing."""
        self.functions: set[tuple[str, int, str]] = set()
        self.deepest = 0
        self._ours: dict[str, bool] = {}
        self._depth = threading.local()

    @property
    def files(self) -> set[str]:
        """The files of the functions entered."""
        return {file for file, *_ in self.functions}

    def __call__(self, frame: FrameType, event: str, _: object) -> None:
        """Take one event of the interpreter's profile hook."""
        code = frame.f_code
        if event not in ("call", "return") or not self._is_ours(code.co_filename):
            return
        depth = getattr(self._depth, "now", 0) + (1 if event == "call" else -1)
        self._depth.now = depth
        self.deepest = max(self.deepest, depth)
        if event == "call":
            self.functions.add((code.co_filename, code.co_firstlineno, code.co_qualname))

    def _is_ours(self, file: str) -> bool:
        if file not in self._ours:
            self._ours[file] = Path(file).is_relative_to(ROOT)
        return self._ours[file]


def watched_plan() -> Watch:
    """Plan the tiny bike on the smallest bundled unit by the command line, in this process, and watch it."""
    main = import_module(f"{package.__name__}.cli.main").main  # what the command loads at its start is not watched
    watch, out = Watch(), StringIO()
    with TemporaryDirectory() as folder:
        bike = Path(folder) / "bike.yaml"
        bike.write_text(TINY_BIKE, "utf-8")
        arguments, sys.argv = sys.argv, [package.__name__, "plan", str(bike), "--unit", SMALLEST_UNIT]
        threading.setprofile(watch)
        sys.setprofile(watch)
        try:
            with redirect_stdout(out), redirect_stderr(out):
                main()
        except SystemExit as end:
            if end.code:
                raise RuntimeError(out.getvalue()) from end
        finally:
            sys.setprofile(None)
            threading.setprofile(None)
            sys.argv = arguments
    return watch


# --- the table


def rows(house: House, watch: Watch) -> Iterator[Row]:
    """Return every figure with what it counts."""
    once = house.used_once
    yield "files", len(house.modules)
    yield "lines", sum(len(module.text.splitlines()) for module in house.modules.values())
    yield "top-level functions", len(house.functions)
    yield "  of these used once", len(once)
    yield "  of these under four lines", sum(_lines(function) < SHORT for function in once)
    yield "modules with one importer", sum(len(house.importers[name]) == 1 for name in house.modules)
    yield "type names in two modules or more", len(house.shared_types)
    yield "rooms", len(house.rooms)
    yield "arrows between rooms", len(house.arrows)
    yield "circles of rooms", circles(house.rooms, house.arrows)
    yield "files entered by the smallest plan", len(watch.files)
    yield "functions entered by it", len(watch.functions)
    yield "greatest depth of its frames", watch.deepest


def _lines(function: Function) -> int:
    """Return how many lines the body of a function has without its docstring."""
    body = function.body[ast.get_docstring(function) is not None :]
    return (body[-1].end_lineno or body[-1].lineno) - body[0].lineno + 1 if body else 0


def main() -> None:
    """Print the table."""
    for what, figure in rows(read_house(), watched_plan()):
        print(f"{what:<36} {figure:>6,}")


if __name__ == "__main__":
    main()

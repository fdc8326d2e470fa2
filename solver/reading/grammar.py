"""Why a text is no YAML, in plain words, whichever of the two YAML parsers found it."""

import re

from yaml.error import Mark, MarkedYAMLError, YAMLError

from solver.reading.problems import Flaw

TAB_INDENT = re.compile(r"^ *\t[ \t]*(?=[^ \t\r\n#])", re.MULTILINE)
OPENERS = (("flow mapping", "{", "}"), ("flow sequence", "[", "]"))
NO_YAML = "this can't be read"
LAYOUT = "look at the indentation, colons, commas and quotes here and in the line above"


def tabs(text: str) -> list[Flaw]:
    """Tell each line of ``text`` that is indented with a tab."""
    return [
        Flaw(text.count("\n", 0, found.start()) + 1, found[0].index("\t") + 1, "a tab indents this line", "use spaces")
        for found in TAB_INDENT.finditer(text)
    ]


def explain(error: YAMLError, text: str) -> Flaw:
    """Say what is wrong where the parser stopped."""
    if not isinstance(error, MarkedYAMLError) or error.problem_mark is None:
        return Flaw(1, 1, NO_YAML, LAYOUT)
    problem, context = str(error.problem), str(error.context)
    return _in_brackets(error, context) or _in_a_word(error, problem, context, text) or _layout(error, problem)


def _flaw(mark: Mark | None, what: str, right: str) -> Flaw:
    return Flaw(mark.line + 1, mark.column + 1, what, right) if mark else Flaw(1, 1, what, right)


def _in_brackets(error: MarkedYAMLError, context: str) -> Flaw | None:
    for name, opener, closer in OPENERS:
        if name in context:
            what = f"the '{opener}' opened here is not closed in time"
            return _flaw(error.context_mark, what, f"close it with '{closer}', and put a comma between its entries")
    return None


def _in_a_word(error: MarkedYAMLError, problem: str, context: str, text: str) -> Flaw | None:
    if "unknown escape" in problem:
        return _flaw(error.context_mark, "an unknown '\\' stands in these quotes", "write \\\\, or use single quotes")
    if "quoted scalar" in context or "quoted scalar" in problem:
        return _flaw(error.context_mark, "a quote is opened here and never closed", "close it")
    if "cannot start any token" in problem:
        sign = _character(text, error.problem_mark)
        if sign == "\t":
            return _flaw(error.problem_mark, "a tab stands here", "use spaces")
        return _flaw(error.problem_mark, f"a word can't start with '{sign}'", "put the word in quotes")
    if "alias" in context or "anchor" in context:
        return _flaw(error.context_mark, "a word can't start with '*' or '&'", "put the word in quotes")
    return None


def _layout(error: MarkedYAMLError, problem: str) -> Flaw:
    if problem.startswith("mapping values are not allowed"):
        return _flaw(error.problem_mark, "a ':' stands where none can be", f"put the words in quotes, or {LAYOUT}")
    if "expected ':'" in problem:
        return _flaw(error.context_mark, "a key here has no ':'", "write KEY: VALUE")
    if "expected '-' indicator" in problem:
        return _flaw(error.problem_mark, "a key stands where a list goes on", "start the entry with '-', or indent it")
    return _flaw(error.problem_mark, NO_YAML, LAYOUT)


def _character(text: str, mark: Mark | None) -> str:
    lines = re.split("\r\n|[\r\n\x85\u2028\u2029]", text)
    if mark is None or mark.line >= len(lines):
        return ""
    return lines[mark.line][mark.column : mark.column + 1]

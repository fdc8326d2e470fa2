"""Answers in a file of their own: kept while they are given, or written by hand."""

from collections.abc import Iterator, Mapping
from pathlib import Path

from portloom.base.nearest import suggest_key
from portloom.inputs.editing.splicing import Plain, pair
from portloom.inputs.files import OF_ANSWERS
from portloom.inputs.parsing import file_text, parse
from portloom.inputs.problems import Flaw, about, refuse
from portloom.inputs.starting.added import Added
from portloom.inputs.starting.answers import Answers, as_list, as_table, listed, tabled
from portloom.inputs.starting.kinds import Kind, NotRight, Sizes, SomeOf, Table, Words
from portloom.inputs.starting.ports import Groups
from portloom.inputs.starting.question import Question, Questions
from portloom.inputs.tree import Keyed, Listed, Node, Word, plain

ENDING = ".answers"
WHAT = OF_ANSWERS
"""The key that says what the answers are of."""


def place_beside(file: Path) -> Path:
    """Return where the answers are kept of which ``file`` is to be made."""
    return file.with_name(f"{file.stem}{ENDING}")


def answers_text(what: str, table: Questions, answers: Answers) -> str:
    """Return the text of a file with the answers for a new 'bike' or 'unit'."""
    lines = [f"# Answers to the questions of 'portloom new {what}'.", f"{WHAT}: {what}"]
    kinds = dict(_kinds(table, answers))
    lines += [pair(key, _value(kinds[key], said), flow=False) for key, said in answers.items() if key in kinds]
    return "".join(f"{line}\n" for line in lines)


def _value(kind: Kind, said: str) -> Plain:
    match kind:
        case SomeOf() | Sizes() | Words():
            return list(listed(said))
        case Table() | Added() | Groups():
            return tabled(said)
        case _:
            return said


def _kinds(table: Questions, answers: Answers) -> Iterator[tuple[str, Kind]]:
    yield from ((question.key, question.kind(answers)) for question in table if question.key in answers)


def read_answers(path: Path, what: str, table: Questions) -> dict[str, str]:
    """Return the answers in a file; raise BadFile with all that is wrong in them."""
    text = file_text(path)
    parsed = parse(f"{text}\n{WHAT}: {what}\n" if _holds_nothing(text) else text, str(path), what)
    reading = _Reading(parsed.root, table, what)
    flaws = [*parsed.flaws, *about("files", reading.flaws)]
    if flaws:
        raise refuse(str(path), flaws)
    return reading.answers


def _holds_nothing(text: str) -> bool:
    """Tell whether there is nothing in it but comments."""
    return not any(line.strip() and not line.lstrip().startswith("#") for line in text.splitlines())


class _Reading:
    """The answers of a tree, each read as its question has it, with those before it taken as said or usual."""

    def __init__(self, root: Keyed, table: Questions, what: str) -> None:
        self.answers: dict[str, str] = {}
        self.flaws = [*_not_keys(root, table, what)]
        self._root = root
        self._so_far: dict[str, str] = {}
        self._all_known = True
        for question in table:
            self._take(question)

    def _take(self, question: Question) -> None:
        node, is_asked = self._root.values.get(question.key), question.is_asked(self._so_far)
        if node is None:
            usual = question.usual(self._so_far) if is_asked else None
            self._all_known &= not is_asked or usual is not None
            if usual is not None:
                self._so_far[question.key] = usual
        elif not is_asked and self._all_known:
            what = f"'{question.key}' is not asked of such a bike or unit, by the answers before it"
            named = f", or name it in the list '{question.gate}'" if question.gate else ""
            self.flaws.append(Flaw.at(self._root.key(question.key), what, f"leave it out{named}"))
        elif is_asked:
            self._read(question, node)

    def _read(self, question: Question, node: Node) -> None:
        try:
            said = question.kind(self._so_far).read(_as_said(node), "")
        except NotRight as wrong:
            what, _, right = str(wrong).partition("; ")
            self.flaws.append(Flaw.at(node, what, right))
            self._all_known = False  # what is asked after it may hang on it
        else:
            self.answers[question.key] = self._so_far[question.key] = said


def _not_keys(root: Keyed, table: Questions, what: str) -> Iterator[Flaw]:
    known = [question.key for question in table]
    for name, stands in root.keys.items():
        if name not in (*known, WHAT):
            yield Flaw.at(stands, f"no question is called '{name}'", suggest_key(name, known))
    of = root.values.get(WHAT)
    if isinstance(of, Word) and of.text != what:
        yield Flaw.at(of, f"these are answers for a new {of.text}", f"call 'portloom new {of.text}', or write '{what}'")


def _as_said(node: Node) -> str:
    """Return an answer as it would be typed."""
    match node:
        case Word():
            return node.text
        case Listed():
            return as_list(item.text for item in node.items if isinstance(item, Word))
        case Keyed():
            said = plain(node)
            return as_table({row: str(value) for row, value in said.items()} if isinstance(said, Mapping) else {})
        case _:
            return ""

"""Builds the typed bike or unit, and says in plain words which fields can't be read."""

import re
from collections.abc import Callable, Sequence
from typing import TypeVar

from pydantic import ValidationError
from pydantic_core import ErrorDetails

from portloom.base.entries import Entry
from portloom.base.nearest import and_list, nearest, suggest, suggest_key
from portloom.base.quantities import NUMBER
from portloom.base.vocabulary import NEVER_OPENED
from portloom.inputs.mends import Way, to_key, to_word
from portloom.inputs.problems import Flaw, Placed
from portloom.inputs.schema import KeySpot, entry_of, example_of, fields, keys, meaning, section_of, spot
from portloom.inputs.tree import Broken, Keyed, Listed, Node, Word, broken, nearest_node, plain

Typed = TypeVar("Typed", bound=Entry)
KINDS = {Word: "a word", Listed: "a list", Keyed: "a mapping"}
NAMED_WORDS = {
    ("polarity", "positive"): "write negative: a bike with positive earth is not accepted",
}
"""Words that are known and refused, and why."""
NOTHING_ELSE = {"opens": NEVER_OPENED}
"""Why a key takes none but its own few words."""
FOUND_BY_THE_PLAN = "leave it out: which port it goes on is what the plan finds"
NAMED_KEYS = {
    "mode": "leave it out: a load has a mode, a switch an 'action', push or latch",
    "port": FOUND_BY_THE_PLAN, "output": FOUND_BY_THE_PLAN, "input": FOUND_BY_THE_PLAN, "pin": FOUND_BY_THE_PLAN,
    "fuse": "leave it out: which trip an output is set to is what the plan finds",
    "trip": "leave it out: which trip an output is set to is what the plan finds",
    "watts": "write 'power', such as power: 55 W", "amps": "write 'current', such as current: 4 A",
    "type": "write 'part' for what it is, or 'kind' for what it is electrically",
    "voltage": "leave it out: the supply's voltages are under 'supply'",
}  # fmt: skip
"""Keys that people write and files do not have, and what is right instead."""
TITLES = ("bike", "unit")
"""Keys that say of which file this is the one, by its name."""


def build(model: type[Typed], root: Keyed) -> tuple[Typed | None, list[Flaw]]:
    """Return the typed ``model`` of ``root``, or None and what is wrong with its fields."""
    try:
        return model.model_validate(plain(root), by_alias=True, by_name=False), [*_broken(root, ())]
    except ValidationError as error:
        errors = [_Error(model, root, details) for details in error.errors(include_url=False)]
    unknown = [wrong for wrong in errors if wrong.details["type"] == "extra_forbidden"]
    flaws = [flaw for wrong in errors if (flaw := wrong.flaw(unknown)) is not None]
    return None, [*flaws, *_broken(root, [wrong.node for wrong in unknown])]


def _broken(root: Keyed, told: Sequence[Node]) -> list[Flaw]:
    return [Flaw.at(node, node.what, node.right) for node in broken(root) if node.what and node not in told]


class _Error:
    """One of pydantic's errors: where it stands in the tree and in the model."""

    def __init__(self, model: type[Entry], root: Keyed, details: ErrorDetails) -> None:
        self.details = details
        self.path = tuple(step for step in details["loc"] if step != "[key]")
        self.key = next((step for step in reversed(self.path) if isinstance(step, str)), "")
        self.node = nearest_node(root, self.path)
        self.parent = nearest_node(root, self.path[:-1])
        self.spot: KeySpot = spot(model, self.path)

    def flaw(self, unknown: Sequence["_Error"]) -> Flaw | None:
        """Say what is wrong, or None if something else has said it."""
        kind = self.details["type"]
        if kind == "extra_forbidden":
            return self._unknown_key()
        if isinstance(self.node, Broken):
            return None
        if kind == "missing":
            return self._missing(unknown)
        return TELLERS.get(kind, _Error._wrong_shape)(self)

    def _unknown_key(self) -> Flaw:
        where = self.parent.key(self.key) if isinstance(self.parent, Keyed) else self.node
        right = self.right_key()
        return Flaw.at(where, f"unknown key '{self.key}'", right, self._as_key(where, right))

    def _as_key(self, where: Placed, right: str) -> tuple[Way, ...]:
        """Return what becomes of the tree with the key that is right, where there is one and it is not there yet."""
        known = next((key for key in keys(self.spot.entry) if right.startswith(f"write '{key}'")), None)
        there = isinstance(self.parent, Keyed) and known in self.parent.values
        return to_key(where, known) if known and isinstance(where, Word) and not there else ()

    def right_key(self) -> str:
        """Say what to write in place of a key that is not known."""
        known = keys(self.spot.entry)
        there = None if self.key.casefold() in NAMED_KEYS else nearest(self.key, known)
        if there is not None and isinstance(self.parent, Keyed) and there in self.parent.values:
            return f"leave it out: '{there}' is there already"
        return NAMED_KEYS.get(self.key.casefold()) or self._elsewhere(known) or suggest_key(self.key, known)

    def _elsewhere(self, known: Sequence[str]) -> str:
        """Say where a key belongs that is known one step further down; of the whole file, what its name is called."""
        sections = {key: section_of(field) for key, field in fields(self.spot.entry).items()}
        deeper = [key for key, entry in sections.items() if entry is not None and self.key in keys(entry)]
        if deeper:
            return f"move it under '{deeper[0]}'"
        title = next((key for key in known if key in TITLES), None)
        return f"write '{title}'" if title is not None and self.key.casefold() == "name" else ""

    def _missing(self, unknown: Sequence["_Error"]) -> Flaw | None:
        if isinstance(self.path[-1], int):
            return self._pair()
        if any(other.parent is self.parent and other.right_key() == f"write '{self.key}'" for other in unknown):
            return None
        if self.key == "name" and "part" in keys(self.spot.entry):
            return Flaw.at(self.node, "nothing says what this is", "add part: what it is ('portloom parts' lists them)")
        also = "name, or names for several alike" if "names" in keys(self.spot.entry) else self.key
        text = f": {meaning(self.spot.field)}" if self.spot.field else ""
        return Flaw.at(self.node, f"'{self.key}' is missing", f"add {also}{text}")

    def _pair(self) -> Flaw:
        where = self.node if isinstance(self.node, Listed) else self.parent
        count = len(where.items) if isinstance(where, Listed) else 1
        right = f"write two: {self._meaning()}"
        return Flaw.at(where, f"'{self.key}' has {count} {'entry' if count == 1 else 'entries'}", right)

    def _too_short(self) -> Flaw | None:
        if isinstance(self.node, Listed) and self.node.items:
            return None  # its entries are there, and told one by one
        return Flaw.at(self.node, f"'{self.key}' is empty", f"give at least one: {self._meaning()}")

    def _empty_word(self) -> Flaw:
        return Flaw.at(self.node, f"'{self.key}' is empty", f"write {self._meaning()}")

    def _literal(self) -> Flaw:
        if not isinstance(self.node, Word):
            return self._wrong_shape()
        said = self.node.text
        choices = self._choices()
        right = NAMED_WORDS.get((self.key, said.lower())) or suggest(said, choices)
        why = f": {NOTHING_ELSE[self.key]}" if self.key in NOTHING_ELSE else ""
        ways = to_word(self.node, nearest(said, choices) or choices[0])
        return Flaw.at(self.node, f"'{said}' is not accepted as '{self.key}'{why}", right, ways)

    def _choices(self) -> list[str]:
        return re.findall(r"'([^']*)'", str(self.details["ctx"]["expected"]))

    def _unknown_choice(self) -> Flaw:
        return Flaw.at(
            self.parent.key(self.key) if isinstance(self.parent, Keyed) else self.node,
            f"'{self.key}' is not known here",
            suggest(self.key, self._choices()),
        )

    def _said(self) -> Flaw:
        if not isinstance(self.node, Word):
            return self._wrong_shape()
        context = self.details["ctx"]
        return Flaw.at(self.node, str(context["what"]), str(context["right"]), self._with_unit(self.node))

    def _with_unit(self, said: Word) -> tuple[Way, ...]:
        """Return what becomes of a figure with the unit that its hint shows."""
        example = example_of(self.spot.field) if self.spot.field else None
        if example is None:
            return ()
        return to_word(said, f"{said.text} {example.split()[-1]}" if NUMBER.fullmatch(said.text) else example)

    def _wrong_shape(self) -> Flaw:
        given = KINDS.get(type(self.node), "something else")
        return Flaw.at(self.node, f"{given} is given as '{self.key}'", f"write {self._wanted()}")

    def _wanted(self) -> str:
        inner = entry_of(self.spot.field) if self.spot.field else None
        if self.details["type"] == "model_type":
            return f"a mapping with the keys {and_list(keys(inner or self.spot.entry))}"
        shape = {"tuple_type": "a list: ", "dict_type": "a mapping: "}.get(self.details["type"], "one value: ")
        return f"{shape}{self._meaning()}"

    def _meaning(self) -> str:
        """Say what a key means; what is taken where it is left out is no word to write."""
        return meaning(self.spot.field).partition("; default")[0] if self.spot.field else self.key


def _literal_or_key(error: _Error) -> Flaw:
    return error._unknown_choice() if error.details["loc"][-1] == "[key]" else error._literal()  # noqa: SLF001


TELLERS: dict[str, Callable[[_Error], Flaw | None]] = {
    "too_short": _Error._too_short,  # noqa: SLF001
    "too_long": _Error._pair,  # noqa: SLF001
    "string_too_short": _Error._empty_word,  # noqa: SLF001
    "literal_error": _literal_or_key,
    "said": _Error._said,  # noqa: SLF001
}

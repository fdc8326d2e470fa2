"""Every name another one: nothing of a plan may hang on what things are called."""

import random
import re
from collections.abc import Iterator
from typing import Any

from .change import Changed, Entry, Plan, same_but, same_in

POINTS = ("at", "between", "front", "rear", "earth", "connectors", "own_switch", "to")
REFERENCES = (*POINTS, "name", "names", "operates", "from", "share", "bank", "follow", "avoid", "on", "not_on", "shows",
              "dash", "bulb")  # fmt: skip
"""Keys whose values are names, or lists of names."""
KEYED = ("banks", "out_of_use", "points")
"""Keys whose values are mappings from names."""
KEPT = ("heated grips", "auxiliary lamps", "charging socket")
"""What may be added one day where no file says it: not what is called so and is there already."""
TOKEN = re.compile(r"[qQ]\d{3}z")


def renamed(rng: random.Random, bike: Entry, unit: Entry) -> Changed:
    """Call all that the files name otherwise; with the old names put back into it the plan is the same."""
    names = [name for name in dict.fromkeys([*_named(bike), *_named(unit)]) if name not in KEPT]
    numbers = rng.sample(range(1000), len(names))
    new = {name: f"q{number:03}z" for name, number in zip(names, numbers, strict=True)}
    old = {token: name for name, token in new.items()}

    def wrong(before: Plan, after: Plan) -> Iterator[str]:
        yield from same_but("warnings")(before, _with_names(after, old))
        yield from same_in(("warnings",), _unguessed(before), _unguessed(_with_names(after, old)))

    return Changed(_renamed(bike, new), _renamed(unit, new), wrong)


def _unguessed(plan: Plan) -> Plan:
    """Return the warnings of a plan but for those that ask whether a load is what it is called."""
    return {"warnings": [said for said in plan["warnings"] if " looks like " not in said]}


def _named(entry: object, key: str = "") -> Iterator[str]:
    """Return the names of a file: what something is called, each point, each group and each bank."""
    if isinstance(entry, dict):
        for word, value in entry.items():
            if word in KEYED:
                yield from value
            yield from _named(value, word)
    elif isinstance(entry, list):
        for one in entry:
            yield from _named(one, key)
    elif key in (*POINTS, "name", "names", "share", "bank", "bulb", "dash"):
        yield str(entry)


def _renamed(entry: Any, new: dict[str, str], key: str = "") -> Any:
    if isinstance(entry, dict):
        return {
            (new.get(word, word) if key in KEYED else word): _renamed(value, new, word) for word, value in entry.items()
        }
    if isinstance(entry, list):
        return [_renamed(one, new, key) for one in entry]
    if key == "alike" or key in REFERENCES:
        return new.get(entry) or " - ".join(new.get(part, part) for part in str(entry).split(" - "))
    return entry


def _with_names(entry: Any, old: dict[str, str]) -> Any:
    if isinstance(entry, dict):
        return {_with_names(key, old): _with_names(value, old) for key, value in entry.items()}
    if isinstance(entry, list):
        return [_with_names(one, old) for one in entry]
    return TOKEN.sub(lambda found: _as_begun(found[0], old), entry) if isinstance(entry, str) else entry


def _as_begun(token: str, old: dict[str, str]) -> str:
    """Return a name, with a capital where it begins a sentence."""
    name = old[token.lower()]
    return name[0].upper() + name[1:] if token[0] == "Q" else name

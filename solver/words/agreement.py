"""Small words that go with the names that people give: 'horn draws', 'heated grips draw'."""

import re

NOT_MORE = ("ss", "us", "is")
"""Endings in s of a single thing: compass, chassis."""
OTHERWISE = {"is": "are", "has": "have", "does": "do"}


def several(name: str) -> bool:
    """Tell whether a name is of more than one thing: a list, a range of ports, a word in the plural.

    A name is any word that its owner likes, so this goes by its looks: only the verb after it hangs on that.
    """
    if re.search(r", | and |\d to \w+ \d", name):
        return True
    return name.endswith("s") and not name.endswith(NOT_MORE)


def does(name: str, verb: str) -> str:
    """Return a name with what it does, the verb given for one thing: 'horn draws', 'heated grips draw'."""
    return f"{name} {agreed(name, verb)}"


def agreed(name: str, verb: str) -> str:
    """Return a verb, with what follows it, as it stands after a name: 'draws' or 'draw'."""
    first, *rest = verb.split(" ", 1)
    return " ".join((_of_several(first) if several(name) else first, *rest))


def _of_several(verb: str) -> str:
    return OTHERWISE.get(verb, verb.removesuffix("es" if verb.endswith("sses") else "s"))


def seat_said(place: str, *, turned: bool) -> str:
    """Say where a unit sits and which way round: 'under seat, turned round'."""
    return f"{place}, turned round" if turned else place


def one(what: str) -> str:
    """Return a thing with its article: 'a brake lamp', 'an ignition'."""
    return f"{'an' if what[:1].lower() in 'aeiou' else 'a'} {what}"


def it(name: str) -> str:
    """Return the word that stands for a name in the same sentence."""
    return "they" if several(name) else "it"

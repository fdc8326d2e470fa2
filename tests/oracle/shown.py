"""What dashes show: further points of the circuits and wires of others, and what only a dash reads.

A load that a dash shows has the dash's point in its circuit, where nothing is drawn. An input that tells or operates
something has it on its wire. One that does neither has a wire of its own to the dash and takes no port; a sender or
sensor has a wire back to the dash as well, unless it has one wire or earths through its body, and a third where it
has three.
"""

from collections.abc import Iterable
from dataclasses import replace
from fractions import Fraction
from typing import Any

from .things import Load, Switch

Item = dict[str, Any]
CONTACTS = ("earth", "supply")


def shown_names(item: Item, loads: Iterable[Item], switches: Iterable[Item]) -> list[str]:
    """Return the names of what a load shows: a group stands for its first load."""
    known = {thing["name"] for thing in (*loads, *switches)}
    return [word if word in known else _first_of(word, loads) for word in _words(item)]


def _words(item: Item) -> list[str]:
    said = item.get("shows", [])
    lamps = [said] if isinstance(said, str) else said
    return [word for lamp in lamps for word in ([lamp] if isinstance(lamp, str) else lamp)]


def _first_of(group: str, loads: Iterable[Item]) -> str:
    return str(next(item["name"] for item in loads if item.get("share") == group))


class Shown:
    """Who shows what on a bike."""

    def __init__(self, loads: list[Item], switches: list[Item]) -> None:
        """Take the loads and the inputs as written, each with its name."""
        self._by = {item["name"]: shown_names(item, loads, switches) for item in loads}

    def dashes(self, name: str) -> list[str]:
        """Return the names of the dashes that show something, in the order of the file."""
        return [dash for dash, names in self._by.items() if name in names]

    def taps(self, name: str, loads: dict[str, Load]) -> tuple[Load, ...]:
        """Return the dashes that show a load as what draws nothing on its circuit."""
        return tuple(_idle(loads[dash]) for dash in self.dashes(name))

    def switch(self, switch: Switch, item: Item, loads: dict[str, Load]) -> Switch:
        """Return an input with the dashes that show it."""
        dashes = tuple((dash, loads[dash].at) for dash in self.dashes(switch.name))
        return replace(switch, dashes=dashes, more_wires=_more_wires(item))


def _idle(dash: Load) -> Load:
    idle, nothing = replace(dash, leads=None, avoid=frozenset(), own_switch="", taps=()), Fraction(0)
    return replace(idle, current_ma=0, inrush_ma=nothing, inrush_ms=nothing)


def to_unit(item: Item) -> bool:
    """Tell whether the unit reads an input."""
    return bool(item.get("tells") or item.get("operates"))


def only_dashes_read(item: Item, switches: dict[str, Switch]) -> bool:
    """Tell whether a dash reads an input, and nothing else; what nothing reads has no wire."""
    return not to_unit(item) and bool(switches[item["name"]].dashes)


def _more_wires(item: Item) -> int:
    """Return how many wires a sensor has beside its signal; a contact has none to a dash."""
    count = int(item.get("wires", "2"))
    back = item["signal"] not in CONTACTS and count > 1 and item.get("return", "wire") == "wire"
    return back + (count == 3)

"""Files that are being edited until only some facts are left, and what could not be said in them."""

from collections.abc import Collection, Iterable
from copy import deepcopy
from typing import Any

from conflict_facts import Case, Tree
from oracle.facts import Key
from oracle.filling import words_of
from oracle.reading import on_unit
from oracle.things import Load, Switch

HARDER, EASIER = "harder", "easier"
"""What an edit that says not quite what was to be said makes of the files."""
LEAST = "1 mA"
LEAST_MA = 1


class Files:
    """A bike's and a unit's file as trees, and which of their facts are kept."""

    def __init__(self, case: Case, kept: Collection[Key]) -> None:
        """Take all that the files say; nothing is edited yet."""
        self.case, self.kept = case, frozenset(kept)
        self.bike: Tree = deepcopy(case.tree)
        self.unit: Tree = deepcopy(case.unit)
        self.doubts: set[tuple[str, str]] = set()
        self.spare_outputs: list[str] = []
        self.spare_inputs: list[str] = []
        self.not_on: dict[str, set[str]] = {}
        """The outputs of the unit's file on which a load may not be, whatever the edited file says of them."""
        if any("shows" in item for item in case.tree["loads"]):
            self.doubt("a dash that shows something")

    def dropped(self, *key: str) -> bool:
        """Tell whether something is a fact of the files that is not kept."""
        return key in self.case.facts and key not in self.kept

    def doubt(self, what: str, *ways: str) -> None:
        """Note what can't be said, and what that makes of the files: by default either."""
        self.doubts |= {(way, what) for way in ways or (HARDER, EASIER)}

    def keep_off(self, name: str, ports: Iterable[str]) -> None:
        """Keep a load off some outputs."""
        self.not_on.setdefault(name, set()).update(ports)

    # --- the things of the bike, as the second program reads them

    @property
    def loads_kept(self) -> list[Load]:
        """The loads that need an output and are not left out."""
        return [load for load in on_unit(self.case.bike) if not self.dropped("load", load.name)]

    @property
    def switches_kept(self) -> list[Switch]:
        return [switch for switch in self.case.bike.switches if not self.dropped("switch", switch.name)]

    @property
    def switches_gone(self) -> list[Switch]:
        return [switch for switch in self.case.bike.switches if self.dropped("switch", switch.name)]

    def item(self, which: str, name: str) -> Tree:
        """Return the entry of a load or a switch."""
        return next(item for item in self.bike[which] if item["name"] == name)

    @property
    def fixed(self) -> set[str]:
        """The points where the frame is earth: reached from the battery without a leg that moves."""
        reached, legs = {self.case.bike.battery}, self.bike["frame"]["legs"]
        for _ in legs:
            for leg in legs:
                if leg.get("moves", "false") == "false" and reached & set(leg["between"]):
                    reached |= set(leg["between"])
        return reached


def names(item: Tree, key: str) -> list[str]:
    """Return the words of a key."""
    return words_of(item, key)


def amperes(ma: Any) -> str:
    """Write a current, at least the least."""
    return f"{float(max(ma, LEAST_MA)) / 1000:.6f} A"

"""Levels: flags that are up when a leg holds so many loaded wires in a case, with the rows that raise them."""

from collections.abc import Iterable, Sequence
from dataclasses import replace

from portloom.job.loading import fixed_loaded, loaded_wires
from portloom.search.columns import Flag, OutputColumn, SumRow
from portloom.search.tableau import NO_LOWER_BOUND, Tableau

Variable = int
"""The number of a variable of a tableau: columns first, then flags."""
Level = Variable | bool
"""The flag of a level; True where it is reached in every plan, False where in none."""
Terms = Iterable[tuple[int, int]]


class Levels:
    """Adds flags and rows to a tableau."""

    def __init__(self, choice: Tableau) -> None:
        """Take the choice that is made stricter."""
        self.choice = choice
        self._flags = list(choice.flags)
        self._rows = list(choice.rows)
        self._known: dict[tuple[int, int, int], Level] = {}
        self.outputs = [
            (number, column)
            for number, column in enumerate(choice.columns)
            if isinstance(column, OutputColumn) and not column.later
        ]
        """The columns that are circuits on outputs, with their numbers."""
        self._in_leg: dict[int, Sequence[tuple[int, OutputColumn, int]]] = {}
        self._reached: dict[Variable, SumRow] = {}
        """For each level's flag, the row that keeps it down until the level is reached."""

    def tableau(self) -> Tableau:
        """Return the stricter choice."""
        return replace(self.choice, flags=tuple(self._flags), rows=tuple(self._rows))

    def new_flag(self, *name: str, most: int = 1) -> Variable:
        """Add a flag, a whole number from 0 to ``most``, with what it is up for."""
        self._flags.append(Flag(most, name))
        return len(self.choice.columns) + len(self._flags) - 1

    def at_most(self, terms: Terms, most: int, *name: str) -> None:
        """Add a row, with its name: the sum of ``terms`` (variable, amount) is at most ``most``."""
        self._rows.append(SumRow(tuple(terms), NO_LOWER_BOUND, most, name=name))

    def level(self, leg: int, case: int | None, loaded: int) -> Level:
        """Return the flag that is up when ``loaded`` wires or more are loaded in a leg in a steady-state case.

        True where that is so in every plan, False where in none. Without a case a wire lies alone.
        """
        if case is None or loaded <= 1:
            return loaded <= 1
        key = (leg, case, loaded)
        if key not in self._known:
            self._known[key] = self._new_level(leg, case, loaded)
        return self._known[key]

    def _new_level(self, leg: int, case: int, loaded: int) -> Level:
        site = self.choice.site
        moment = site.job.steady[case]
        always = fixed_loaded(site, leg, moment)
        if always >= loaded:
            return True
        passing = [
            (number, wires)
            for number, column, wires in self._passing(leg)
            if site.job.circuit_on(column.wired.circuit, moment)
        ]
        most = sum(wires * self.choice.columns[number].most for number, wires in passing)
        if always + most < loaded:
            return False
        name = ("level", f"{loaded} loaded wires in {site.job.network.legs[leg].label}", moment.label)
        flag = self.new_flag(*name)
        # So many wires only with the flag up.
        self.at_most([*passing, (flag, -most)], loaded - 1 - always, *name)
        reached = (*((number, -wires) for number, wires in passing), (flag, loaded - always))
        self._reached[flag] = SumRow(reached, NO_LOWER_BOUND, 0, name=name)
        return flag

    def _passing(self, leg: int) -> Sequence[tuple[int, OutputColumn, int]]:
        """Return the columns with wires in a leg that are loaded while they are on, and how many."""
        if leg not in self._in_leg:
            self._in_leg[leg] = [
                (number, column, wires) for number, column in self.outputs if (wires := loaded_wires(column.wired, leg))
            ]
        return self._in_leg[leg]

    def only_when_reached(self, flag: Variable) -> None:
        """Keep a level's flag down where the level is not reached."""
        if flag in self._reached:
            self._rows.append(self._reached.pop(flag))

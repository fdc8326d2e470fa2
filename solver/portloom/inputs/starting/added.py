"""Rows that a builder adds, each under a name of its own: points of the frame, things alongside, later loads."""

from collections.abc import Callable, Mapping, Sequence

from portloom.base.letters import first_hidden, on_one_line, quoted
from portloom.base.parts.phrases import key_of
from portloom.base.values import dataclass
from portloom.inputs.starting.answers import NONE, as_table, tabled
from portloom.inputs.starting.kinds import NotRight

MOST = 6
"""Rows that leave room for the question."""
LONGEST = 18
"""Letters of a name, so that all of them still fit a screen."""
NOT_IN_NAMES = ":;,#[]{}\"'"
NO_NAMES = (NONE, "true", "false", "yes", "no", "on", "off", "back")
"""Words that say something else, here or in files."""


@dataclass(frozen=True)
class Added:
    """Rows that are added one by one, changed by saying them again, and taken away by 'none'."""

    named: Callable[[str], str]
    """Returns a name as it is kept; raises NotRight."""
    read_row: Callable[[str, str, Sequence[str]], str]
    """Returns what is said of a name as it is kept, with the names before it; raises NotRight."""
    example: str
    words: tuple[str, ...] = ()
    """What may stand in a row, where these are few."""

    def read(self, said: str, before: str) -> str:
        """Return all rows, with those that were there before; 'none' alone takes all away."""
        if said.strip().casefold() == NONE:
            return ""
        rows = tabled(before)
        for part in said.split(";"):
            if part.strip():
                rows = self._with(rows, part)
        if len(rows) > MOST:
            raise NotRight(f"these are {len(rows)}; name {MOST} here at most, and add the others in the file")
        return as_table(self._read(rows))

    def still(self, kept: str) -> str | None:
        """Return the rows that are still right."""
        right: dict[str, str] = {}
        for name, said in tabled(kept).items():
            try:
                right[self.named(name)] = self.read_row(name, said, tuple(right))
            except NotRight:
                continue
        return as_table(right)

    def lacking(self, kept: str) -> str:  # noqa: ARG002 - none is a whole answer
        """Say nothing: there need not be any."""
        return ""

    def rows(self, kept: str) -> dict[str, str]:
        """Return each row."""
        return tabled(kept)

    def _with(self, rows: Mapping[str, str], part: str) -> dict[str, str]:
        name, colon, said = part.partition(":")
        if not colon or not said.strip():
            what = f"'{quoted(part.strip())}' does not say of what, and what"
            raise NotRight(f"{what}; write it such as '{self.example}'")
        known = next((row for row in rows if key_of(row) == key_of(name)), None) or self.named(name)
        if said.strip().casefold() == NONE:
            return {row: kept for row, kept in rows.items() if row != known}
        return {**rows, known: said.strip()}

    def _read(self, rows: Mapping[str, str]) -> dict[str, str]:
        """Return all rows, each with those before it: what one of them hangs on may be gone."""
        read: dict[str, str] = {}
        for name, said in rows.items():
            try:
                read[name] = self.read_row(name, said, tuple(read))
            except NotRight as wrong:
                raise NotRight(f"{name}: {wrong}") from wrong
        return read


def own_name(said: str, taken: Sequence[str] = ()) -> str:
    """Return a short name of the builder's own; raise NotRight where something else has it."""
    name = on_one_line(said).strip()
    if not key_of(name) or first_hidden(name) is not None or name.casefold() in NO_NAMES:
        raise NotRight(f"'{quoted(name)}' is no name here; write one in plain letters")
    if any(sign in name for sign in NOT_IN_NAMES) or " - " in name:
        raise NotRight(f"'{quoted(name)}' has signs in it that lists need; write it in letters and figures")
    if len(name) > LONGEST:
        raise NotRight(f"the name '{quoted(name)}' has {len(name)} letters; write at most {LONGEST}")
    twin = next((other for other in taken if key_of(other) == key_of(name)), None)
    if twin is not None:
        raise NotRight(f"there is '{twin}' already; write another name")
    return name

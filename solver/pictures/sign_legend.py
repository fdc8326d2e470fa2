"""What the signs of the circuit diagram mean."""

from collections.abc import Iterator

from solver.pictures.lettering import line
from solver.pictures.svg import Element
from solver.pictures.symbols import SAID, dot, earth, sign

COLUMNS = 3
ACROSS = 232.0
DOWN = 40.0


class SignLegend:
    """All signs, in columns."""

    @property
    def high(self) -> float:
        """Its height."""
        return DOWN * (-(-(len(SAID) + 2) // COLUMNS)) + 10

    def drawn(self, top: float) -> Iterator[Element]:
        """Draw it."""
        for number, (which, words) in enumerate(SAID.items()):
            x, y = self._at(number, top)
            yield sign(which, x + 20, y)
            yield line(x + 48, y + 5, words)
        for number, words in enumerate(("splice", "earth"), len(SAID)):
            x, y = self._at(number, top)
            yield dot(x + 20, y) if words == "splice" else earth(x + 20, y - 6)
            yield line(x + 48, y + 5, words)

    def _at(self, number: int, top: float) -> tuple[float, float]:
        return 16 + ACROSS * (number % COLUMNS), top + 20 + DOWN * (number // COLUMNS)

"""Figures in a post: '10 A', '1.5 mm2', '55 W' beside a port or a load, and the name that is left without them."""

import re
from decimal import ROUND_CEILING, Decimal
from string import ascii_lowercase, ascii_uppercase

from portloom.base.quantities import MilliAmps, MilliWatts, QuantityError
from portloom.base.sizes import WireSize, parse_size
from portloom.base.values import dataclass
from portloom.review.post import TextCell

LOWER = str.maketrans(ascii_uppercase, ascii_lowercase)
"""Makes letters small one by one, so that each stays where it is."""
NUMBER = r"(?:(?<![\w.,/])|(?<=\dx))(?P<number>\d{1,6}(?:[.,]\d{1,6})?)"
SETS = r"(?:trips?|fused?|breaker|set)"
CURRENT = re.compile(
    rf"(?P<sets>\b{SETS}\b[\s:=]*(?:(?:to|at|of|with)\b\s*)?)?{NUMBER}\s?(?P<unit>m?a|amps?|amperes?)\b"
    rf"(?P<set>\s{SETS}\b)?"
)
POWER = re.compile(rf"{NUMBER}\s?(?P<unit>k?w|watts?)\b")
SIZE = re.compile(
    rf"(?:\bwire\s+)?(?:{NUMBER}\s?(?P<unit>mm\s?(?:2|²|\^2)|sq\.?\s?mm|awg|gauge)|awg\s?(?P<gauge>\d{{1,2}}))"
    r"(?![\w²^])(?:\s+wire\b)?"
)
COUNT = re.compile(
    r"(?<![\w.,/])(?:(?P<before>\d{1,2})\s?[x×*](?=\s?[a-z0-9(])(?!\s?\d+\s?mm)"
    r"|[x×]\s?(?P<after>\d{1,2})(?![\w.,]*\d|\w)"
    r"|(?P<pieces>\d{1,2})\s?(?:pcs|pc|pieces)\b"
    r"|(?:a\s+)?(?P<word>pair of|two|three|four|both|dual|twin|double)(?![\w-]|\s+filament))"
    r"|^\s*(?P<many>\d{1,2})\s+(?!amp|ampere|volt|watt|wire|gauge|way|pin)(?=[a-z]{3}[a-z -]*s\b)"
)
COUNTED = {"pair of": 2, "two": 2, "both": 2, "dual": 2, "twin": 2, "double": 2, "three": 3, "four": 4}
IN_ALL = re.compile(r"\b(?:in all|all in all|in total|total|together|altogether)\b")
EACH = re.compile(r"\b(?:each|apiece|per side)\b")
BARE = re.compile(r"\d{1,6}(?:[.,]\d{1,6})?")
ROUND_A_NAME = " \t()[]{},;:@=+*–-"
COUNT_LEFT = re.compile(
    r"(?<![\w.,/])(?:\d{1,2}\s?[x×*](?=\s|[a-z0-9(]|$)|[x×]\s?\d{1,2}(?![\w.,]*\d|\w)|(?:a\s+)?pair of(?!\w)"
    r"|\d{1,2}\s?(?:pcs|pc|pieces)\b"
    r"|(?:two|three|dual|double)(?![\w-]|\s+filament))"
    r"|^\s*\d{1,2}\s+(?!amp|ampere|volt|watt|wire|gauge|way|pin)(?=[a-z]{3}[a-z -]*s\b)"
)
EMPTY_BRACKETS = re.compile(r"[(\[{][\s,;:@=–-]*[)\]}]")


@dataclass(frozen=True)
class SplitText:
    """A cell's text without figures, and the figures that stood in it."""

    name: TextCell
    trips: tuple[TextCell, ...]
    """Currents that are said to be a trip's or a fuse's."""
    currents: tuple[TextCell, ...]
    powers: tuple[TextCell, ...]
    sizes: tuple[TextCell, ...]
    count: int = 1
    """How many there are, by which the figure of one is multiplied."""


def split_figures(cell: TextCell) -> SplitText:
    """Take the figures out of a cell."""
    text = cell.text.translate(LOWER)
    sizes = tuple(_part(cell, found) for found in SIZE.finditer(text))
    text = SIZE.sub(_blanks, text)
    found = list(CURRENT.finditer(text))
    trips = tuple(_part(cell, f) for f in found if f["sets"] or f["set"])
    currents = tuple(_part(cell, f) for f in found if not (f["sets"] or f["set"]))
    text = CURRENT.sub(_blanks, text)
    powers = tuple(_part(cell, found) for found in POWER.finditer(text))
    text = POWER.sub(_blanks, text)
    in_all, count = IN_ALL.search(text), _count(cell.text.translate(LOWER))
    text = EACH.sub(_blanks, IN_ALL.sub(_blanks, _counts_out(text)))
    if not (sizes or found or powers or count > 1):
        return SplitText(cell, (), (), (), ())
    return SplitText(_name(cell, text), trips, currents, powers, sizes, 1 if in_all else count)


def _count(text: str) -> int:
    """Return how many a text speaks of."""
    numbers = [_number(found) for found in COUNT.finditer(text)]
    return next((number for number in numbers if number > 1), 1)


def _number(found: re.Match[str]) -> int:
    return COUNTED[found["word"]] if found["word"] else int(next(filter(None, found.groups())))


def _counts_out(text: str) -> str:
    """Take out how many there are; 'four' and 'both' stay, since they say which: 'all four indicators'."""
    return COUNT_LEFT.sub(_blanks, text)


def _blanks(found: re.Match[str]) -> str:
    return " " * len(found[0])


def _part(cell: TextCell, found: re.Match[str]) -> TextCell:
    return TextCell(cell.text[found.start() : found.end()].strip(), cell.line, cell.column + found.start())


def _name(cell: TextCell, text: str) -> TextCell:
    """Return what is left of a text, without empty brackets and signs round it."""
    left = "".join(letter if kept != " " else " " for letter, kept in zip(cell.text, text, strict=True))
    bare = EMPTY_BRACKETS.sub(_blanks, left)
    begin = len(bare) - len(bare.lstrip(ROUND_A_NAME))
    return TextCell(bare_name(bare), cell.line, cell.column + begin)


def bare_name(text: str) -> str:
    """Return a name without the signs round it; a bracket that closes one within stays: 'horn (relay)'."""
    name = " ".join(text.strip(ROUND_A_NAME).split())
    return f"{name})" if name.count("(") == name.count(")") + 1 and f"{name})" in " ".join(text.split()) else name


# --- what a figure says


def current_said(text: str, *, bare: bool = False) -> MilliAmps | None:
    """Return a current in mA, rounded up; ``bare`` takes a number alone as amperes. None where it is none."""
    found = CURRENT.fullmatch(text.translate(LOWER))
    if found is None:
        return MilliAmps(_thousands(text)) if bare and BARE.fullmatch(text) else None
    thousand = _thousands(found["number"])
    return MilliAmps(-(-thousand // 1000) if found["unit"] == "ma" else thousand)


def power_said(text: str) -> MilliWatts | None:
    """Return a power in mW; None where it is none."""
    found = POWER.fullmatch(text.translate(LOWER))
    if found is None:
        return None
    return MilliWatts(_thousands(found["number"]) * (1000 if found["unit"] == "kw" else 1))


def size_said(text: str) -> WireSize | None:
    """Return the size of a wire; None where it is none."""
    found = SIZE.fullmatch(text.translate(LOWER))
    if found is None:
        return None
    metric = found["unit"] is not None and "mm" in found["unit"]
    number = found["gauge"] or found["number"].replace(",", ".")
    try:
        return parse_size(f"{number} {'mm2' if metric else 'AWG'}")
    except QuantityError:
        return None


def _thousands(number: str) -> int:
    return int((Decimal(number.replace(",", ".")) * 1000).to_integral_value(ROUND_CEILING))

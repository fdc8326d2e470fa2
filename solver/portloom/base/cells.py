"""Cells of comma-separated values that spreadsheets open: text stays text there, numbers stay numbers.

Source: OWASP, CSV Injection: '=', '+', '-', '@', the tab, the carriage return and the line feed begin a formula, and so
do the full-width forms of these signs; an apostrophe before them makes it text. Where lists are parted by ';' a cell
is opened as several, so what follows a ';' is treated alike. A sign by itself, such as a battery's '+', does nothing.
"""

import re

from portloom.base.letters import shown

MARK = "\ufeff"
"""Begins each file of them: the byte order mark, by which a spreadsheet takes it for UTF-8, and shows each letter.

Commas part the cells, as RFC 4180 has it, and a point the decimals: other programs read these, too.
"""
BEGINS = "(?:^|(?<=;))"
SIGN = "(?=\\s*[=+\\-@\uff1d\uff0b\uff0d\uff20]\\s*[^\\s;]|[\t\r\n])"
FORMULA = re.compile(f"{BEGINS}( *'*){SIGN}")
DEFUSED = re.compile(f"{BEGINS}( *'*)'{SIGN}")
NUMBER = re.compile(r"[+-]?[0-9]+(?:\.[0-9]+)?")


def defused(cell: str) -> str:
    """Return a cell that no spreadsheet takes for a formula: with an apostrophe before each sign that begins one.

    Hidden letters are shown. Apostrophes that stand there already stay, so that ``as_it_was`` returns what was given.
    """
    return cell if NUMBER.fullmatch(cell) else FORMULA.sub(r"\1'", shown(cell))


def as_it_was(cell: str) -> str:
    """Return a cell as it was before it was defused."""
    return DEFUSED.sub(r"\1", cell)

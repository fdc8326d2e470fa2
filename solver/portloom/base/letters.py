"""Letters that nobody sees but that change what is seen: found where a text is read, shown where one is written.

Control characters drive a terminal, marks of direction put figures in another order, others make two names look
alike. Private letters are among them: every font shows another sign for them.
Source: Unicode Standard Annex 44, Default_Ignorable_Code_Point; Annex 9, table 4 (marks of direction); Technical
Report 36, 3.2 (what else is not seen). Joiners and variation selectors belong to some scripts and pictures (Annex 31,
2.3); they are left where they stand behind such a letter, none before U+0300.
"""

import re
from functools import cache
from unicodedata import name

CONTROLS = "\x00-\x08\x0b-\x1f\x7f-\x9f"
"""All but the tab and the line feed, which may part words."""
UNSEEN = (
    "\xad\u034f\u061c\u115f\u1160\u17b4\u17b5\u180b-\u180f\u200b\u200e\u200f\u2028-\u202e\u2060-\u206f\u3164"
    "\ufeff\uffa0\ufff0-\ufffb\U0001bca0-\U0001bca3\U0001d173-\U0001d17a\U000e0000-\U000e0fff"
)
NO_LETTERS = "\ud800-\udfff\ufdd0-\ufdef\ufffe\uffff" + "".join(
    f"{chr(plane + 0xFFFE)}{chr(plane + 0xFFFF)}" for plane in range(0x10000, 0xF0000, 0x10000)
)
PRIVATE = "\ue000-\uf8ff\U000f0000-\U0010ffff"
JOINERS = "(?<![\u0300-\u200b\u200e-\U0010ffff])[\u200c\u200d]"
SELECTORS = "(?<![\u0300-\ufdff\ufe10-\U0010ffff])[\ufe00-\ufe0f]"
ENDS = re.compile("[\t\n\r\x85\u2028\u2029]+")
ASCII = re.compile("[\x00-\x08\x0b-\x1f\x7f]")


@cache
def _any() -> re.Pattern[str]:
    """Return what finds any of them: compiled only where a text is more than ASCII, for it takes a while."""
    return re.compile(f"[{CONTROLS}{UNSEEN}{NO_LETTERS}{PRIVATE}]|{JOINERS}|{SELECTORS}")


def _hidden(text: str) -> re.Pattern[str]:
    return ASCII if text.isascii() else _any()


def first_hidden(text: str) -> int | None:
    """Return where the first hidden letter of a text stands, from 0, or None."""
    found = _hidden(text).search(text)
    return found.start() if found else None


def shown(text: str) -> str:
    """Return a text with each hidden letter shown by its number, such as '[U+202E]'."""
    return _hidden(text).sub(lambda found: f"[U+{ord(found[0]):04X}]", text)


def in_json(text: str) -> str:
    r"""Return JSON that says the same, with each hidden letter of its strings written as an escape, such as '\u202e'.

    Source: RFC 8259, 7.
    """
    return _hidden(text).sub(_escaped, text)


def _escaped(found: re.Match[str]) -> str:
    units = found[0].encode("utf-16-be", "surrogatepass")
    return "".join(f"\\u{units[at]:02x}{units[at + 1]:02x}" for at in range(0, len(units), 2))


def told(letter: str) -> str:
    """Return what a letter is: its number and its name."""
    return f"U+{ord(letter):04X} ({name(letter, 'a control character').lower()})"


def on_one_line(text: str) -> str:
    """Return a text whose tabs and ends of lines are blanks."""
    return " ".join(filter(None, (part.strip() for part in ENDS.split(text))))


LONGEST = 60
"""Letters of a text that are told back; more help nobody."""


def quoted(text: str) -> str:
    """Return a text as a problem tells it: in one line, and cut where it is long."""
    line = " ".join(text.split())
    return line if len(line) <= LONGEST else f"{line[: LONGEST - 3]}..."

"""Text in a picture: how wide it is, how it is folded, and its elements. Sizes in units of the picture.

Of each letter the wider of two fonts counts, so that a text fits whichever of them shows it.
Source: advance widths (table 'hmtx') of DejaVu Sans 2.37 and Liberation Sans 1.07, whose widths are
those of Arial; in hundredths of the size of the letters, rounded up to an even number.
"""

from collections.abc import Iterator
from typing import Literal

from portloom.base.values import dataclass
from portloom.report.svg.svg import Element, Value, element, shown

REGULAR_LETTERS: dict[int, str] = {
    28: "'ijlìíîïĩīĭįıĵĺļ",
    30: "IÌÍÎÏĨĪĬĮİł",
    32: " \xa0,.·‘’",
    34: "/:;\\|¦",
    36: "fŀſ",
    38: "-ľ",
    40: "()[]tţťŧ",
    42: "!r¡²³¹ŕŗř",
    46: '"',
    48: "ªº",
    50: "*J`¨°´¸Ĵ",
    52: "“”",
    54: "szśŝşšźżž",
    56: "?L_c§¯çćĉċčĳĹĻĽĿ–",
    58: "kķĸŁ",
    60: "vxyýÿŷ•",
    62: "FTaeo«»¿àáâãäåèéêëðòóôõöøāăąēĕėęěōŏőŢŤŦ⌀",
    64: "$0123456789bdghnpqu{}¢£¤¥µ¶ßñùúûüþďđĝğġģĥńņňŋũūŭůűų€μ",
    68: "EKPSYÈÉÊËÝÞĒĔĖĘĚĶŚŜŞŠŶŸ",
    70: "ABVXZÀÁÂÃÄÅĀĂĄħŹŻŽ",
    74: "CRUÇÙÚÛÜĆĈĊČĲŔŖŘŨŪŬŮŰŲ",
    76: "HNÑĤŃŅŇŊ",
    78: "&DGÐĎĐĜĞĠĢΩ",
    80: "OQÒÓÔÕÖØŌŎŐ",
    82: "wŉŵ",
    84: "#+<=>^~¬±×÷↑↓≤≥−",
    88: "M",
    92: "Ħ",
    96: "%",
    98: "m¼½¾",
    100: "W©®ÆæŴ—…←→",
    102: "@",
    104: "œ",
    108: "Œ",
}
BOLD_LETTERS: dict[int, str] = {
    32: "'",
    36: " \xa0ijlìíîïĩīĭįıĵĺļ",
    38: ",./I\\|¦·ÌÍÎÏĨĪĬĮİł‘’",
    40: ":;",
    42: "-",
    44: "f²³¹ſ",
    46: "!()[]¡",
    48: "tľţťŧ",
    50: "`r¨°´¸ŕŗř",
    54: '"*',
    56: "J_§¯Ĵŀ–",
    58: "ªº",
    60: "cszçćĉċčśŝşšźżž",
    62: "?¿⌀",
    64: "L¤¶ĹĻĽĿ•",
    66: "vxy«»ýÿŁŷ“”",
    68: "aekàáâãäåèéêëāăąēĕėęěķĸ",
    70: "$0123456789EFTo¢£¥ÈÉÊËðòóôõöøĒĔĖĘĚĳōŏőŢŤŦ€",
    72: "bdghnpqu{}ßñùúûüþďđĝğġģĥńņňŋũūŭůűų",
    74: "CPSYZµÇÝÞĆĈĊČŚŜŞŠŶŸŹŻŽμ",
    78: "ABKRVXÀÁÂÃÄÅĀĂĄĶŔŖŘ",
    80: "ħĲ",
    82: "UÙÚÛÜŨŪŬŮŰŲ",
    84: "#+<=>DGHN^~¬±ÐÑ×÷ĎĐĜĞĠĢĤŃŅŇŊ↑↓≤≥−",
    86: "OQÒÓÔÕÖØŌŎŐΩ",
    88: "&",
    94: "wŵ",
    98: "Ħ",
    100: "@M©®ŉ—…←→",
    102: "%",
    104: "¼½¾",
    106: "mæ",
    110: "Æœ",
    112: "WŴ",
    118: "Œ",
}
REGULAR = {letter: width for width, letters in REGULAR_LETTERS.items() for letter in letters}
BOLD = {letter: width for width, letters in BOLD_LETTERS.items() for letter in letters}
UNKNOWN = 110
"""A letter that is in neither table; a text that has one is set to the width that was reckoned for it."""


FONTS = "Arial, 'Liberation Sans', 'DejaVu Sans', sans-serif"
NORMAL = 16
SMALL = 14
"""At 720 units across an A4 page 14 units are 10.5 points; across 390 points of a telephone, 7.6 points."""
ASCENT = 0.94
"""How far letters reach above their line.

Source: table 'hhea' of DejaVu Sans 2.37, 0.928; Liberation Sans has less.
"""
PITCH = 1.25
Anchor = Literal["start", "middle", "end"]


@dataclass(frozen=True)
class Style:
    """Size of letters, and whether they are bold."""

    size: int = SMALL
    bold: bool = False


PLAIN = Style()
HEAD = Style(NORMAL, bold=True)


def width(text: str, style: Style = PLAIN) -> float:
    """Return the width of a line, at least what a browser needs for it."""
    table = BOLD if style.bold else REGULAR
    return sum(table.get(letter, UNKNOWN) for letter in shown(text)) * style.size / 100


def line_height(style: Style = PLAIN) -> float:
    """Return the distance from one line to the next."""
    return style.size * PITCH


def folded(text: str, room: float, style: Style = PLAIN) -> tuple[str, ...]:
    """Fold a text to lines no wider than ``room``, between words where that is possible; nothing is lost."""
    return tuple(_lines(shown(text).strip(" "), room, style)) or ("",)


def _lines(text: str, room: float, style: Style) -> Iterator[str]:
    line = ""
    for word in filter(None, text.split(" ")):
        longer = f"{line} {word}" if line else word
        if width(longer, style) <= room:
            line = longer
            continue
        if line:
            yield line
        *whole, line = _pieces(word, room, style)
        yield from whole
    if line:
        yield line


def _pieces(word: str, room: float, style: Style) -> Iterator[str]:
    """Return the pieces of a word that is too long for a line, after a hyphen, slash or dot where there is one."""
    piece = ""
    for letter in word:
        while piece and width(piece + letter, style) > room:
            cut = max(piece.rfind(sign) for sign in "-/._\xa0") + 1 or len(piece)
            yield piece[:cut]
            piece = piece[cut:]
        piece += letter
    yield piece


def whole(text: str) -> str:
    """Return a text that is not folded, as long as it fits on a line by itself."""
    return shown(text).replace(" ", "\xa0")


def line(x: float, y: float, text: str, style: Style = PLAIN, anchor: Anchor = "start") -> Element:
    """Return a line of text; one with letters of unknown width is made as wide as was reckoned."""
    table = BOLD if style.bold else REGULAR
    extra: dict[str, Value] = {} if anchor == "start" else {"text_anchor": anchor}
    extra |= {"font_weight": "bold"} if style.bold else {}
    if any(letter not in table for letter in shown(text)):
        extra |= {"textLength": width(text, style), "lengthAdjust": "spacingAndGlyphs"}
    return element("text", shown(text), x=x, y=y, font_size=style.size, class_="ink", **extra)

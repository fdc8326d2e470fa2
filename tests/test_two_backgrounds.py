"""Colours can be read on dark and on light terminals; that they add nothing to the words, ``test_printing.py`` holds.

Sources: contrast by the definitions of 'relative luminance' and 'contrast ratio' in WCAG 2.1; 3 : 1 is what its success
criterion 1.4.3 asks of bold text that is large, and red has no 4.5 : 1 on both. Palettes, from memory: xterm's defaults
(red3, red; green3, green; yellow3, yellow), and VGA's text mode, which has no bold letters: what is bold is bright.
"""

import re
from typing import get_args

import pytest
from rich.color import ColorSystem
from rich.style import Style

import unix
from calls import HARBOUR
from portloom.report.text.layout import Attributes
from terminal import on_a_screen

BLACK, WHITE = (0, 0, 0), (255, 255, 255)
LEAST = 3.0
SHOWN_AS = {
    "red": ((205, 0, 0), (255, 0, 0), (255, 85, 85)),
    "green": ((0, 205, 0), (0, 255, 0), (85, 255, 85)),
    "yellow": ((205, 205, 0), (255, 255, 0), (255, 255, 85)),
}
"""Of a colour in bold: xterm's own, xterm's bright one, by which it may show bold, and VGA's bright one."""
ATTRIBUTES = get_args(Attributes)
SGR = re.compile("\x1b\\[([0-9;]*)m")
"""ECMA-48: Select Graphic Rendition."""


def _luminance(colour: tuple[int, int, int]) -> float:
    """Return the relative luminance of an sRGB colour."""
    shares = [part / 255 for part in colour]
    linear = [share / 12.92 if share <= 0.03928 else ((share + 0.055) / 1.055) ** 2.4 for share in shares]
    return 0.2126 * linear[0] + 0.7152 * linear[1] + 0.0722 * linear[2]


def _contrast(one: tuple[int, int, int], other: tuple[int, int, int]) -> float:
    lighter, darker = sorted((_luminance(one), _luminance(other)), reverse=True)
    return (lighter + 0.05) / (darker + 0.05)


def _least(name: str) -> float:
    """Return the least contrast of a bold colour, as either palette shows it, on black and on white."""
    return min(_contrast(shade, ground) for shade in SHOWN_AS[name] for ground in (BLACK, WHITE))


def test_contrast_is_reckoned_as_the_standard_has_it() -> None:
    """Black on white is 21 : 1; #767676 on white is the well-known grey that just has 4.5 : 1."""
    assert round(_contrast(BLACK, WHITE), 3) == 21
    assert 4.5 <= _contrast((0x76, 0x76, 0x76), WHITE) < 4.6
    assert _contrast((0x77, 0x77, 0x77), WHITE) < 4.5


@pytest.mark.parametrize("attributes", ATTRIBUTES)
def test_every_colour_is_read_on_black_and_on_white(attributes: Attributes) -> None:
    """Nothing has a background of its own, and each colour stands out from both, in bold."""
    style = Style.parse(attributes)
    assert style.bgcolor is None
    assert not any((style.reverse, style.dim, style.conceal, style.blink))
    assert style.color is None or (style.bold and _least(style.color.name) >= LEAST)


@pytest.mark.parametrize("name", ["green", "yellow"])
def test_what_would_not_be_read_is_seen(name: str) -> None:
    """Neither can be read on white, so that no line has one of them."""
    assert _least(name) < LEAST
    assert not any(name in attributes for attributes in ATTRIBUTES)


@unix.terminal
@pytest.mark.parametrize("columns", [80, 120])
def test_a_screen_shows_no_others(environment: dict[str, str], columns: int) -> None:
    """On a real terminal, whatever its colours: what is known above, and its end."""
    _, shown = on_a_screen({**environment, "TERM": "xterm-256color"}, columns, HARBOUR)
    known = {Style.parse(each).render("x", color_system=ColorSystem.STANDARD) for each in ATTRIBUTES if each}
    allowed = {code for each in known for code in SGR.findall(each)}
    assert {"1", "1;31"} <= set(SGR.findall(shown)) <= allowed
